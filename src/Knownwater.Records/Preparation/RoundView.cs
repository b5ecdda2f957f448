using Knownwater.Checks;
using Knownwater.Records.Checks;

namespace Knownwater.Records.Preparation;

/// <summary>A round as a page shows it.</summary>
public sealed record RoundView
{
    /// <summary>Its key.</summary>
    public required Guid Id { get; init; }

    /// <summary>What it is called.</summary>
    public required string Label { get; init; }

    /// <summary>When it was planned, in words.</summary>
    public required string PlannedWords { get; init; }

    /// <summary>“Two waters to make, three checks to run: 1 h 50 min of readings; the matrix changes once.”</summary>
    public required string Summary { get; init; }

    /// <summary>What is to be minded before going on: ages, dates; one sentence each.</summary>
    public required IReadOnlyList<string> Notes { get; init; }

    /// <summary>Its preparations in the order at the bench; those that are done too.</summary>
    public required IReadOnlyList<PreparationView> Preparations { get; init; }

    /// <summary>Its checks in running order.</summary>
    public required IReadOnlyList<RoundCheck> Checks { get; init; }

    /// <summary>What the verdicts so far share, one sentence each.</summary>
    public required IReadOnlyList<string> Shared { get; init; }

    /// <summary>How far pairs of known values move together, each a pair and its correlation.</summary>
    public required IReadOnlyList<NumberLine> Correlations { get; init; }

    /// <summary>The preparation that comes next; null where all are done.</summary>
    public PreparationView? NextPreparation => Preparations.FirstOrDefault(p => p.Water is null);

    /// <summary>The check that comes next: the one that is under way, else the first whose waters are there; null where there is none.</summary>
    public RoundCheck? NextCheck => Checks.FirstOrDefault(c => c.State == CheckState.Open) ?? Checks.FirstOrDefault(c => c is { Check: null, IsReady: true });

    /// <summary>Whether every check has been run to its end.</summary>
    public bool IsDone => Checks.All(c => c.State is CheckState.Closed or CheckState.Stopped);
}

/// <summary>One check of a round.</summary>
public sealed record RoundCheck
{
    /// <summary>Its place, from one.</summary>
    public required int Ordinal { get; init; }

    /// <summary>“Nitrate on the harbour analyser”.</summary>
    public required string Title { get; init; }

    /// <summary>The method.</summary>
    public required Guid Method { get; init; }

    /// <summary>“Seawater, salinity 35”.</summary>
    public required string MatrixWords { get; init; }

    /// <summary>Whether lines and cell are rinsed for another matrix before it.</summary>
    public required bool ChangesMatrix { get; init; }

    /// <summary>Its waters, the lowest first.</summary>
    public required IReadOnlyList<RoundWater> Waters { get; init; }

    /// <summary>Number of readings; as advised where it is not started.</summary>
    public required int Readings { get; init; }

    /// <summary>Minutes of its readings that are to come; null where a reading's time is unknown.</summary>
    public required double? Minutes { get; init; }

    /// <summary>The check; null until it is started.</summary>
    public required Guid? Check { get; init; }

    /// <summary>Where it stands; null until it is started.</summary>
    public required CheckState? State { get; init; }

    /// <summary>Its verdict; null until it has one.</summary>
    public required Verdict? Verdict { get; init; }

    /// <summary>The verdict in a sentence, or how far it has come; empty until it is started.</summary>
    public required string Sentence { get; init; }

    /// <summary>Whether all its waters are made.</summary>
    public bool IsReady => Waters.All(w => w.Water is not null);
}

/// <summary>One water of a check in a round.</summary>
/// <param name="Label">Its label.</param>
/// <param name="KnownWords">Its value with its doubt at 95 %, in the form of the method.</param>
/// <param name="Water">The water; null until it is made.</param>
public sealed record RoundWater(string Label, string KnownWords, Guid? Water);

/// <summary>A round in one line of a list.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Label">What it is called.</param>
/// <param name="DayWords">When it was planned, in words.</param>
/// <param name="Methods">“Nitrate, phosphate and alkalinity”.</param>
/// <param name="Done">How many of its checks were run to their end.</param>
/// <param name="Of">How many checks it has.</param>
public sealed record RoundLine(Guid Id, string Label, string DayWords, string Methods, int Done, int Of)
{
    /// <summary>Whether every check has been run to its end.</summary>
    public bool IsDone => Done == Of;
}
