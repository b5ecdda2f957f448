using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Shelf;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>One check as a page or the command shows it.</summary>
public sealed record CheckView
{
    /// <summary>Its key.</summary>
    public required Guid Id { get; init; }

    /// <summary>What it asks.</summary>
    public required CheckKind Kind { get; init; }

    /// <summary>What the two series of a line check or changeover say about each other; null in a usual check and until it is closed.</summary>
    public required SameWaterView? Difference { get; init; }

    /// <summary>How a kit is read, in words; empty where the method has a display.</summary>
    public required string ScaleWords { get; init; }

    /// <summary>What may be typed for a kit; empty where the method has a display.</summary>
    public required string ScaleHint { get; init; }

    /// <summary>What stands beside a reading as it is typed: the form's unit, or drops.</summary>
    public required string ReadingUnit { get; init; }

    /// <summary>What may be typed for a kit where that is a short list; else empty.</summary>
    public required IReadOnlyList<Offer> ScaleChoices { get; init; }

    /// <summary>Whether its water is only steady: the two series are compared, and neither has a verdict of its own.</summary>
    public required bool SteadyWater { get; init; }

    /// <summary>Runs at the beginning of each level that were declared not to count.</summary>
    public required int ConditioningRuns { get; init; }

    /// <summary>Where it stands.</summary>
    public required CheckState State { get; init; }

    /// <summary>Whether it was kept and described; a quick verdict is not until then.</summary>
    public required bool Kept { get; init; }

    /// <summary>“Alkalinity on the harbour analyser”.</summary>
    public required string Title { get; init; }

    /// <summary>Key of the listed parameter, or <c>other</c>.</summary>
    public required string ParameterKey { get; init; }

    /// <summary>Name of the parameter.</summary>
    public required string ParameterName { get; init; }

    /// <summary>Reporting form of all its numbers.</summary>
    public required ReportingForm Form { get; init; }

    /// <summary>The method under check; null where none was said.</summary>
    public required MethodLine? Method { get; init; }

    /// <summary>The round it belongs to; null where it stands alone.</summary>
    public required RoundName? Round { get; init; }

    /// <summary>Matrix of the known water; null where not said.</summary>
    public required Matrix? Matrix { get; init; }

    /// <summary>Practical salinity; null where not said.</summary>
    public required double? Salinity { get; init; }

    /// <summary>Temperature at the bench in °C; null where not said.</summary>
    public required double? Temperature { get; init; }

    /// <summary>Salinity as typed.</summary>
    public required string SalinityTyped { get; init; }

    /// <summary>Temperature as typed.</summary>
    public required string TemperatureTyped { get; init; }

    /// <summary>Initials of who did it; may be empty.</summary>
    public required string Who { get; init; }

    /// <summary>Notes; may be empty.</summary>
    public required string Notes { get; init; }

    /// <summary>When it was started.</summary>
    public required Instant StartedAt { get; init; }

    /// <summary>When it was closed or stopped; null while open.</summary>
    public required Instant? ClosedAt { get; init; }

    /// <summary>When it was started, in words of the bench's time zone: “Thursday 3 September 2026, 09:40”.</summary>
    public required string StartedWords { get; init; }

    /// <summary>The day alone: “3 September 2026”.</summary>
    public required string DayWords { get; init; }

    /// <summary>The tolerance.</summary>
    public required Tolerance Tolerance { get; init; }

    /// <summary>Where a default tolerance comes from; empty where it is the person's own.</summary>
    public required string ToleranceSource { get; init; }

    /// <summary>Step of the display; zero where negligible or not said.</summary>
    public required double Resolution { get; init; }

    /// <summary>Minutes that a reading takes; null where unknown.</summary>
    public required double? MinutesPerReading { get; init; }

    /// <summary>Whether one extension was declared beforehand.</summary>
    public required bool ExtensionDeclared { get; init; }

    /// <summary>Whether that extension was taken.</summary>
    public required bool Extended { get; init; }

    /// <summary>Whether the extension may be taken now.</summary>
    public required bool CanExtend { get; init; }

    /// <summary>Whether the person said that automatic dosing was paused.</summary>
    public required bool AutomationPaused { get; init; }

    /// <summary>Since when dosing that listens is paused for it, in words; empty where it is not, or not any more.</summary>
    public required string DosingPausedWords { get; init; }

    /// <summary>Whether what must hold before the first reading is to be seen to still: the check takes readings on a method, none is in, and nobody has looked.</summary>
    public required bool AsksBefore { get; init; }

