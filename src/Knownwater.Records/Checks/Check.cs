using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>One occasion of running known water on one method.</summary>
internal sealed class Check(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public CheckState State { get; set; }

    public bool Kept { get; set; }

    public Guid? MethodId { get; set; }

    /// <summary>What it asks; null for the usual question.</summary>
    public CheckKind? Kind { get; set; }

    /// <summary>The round it belongs to; null where it stands alone.</summary>
    public Guid? RoundId { get; set; }

    public string ParameterKey { get; set; } = "";

    public string OtherName { get; set; } = "";

    public string Form { get; set; } = "";

    public Matrix? Matrix { get; set; }

    public double? Salinity { get; set; }

    public string SalinityTyped { get; set; } = "";

    public double? TemperatureCelsius { get; set; }

    public string TemperatureTyped { get; set; } = "";

    public double ToleranceAbsolute { get; set; }

    public string ToleranceAbsoluteTyped { get; set; } = "";

    public double TolerancePercent { get; set; }

    public string TolerancePercentTyped { get; set; } = "";

    public string ToleranceSource { get; set; } = "";

    public double Resolution { get; set; }

    public string ResolutionTyped { get; set; } = "";

    /// <summary>How the method was read when the check was started; null for a display.</summary>
    public ReadingScale? Scale { get; set; }

    public string Steps { get; set; } = "";

    public double? ValuePerDrop { get; set; }

    public bool TableAllowsForLastDrop { get; set; }

    /// <summary>Whether a line check or changeover was made with water whose value is not known, only steady.</summary>
    public bool SteadyWater { get; set; }

    /// <summary>Runs at the beginning of each level that were declared not to count.</summary>
    public int ConditioningRuns { get; set; }

    public double? MinutesPerReading { get; set; }

    public string MinutesPerReadingTyped { get; set; } = "";

    public bool ExtensionDeclared { get; set; }

    /// <summary>Number of levels that share the chance of a wrong word; zero in checks from before that was shared, which count as one.</summary>
    public int LevelsTogether { get; set; }

    /// <summary>On what a verdict over several levels rests; null in checks from before it was declared, which count every level.</summary>
    public LevelsBasis? Basis { get; set; }

    public bool ExtensionTaken { get; set; }

    public bool ExtensionRenounced { get; set; }

    public bool UseTypicalScatter { get; set; }

    public bool AutomationPaused { get; set; }

    /// <summary>When dosing that listens was paused for it; null where that was not noted.</summary>
    public Instant? DosingPausedAt { get; set; }

    /// <summary>When that dosing listened again; null while it is paused.</summary>
    public Instant? DosingResumedAt { get; set; }

    /// <summary>When all that must hold before it was seen to; null where that was not looked at.</summary>
    public Instant? BeforeAt { get; set; }

    public string ExpiredLotReason { get; set; } = "";

    public string StopReason { get; set; } = "";

    public string Notes { get; set; } = "";

    public string Who { get; set; } = "";

    public Instant StartedAt { get; set; }

    public Instant? ClosedAt { get; set; }

    /// <summary>When it was last acted on: every act writes it, so that two acts at once cannot both succeed.</summary>
    public Instant TouchedAt { get; set; }

    /// <summary>Verdict over all levels, written at closing for lists; of a line check or changeover that of the second series, since so the method reads from then on.</summary>
    public Verdict? Verdict { get; set; }

    /// <summary>Second series minus first, written at closing: the line's effect, or the lot step.</summary>
    public double? Difference { get; set; }

    public double? DifferenceLow { get; set; }

    public double? DifferenceHigh { get; set; }

    public Verdict? DifferenceVerdict { get; set; }
}

/// <summary>One level of a check with a copy of its known value.</summary>
internal sealed class CheckLevel(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid CheckId { get; set; }

    public int Ordinal { get; set; }

    public Guid? ReferenceWaterId { get; set; }

    public Guid EstimateId { get; set; }

    public string KnownTyped { get; set; } = "";

    public string DoubtTyped { get; set; } = "";

    public DoubtMeaning DoubtKind { get; set; }

    public int PlannedReplicates { get; set; }

    public int ExtendedBy { get; set; }

    /// <summary>Scatter known when the check was started; the verdict rests on this and not on what came to be known later.</summary>
    public double? PriorSd { get; set; }

    public double? PriorDof { get; set; }

    public bool PriorIsTypical { get; set; }

    public bool PoolPrior { get; set; }

    public Verdict? Verdict { get; set; }

    public bool Matters { get; set; }

    public int JudgedReplicates { get; set; }

    public double? Mean { get; set; }

    public double? Sd { get; set; }

    public bool HasLimits { get; set; }

    public double? Bias { get; set; }

    public double? BiasLow { get; set; }

    public double? BiasHigh { get; set; }
}

/// <summary>One reading of a level, as typed.</summary>
internal sealed class Replicate(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid LevelId { get; set; }

    public int Ordinal { get; set; }

    public string Typed { get; set; } = "";

    public double Value { get; set; }

    public Censoring Censoring { get; set; }

    public Instant At { get; set; }

    public string Who { get; set; } = "";

    public string? ExcludedReason { get; set; }
}

/// <summary>A run at the beginning of a level that was declared not to count: kept and shown, never judged.</summary>
internal sealed class ConditioningRun(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid LevelId { get; set; }

    public int Ordinal { get; set; }

    public string Typed { get; set; } = "";

    public double Value { get; set; }

    public Censoring Censoring { get; set; }

    public Instant At { get; set; }

    public string Who { get; set; } = "";
}

/// <summary>A lot that was in use during a check, with what its bottle said.</summary>
internal sealed class CheckLot(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid CheckId { get; set; }

    public Guid LotId { get; set; }

    public string Name { get; set; } = "";

    public string Reagent { get; set; } = "";

    public LocalDate? ExpiresOn { get; set; }

    public bool Expired { get; set; }

    /// <summary>Ordinal of the only level that used it: the old bottle or the new one of a changeover; null where all did.</summary>
    public int? OnlyLevel { get; set; }
}
