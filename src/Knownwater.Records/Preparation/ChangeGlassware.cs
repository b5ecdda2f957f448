using Knownwater.Preparation;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Changes what is said of a piece of glassware; waters made with it keep their values.</summary>
public sealed class ChangeGlassware(RecordsContext records, Clock clock)
{
    /// <summary>The piece as it shall be; numbers as typed, mL or g where no unit stands behind them.</summary>
    public sealed record Command
    {
        /// <summary>The piece.</summary>
        public required Guid Piece { get; init; }

        /// <summary>What it is called.</summary>
        public required string Name { get; init; }

        /// <summary>What it is.</summary>
        public GlasswareKind Kind { get; init; }

        /// <summary>Nominal volume, or capacity of a balance; may be empty for a balance.</summary>
        public string Nominal { get; init; } = "";

        /// <summary>Least setting; may be empty.</summary>
        public string Least { get; init; } = "";

        /// <summary>Limit of error to both sides; in percent it is a part of the setting.</summary>
        public string Tolerance { get; init; } = "";

        /// <summary>Whether errors near the middle are more likely, on the user's word.</summary>
        public bool Triangular { get; init; }

        /// <summary>Standard deviation between deliveries; may be empty.</summary>
        public string Repeatability { get; init; } = "";

        /// <summary>Step of a balance's display; may be empty.</summary>
        public string Readability { get; init; } = "";

        /// <summary>Where its figures come from; may be empty.</summary>
        public string Basis { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Changed.</summary>
        public sealed record Changed : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Change(command, act, cancel), cancel);
    }

    private async Task<Outcome> Change(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await records.Glassware.FirstOrDefaultAsync(g => g.Id == command.Piece, cancel) is not { } piece)
            return new Outcome.Refused(GlasswareFields.Gone);
        var kind = piece.Kind;
        new GlasswareFields(command.Name, command.Kind, command.Nominal, command.Least, command.Tolerance, command.Triangular, command.Repeatability, command.Readability, command.Basis, command.Who).Read(fields, bench, piece);
        if (kind != command.Kind && await records.GlasswareProofs.AnyAsync(p => p.PieceId == piece.Id || p.BalanceId == piece.Id, cancel))
            fields.Fault("Kind", $"{piece.Name} has been weighed as a {Words.Small(GlasswareShelf.Kind(kind))}. Add another piece for another kind.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        await act.Did($"{piece.Name} changed: {Words.Small(GlasswareShelf.View(piece, [], bench).KindWords)}.", Subjects.Glassware, piece.Id, cancel);
        return new Outcome.Changed();
    }
}
