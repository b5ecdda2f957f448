using Knownwater.Quantities;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Works out how many readings a check needs, and why.</summary>
public sealed class PlanReplicates(RecordsContext records)
{
    /// <summary>What is known before the first reading; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>Key of a listed parameter, or <c>other</c>.</summary>
        public required string Parameter { get; init; }

        /// <summary>Name of another analyte; only with <c>other</c>.</summary>
        public string OtherName { get; init; } = "";

        /// <summary>Reporting form as text, <c>mg/L Cd</c>; empty for the parameter's own.</summary>
        public string Form { get; init; } = "";

        /// <summary>Method under check; null for none.</summary>
        public Guid? Method { get; init; }

        /// <summary>Water from the shelf; then <see cref="Known"/> and <see cref="Doubt"/> are not read.</summary>
        public Guid? ReferenceWater { get; init; }

        /// <summary>Known value as typed, in the form.</summary>
        public string Known { get; init; } = "";

        /// <summary>Its doubt as typed; empty is refused, “0” is taken as exact.</summary>
        public string Doubt { get; init; } = "";

        /// <summary>What the doubt means.</summary>
        public DoubtKind DoubtKind { get; init; }

        /// <summary>Tolerance in the form's unit as typed; both parts empty for the default.</summary>
        public string ToleranceAbsolute { get; init; } = "";

        /// <summary>Tolerance in percent of the known value as typed.</summary>
        public string TolerancePercent { get; init; } = "";

        /// <summary>Step of the display as typed; empty for the method's, else none.</summary>
        public string Resolution { get; init; } = "";

        /// <summary>Minutes that a reading takes as typed; empty for the method's, else unknown.</summary>
        public string MinutesPerReading { get; init; } = "";

        /// <summary>Whether one extension is declared beforehand.</summary>
        public bool ExtensionDeclared { get; init; }

        /// <summary>Whether the typical scatter of the parameter is taken as a weak prior.</summary>
        public bool UseTypicalScatter { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The number with its reason.</summary>
        public sealed record Planned(ReplicateAdvice Advice) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}

/// <summary>How many readings, and why.</summary>
public sealed record ReplicateAdvice
{
    /// <summary>The number that is recommended; null where no sensible number suffices.</summary>
    public required int? Recommended { get; init; }

    /// <summary>Why, in a sentence or two.</summary>
    public required string Reason { get; init; }

    /// <summary>The choices offered, ascending.</summary>
    public required IReadOnlyList<ReplicateChoice> Choices { get; init; }

    /// <summary>Whether the doubt of the known water is the limit, so that no number suffices.</summary>
    public required bool LimitedByReference { get; init; }

    /// <summary>Whether the step of the display is the limit.</summary>
    public required bool LimitedByResolution { get; init; }

    /// <summary>Scatter of a single reading that was reckoned with, in the form's unit.</summary>
    public required double Sd { get; init; }

    /// <summary>Whether that scatter is typical of the parameter and not the method's own.</summary>
    public required bool SdIsTypical { get; init; }

    /// <summary>The scatter in words, with where it comes from.</summary>
    public required string ScatterWords { get; init; }

    /// <summary>Tolerance at the known value, in the form's unit.</summary>
    public required double Tolerance { get; init; }

    /// <summary>The tolerance in words, “± 0.46 dKH: 0.3 dKH + 2 %”.</summary>
    public required string ToleranceWords { get; init; }

    /// <summary>The parts of the tolerance as they stand in the fields, in the bench's decimal sign.</summary>
    public required string ToleranceAbsolute { get; init; }

    /// <summary>The percent part as it stands in the field.</summary>
    public required string TolerancePercent { get; init; }

    /// <summary>Where a default tolerance comes from; null where the tolerance was typed or is the method's.</summary>
    public required string? ToleranceSource { get; init; }
}

/// <summary>One number of readings that may be chosen.</summary>
/// <param name="N">Number of readings.</param>
/// <param name="PowerRight">Chance of “reads right” where there is no bias; null for one reading.</param>
/// <param name="PowerWrong">Chance of “reads high” at twice the tolerance; null for one reading.</param>
/// <param name="Minutes">What they cost; null where a reading's time is not known.</param>
public sealed record ReplicateChoice(int N, double? PowerRight, double? PowerWrong, double? Minutes);
