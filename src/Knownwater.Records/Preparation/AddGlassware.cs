using Knownwater.Preparation;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Preparation;

/// <summary>Adds a piece of glassware or a balance.</summary>
public sealed class AddGlassware(RecordsContext records, Clock clock)
{
    /// <summary>The piece; numbers as typed, mL or g where no unit stands behind them.</summary>
    public sealed record Command
    {
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
        /// <summary>It is there.</summary>
        public sealed record Added(Guid Piece) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Add(command, act, cancel), cancel);
    }

    private async Task<Outcome> Add(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        var piece = new GlasswarePiece(records.BenchId, clock.NewId()) { AddedAt = now };
        new GlasswareFields(command.Name, command.Kind, command.Nominal, command.Least, command.Tolerance, command.Triangular, command.Repeatability, command.Readability, command.Basis, command.Who).Read(fields, bench, piece);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        records.Glassware.Add(piece);
        await act.Did($"{piece.Name} added: {Words.Small(GlasswareShelf.View(piece, [], bench).KindWords)}.", Subjects.Glassware, piece.Id, cancel);
        return new Outcome.Added(piece.Id);
    }
}