    /// <summary>What stood in the way before it was begun all the same, each with the reason; empty where nothing did.</summary>
    public required IReadOnlyList<NumberLine> BegunAllTheSame { get; init; }

    /// <summary>Why a lot past its date was used; empty where there was none.</summary>
    public required string ExpiredLotReason { get; init; }

    /// <summary>Lots in use.</summary>
    public required IReadOnlyList<CheckLotLine> Lots { get; init; }

    /// <summary>Its levels in order.</summary>
    public required IReadOnlyList<LevelView> Levels { get; init; }

    /// <summary>Ordinal of the level that takes the next reading; null where all are in or it was stopped.</summary>
    public required int? CurrentLevel { get; init; }

    /// <summary>Verdict over all levels: the worst; null until one is complete.</summary>
    public required Verdict? Verdict { get; init; }

    /// <summary>Sentence over all levels; null for a single level or while readings are missing.</summary>
    public required string? OverLevels { get; init; }

    /// <summary>What the levels say together; null for fewer than two judged ones.</summary>
    public required LevelsJudgement? Together { get; init; }

    /// <summary>Offset and gain, or how sure the difference is; empty with it.</summary>
    public required string TogetherSure { get; init; }

    /// <summary>What to do about the levels together, one sentence each.</summary>
    public required IReadOnlyList<string> TogetherWhatToDo { get; init; }

    /// <summary>The numbers behind offset and gain, each a term and a value; empty with it.</summary>
    public required IReadOnlyList<NumberLine> TogetherNumbers { get; init; }

    /// <summary>The decision rule over levels; empty with it.</summary>
    public required string TogetherRule { get; init; }

    /// <summary>Minutes since it was started, while it takes readings.</summary>
    public required double MinutesSoFar { get; init; }

    /// <summary>Minutes to go; null where a reading's time is unknown.</summary>
    public required double? MinutesToGo { get; init; }

    /// <summary>Last act in a sentence, for the undo line; null where nothing can be undone.</summary>
    public required string? LastAct { get; init; }

    /// <summary>The history entry of that act.</summary>
    public required Guid? LastActEntry { get; init; }

    /// <summary>What to do after it failed or could not tell; null where it reads right or has no verdict.</summary>
    public required AfterFailure? After { get; init; }

    /// <summary>Lines of the trace for the check as a whole: who, when, instrument, method, lots, settings.</summary>
    public required IReadOnlyList<NumberLine> Trace { get; init; }
}

/// <summary>One level of a check.</summary>
public sealed record LevelView
{
    /// <summary>Ordinal, from one.</summary>
    public required int Ordinal { get; init; }

    /// <summary>The plan that judges it: reference, form, tolerance, resolution, prior.</summary>
    public required LevelPlan Plan { get; init; }

    /// <summary>“7.90 ± 0.08 dKH”: the known value with its doubt at 95 %.</summary>
    public required string KnownWords { get; init; }

    /// <summary>The water in words: “known water 7.90 ± 0.08 dKH”, or “steady water of about 8.1 dKH”.</summary>
    public required string WaterWords { get; init; }

    /// <summary>“± 0.46 dKH: 0.3 dKH + 2 %”.</summary>
    public required string ToleranceWords { get; init; }

    /// <summary>Number of readings planned, extension included.</summary>
    public required int Planned { get; init; }

    /// <summary>How many of them are the extension.</summary>
    public required int ExtendedBy { get; init; }

    /// <summary>Number of readings taken, excluded ones too.</summary>
    public required int Taken { get; init; }

    /// <summary>Readings in order.</summary>
    public required IReadOnlyList<ReadingView> Readings { get; init; }

    /// <summary>Its name where it is a series of a line check or changeover, “by hand”; else empty.</summary>
    public required string Series { get; init; }

    /// <summary>What every reading of a kit leaves open, in words; empty where the method has a display.</summary>
    public required string LeftOpen { get; init; }

    /// <summary>Conditioning runs in order: kept and shown, never judged.</summary>
    public required IReadOnlyList<ReadingView> Conditioning { get; init; }

    /// <summary>Conditioning runs still to come before its first reading.</summary>
    public required int ConditioningToGo { get; init; }

    /// <summary>Standard deviation so far; null below two readings or with limits among them.</summary>
    public required double? ScatterSoFar { get; init; }

    /// <summary>The scatter in words: “usual: 0.11 dKH between readings”.</summary>
    public required string ScatterWords { get; init; }

    /// <summary>What the readings say; null until the last planned one is in.</summary>
    public required LevelJudgement? Judgement { get; init; }

