using Knownwater.Quantities;
using Knownwater.Records.Checks;
using NodaTime;

namespace Knownwater.Records.Preparation;

/// <summary>A preparation as a page shows it: planned, under way, or done.</summary>
public sealed record PreparationView
{
    /// <summary>Its key; empty for a plan that is only looked at.</summary>
    public required Guid Id { get; init; }

    /// <summary>Label of the bottle to be.</summary>
    public required string Label { get; init; }

    /// <summary>“Nitrate”.</summary>
    public required string ParameterName { get; init; }

    /// <summary>What else its water will be known for; empty for one analyte.</summary>
    public required IReadOnlyList<string> FurtherNames { get; init; }

    /// <summary>Whether its water is seawater or fresh.</summary>
    public required Matrix Matrix { get; init; }

    /// <summary>Form of its value.</summary>
    public required ReportingForm Form { get; init; }

    /// <summary>“10.02 ± 0.12 mg/L NO₃”: as done so far, else as planned.</summary>
    public required string ValueWords { get; init; }

    /// <summary>The value as planned.</summary>
    public required string PlannedWords { get; init; }

    /// <summary>“The largest part that only another bottle makes smaller is the stock’s certificate.” or empty.</summary>
    public required string LargestBoughtWords { get; init; }

    /// <summary>Error sources, the largest first.</summary>
    public required IReadOnlyList<DoubtLine> Doubts { get; init; }

    /// <summary>What it is made from and in, salinity, what else is in it.</summary>
    public required IReadOnlyList<NumberLine> Facts { get; init; }

    /// <summary>Cautions, one sentence each.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    /// <summary>What is done at the bench, in order.</summary>
    public required IReadOnlyList<BenchAct> Acts { get; init; }

    /// <summary>How many acts are done.</summary>
    public required int ActsDone { get; init; }

    /// <summary>Slips noted, one a line.</summary>
    public required IReadOnlyList<string> Slips { get; init; }

    /// <summary>When its water was put on the shelf; null until then.</summary>
    public required Instant? DoneAt { get; init; }

    /// <summary>The water on the shelf; null until it is there.</summary>
    public required Guid? Water { get; init; }

    /// <summary>The plan as it was typed, to make the same again.</summary>
    public required PlanPreparation.Command Plan { get; init; }

    /// <summary>When it was planned, in words.</summary>
    public required string PlannedAtWords { get; init; }

    /// <summary>The act that comes next; null where all are done.</summary>
    public BenchAct? Next => ActsDone < Acts.Count ? Acts[ActsDone] : null;
}

/// <summary>One act at the bench.</summary>
/// <param name="Ordinal">Its place, from one.</param>
/// <param name="Cue">What stands before it: “Step 1 of 1 · the water”.</param>
/// <param name="Act">What to do, in large type.</param>
/// <param name="Done">The word of the button: “Poured”.</param>
/// <param name="Why">Why, in a sentence; may be empty.</param>
/// <param name="Caution">What to mind; may be empty.</param>
/// <param name="Amount">Planned amount with unit as it would be typed; empty where nothing is measured.</param>
/// <param name="Unit">Unit of the amount; empty where nothing is measured.</param>
/// <param name="DoneWords">What was really measured; empty until done or where nothing is measured.</param>
public sealed record BenchAct(int Ordinal, string Cue, string Act, string Done, string Why, string Caution, string Amount, string Unit, string DoneWords);
