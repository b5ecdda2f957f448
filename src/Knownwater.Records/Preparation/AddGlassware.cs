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
        var mass = command.Kind == GlasswareKind.Balance;
        var relative = command.Tolerance.Trim().EndsWith('%');
        double? Amount(string field, string typed, string what) => AmountText.Read(fields, bench, field, typed, mass, what);
        var tolerance = relative
            ? fields.Number("Tolerance", command.Tolerance.Trim().TrimEnd('%'), "a limit of error", 0, 50) / 100
            : command.Tolerance.Trim() == "0" ? 0 : Amount("Tolerance", command.Tolerance, "a limit of error");
        if (tolerance is null && command.Tolerance.Trim().Length == 0)
            fields.Fault("Tolerance", "How far it may be off is not said. Look at its marking or sheet, or take the figure of its class; 0 takes it as exact.");
        var piece = new GlasswarePiece(records.BenchId, clock.NewId())
        {
            Name = fields.Needed("Name", command.Name, "It has no name yet. Write one that you will know it by, as in P1 or kitchen balance.", 60),
            Kind = command.Kind,
            Nominal = Amount("Nominal", command.Nominal, mass ? "a capacity" : "a volume"),
            NominalTyped = command.Nominal.Trim(),
            Least = Amount("Least", command.Least, "a least setting"),
            LeastTyped = command.Least.Trim(),
            Tolerance = tolerance ?? 0,
            ToleranceTyped = command.Tolerance.Trim(),
            ToleranceIsRelative = relative,
            Triangular = command.Triangular,
            Repeatability = command.Repeatability.Trim() is "" or "0" ? 0 : Amount("Repeatability", command.Repeatability, "a standard deviation") ?? 0,
            RepeatabilityTyped = command.Repeatability.Trim(),
            Readability = mass ? Amount("Readability", command.Readability, "a display step") : null,
            ReadabilityTyped = command.Readability.Trim(),
            Basis = fields.Optional("Basis", command.Basis, 200),
            Who = fields.Optional("Who", command.Who, 40),
            AddedAt = now,
        };
        if (piece.Nominal is null && !mass && fields.Ok)
            fields.Fault("Nominal", "Its volume is missing. Write what stands on it, as in 100 mL.");
        if (piece is { Least: { } least, Nominal: { } nominal } && least > nominal)
            fields.Fault("Least", $"The least setting of {piece.LeastTyped} is above the volume of {piece.NominalTyped}. Change one of them.");
        if (!relative && piece.Nominal is { } size && piece.Tolerance > size / 2)
            fields.Fault("Tolerance", $"A limit of {piece.ToleranceTyped} is more than half of {piece.NominalTyped}. See that both are in {(mass ? "g" : "mL")}.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        records.Glassware.Add(piece);
        await act.Did($"{piece.Name} added: {Words.Small(GlasswareShelf.View(piece, bench).KindWords)}.", Subjects.Glassware, piece.Id, cancel);
        return new Outcome.Added(piece.Id);
    }
}