    /// <summary>The judgement in words; null with it.</summary>
    public required VerdictText? Words { get; init; }

    /// <summary>The judgement with the excluded readings; null where none are excluded.</summary>
    public required LevelJudgement? WithExcluded { get; init; }

    /// <summary>That judgement in words.</summary>
    public required VerdictText? WithExcludedWords { get; init; }

    /// <summary>The judgement without the outlier in words; null where there is none.</summary>
    public required VerdictText? WithoutOutlierWords { get; init; }

    /// <summary>What to do: remedies and cautions, one sentence each.</summary>
    public required IReadOnlyList<string> WhatToDo { get; init; }

    /// <summary>The numbers behind the verdict, each a term and a value.</summary>
    public required IReadOnlyList<NumberLine> Numbers { get; init; }

    /// <summary>Under which conditions it holds; null until judged.</summary>
    public required string? Statement { get; init; }

    /// <summary>The decision rule; null until judged.</summary>
    public required string? Rule { get; init; }

    /// <summary>The known water; null where none was said.</summary>
    public required WaterLine? Water { get; init; }

    /// <summary>Where the known value comes from, line by line down to the certificate.</summary>
    public required IReadOnlyList<NumberLine> Trace { get; init; }

    /// <summary>Error sources of the known value, the largest first.</summary>
    public required IReadOnlyList<DoubtLine> Doubts { get; init; }

    /// <summary>Known value as typed.</summary>
    public required string KnownTyped { get; init; }

    /// <summary>Whether all planned readings are in.</summary>
    public bool Complete => Taken >= Planned;
}

/// <summary>One reading.</summary>
/// <param name="Ordinal">Its place, from one.</param>
/// <param name="Typed">As typed.</param>
/// <param name="Value">Its value, or the limit where it is censored.</param>
/// <param name="Censoring">Whether it is a limit.</param>
/// <param name="At">When.</param>
/// <param name="Who">Initials; may be empty.</param>
/// <param name="ExcludedReason">Why it is left out; null where it counts.</param>
/// <param name="Words">The value in the bench's decimal sign, without unit.</param>
/// <param name="DifferenceWords">Its distance from the known value with sign, without unit; empty for limits.</param>
public sealed record ReadingView(int Ordinal, string Typed, double Value, Censoring Censoring, Instant At, string Who, string? ExcludedReason, string Words, string DifferenceWords)
{
    /// <summary>How it was seen on a kit, “between 5 and 10”, “12 drops”; empty for a display.</summary>
    public string Seen { get; init; } = "";

    /// <summary>Whether it is left out.</summary>
    public bool Excluded => ExcludedReason is not null;
}

/// <summary>A term and its value, both in words.</summary>
/// <param name="Term">“Mean of five readings”.</param>
/// <param name="Value">“8.74 dKH”.</param>
public sealed record NumberLine(string Term, string Value);

/// <summary>One error source of a known value.</summary>
/// <param name="Source">Its name.</param>
/// <param name="StandardUncertainty">Its contribution, one standard uncertainty, in the form's unit.</param>
/// <param name="Share">Its share of the variance, 0 to 1.</param>
/// <param name="Words">Contribution in words, with its unit.</param>
/// <param name="ShareWords">Share in words.</param>
/// <param name="IsBought">Whether only another bottle makes it smaller; else it is the hand's or the tools'.</param>
public sealed record DoubtLine(string Source, double StandardUncertainty, double Share, string Words, string ShareWords, bool IsBought);

/// <summary>A method in one line.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Name">“Alkalinity, in dKH”.</param>
/// <param name="InstrumentId">Its instrument.</param>
/// <param name="InstrumentName">Name of the instrument.</param>
public sealed record MethodLine(Guid Id, string Name, Guid InstrumentId, string InstrumentName);

/// <summary>A known water in one line.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Label">Its label.</param>
/// <param name="Origin">Where its value came from.</param>
/// <param name="OriginWords">That in words: “certificate 26-0417”.</param>
public sealed record WaterLine(Guid Id, string Label, Origin Origin, string OriginWords);

/// <summary>A lot in use during a check.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Name">What is on the bottle.</param>
/// <param name="Reagent">What is in it.</param>
/// <param name="Expired">Whether it was past its date when the check was started.</param>
/// <param name="OnlyLevel">Ordinal of the only level that used it; null where all did.</param>
public sealed record CheckLotLine(Guid Id, string Name, string Reagent, bool Expired, int? OnlyLevel = null);

/// <summary>A round in a word.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Label">What it is called.</param>
public sealed record RoundName(Guid Id, string Label);
