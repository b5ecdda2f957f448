using Knownwater.Records.Checks;

namespace Knownwater.Records.Instruments;

/// <summary>The procedure of an instrument as a page shows it.</summary>
/// <param name="Instrument">The instrument.</param>
/// <param name="InstrumentName">Its name.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Procedure">The procedure; null for a laboratory, which has none.</param>
/// <param name="Version">Its version: 0 for the one that comes with the program.</param>
/// <param name="IsStanding">Whether it is the version that stands.</param>
/// <param name="VersionWords">“version 3”, or “as it comes with the program”.</param>
/// <param name="ResidualField">What stays behind with its unit, as it stands in the field.</param>
/// <param name="RinseField">A rinse with its unit, as it stands in the field.</param>
/// <param name="Document">The JSON document.</param>
/// <param name="Steps">Its steps in order.</param>
/// <param name="Figures">Volumes and number of rinses.</param>
/// <param name="Tables">What is left of former water, a table for each sample volume; empty where no volume is noted, or nothing stays behind.</param>
/// <param name="Versions">All versions, the newest first.</param>
public sealed record ProcedureView(
    Guid Instrument, string InstrumentName, InstrumentKind Kind, Procedure? Procedure, int Version, bool IsStanding, string VersionWords, string ResidualField, string RinseField, string Document,
    IReadOnlyList<ProcedureStepView> Steps, IReadOnlyList<NumberLine> Figures, IReadOnlyList<RinseTable> Tables, IReadOnlyList<ProcedureVersionLine> Versions);

/// <summary>A step with its blanks filled by words that hold for every check.</summary>
/// <param name="Step">The step as written.</param>
/// <param name="Cue">Its cue; may be empty.</param>
/// <param name="Act">What to do.</param>
/// <param name="Why">The reason; may be empty.</param>
/// <param name="Caution">The caution; may be empty.</param>
/// <param name="Time">Its timer in words; empty without one.</param>
/// <param name="MinutesField">Minutes of its timer as they stand in the field; empty without any.</param>
public sealed record ProcedureStepView(ProcedureStep Step, string Cue, string Act, string Why, string Caution, string Time, string MinutesField);

/// <summary>One version in the list.</summary>
/// <param name="Number">Its number; 0 for the one that comes with the program.</param>
/// <param name="Words">When, who, what was changed.</param>
/// <param name="IsStanding">Whether it is the one that stands.</param>
public sealed record ProcedureVersionLine(int Number, string Words, bool IsStanding);

/// <summary>What is left of former water for each number of rinses.</summary>
/// <param name="Fill">The sample volume that is filled in after the rinses.</param>
/// <param name="Lines">One for each number of rinses, none first.</param>
public sealed record RinseTable(string Fill, IReadOnlyList<RinseLine> Lines);

/// <summary>What one number of rinses leaves.</summary>
/// <param name="Rinses">The number.</param>
/// <param name="WhereWaterChanges">Whether the procedure rinses so often where the water changes.</param>
/// <param name="BetweenReadings">Whether it rinses so often between readings.</param>
/// <param name="BeforeFill">Share of former water in what stays behind, before the fill.</param>
/// <param name="AfterFill">Share of former water in what is measured, after the fill; where that was pure, a reading is low by the same.</param>
/// <param name="AfterStronger">What a reading is off by where the former sample was ten times as strong.</param>
public sealed record RinseLine(int Rinses, bool WhereWaterChanges, bool BetweenReadings, string BeforeFill, string AfterFill, string AfterStronger);
