using Knownwater.Checks;

namespace Knownwater.Records.Tanks;

/// <summary>What is in doubt by a check, and what was cleared.</summary>
public sealed record LookBackView
{
    /// <summary>The check.</summary>
    public required Guid Check { get; init; }

    /// <summary>“Nitrate on the harbour analyser”.</summary>
    public required string Title { get; init; }

    /// <summary>Its verdict in a sentence.</summary>
    public required string Sentence { get; init; }

    /// <summary>The day it was run.</summary>
    public required string DayWords { get; init; }

    /// <summary>Name of its parameter within a sentence.</summary>
    public required string Parameter { get; init; }

    /// <summary>Its verdict; null until it is closed.</summary>
    public required Verdict? Verdict { get; init; }

    /// <summary>Whether it is known of which method the check was; without it nothing can be looked back to.</summary>
    public required bool HasMethod { get; init; }

    /// <summary>“since 12 August, when it last read right”; empty where the check puts nothing in doubt.</summary>
    public string SinceWords { get; init; } = "";

    /// <summary>“It read right again on 20 September.”; empty where it has not yet.</summary>
    public string UntilWords { get; init; } = "";

    /// <summary>Readings in doubt, the newest first, at most <see cref="LookBack.MostListed"/>.</summary>
    public IReadOnlyList<TankReadingView> Readings { get; init; } = [];

    /// <summary>Doses in doubt, the newest first, at most <see cref="LookBack.MostListed"/>.</summary>
    public IReadOnlyList<DoseView> Doses { get; init; } = [];

    /// <summary>Number of readings in doubt.</summary>
    public int ReadingCount { get; init; }

    /// <summary>Number of doses in doubt.</summary>
    public int DoseCount { get; init; }

    /// <summary>What was cleared of this doubt, the newest first.</summary>
    public IReadOnlyList<ClearedLine> Cleared { get; init; } = [];

    /// <summary>The last clearing in a sentence, where it can be undone; else null.</summary>
    public string? LastAct { get; init; }

    /// <summary>The history entry of that clearing.</summary>
    public Guid? LastActEntry { get; init; }

    /// <summary>Whether the check failed and its method is known.</summary>
    public bool RaisesDoubt => SinceWords.Length > 0;

    /// <summary>“twelve readings and one dose”; empty where nothing is in doubt.</summary>
    public string CountWords => DoubtWords.Count(ReadingCount, DoseCount);
}

/// <summary>A reading or a dose that was cleared.</summary>
/// <param name="What">“Lagoon: 8.2 mg/L NO₃, 3 September, 09:40”.</param>
/// <param name="Why">“a stock past its best (MJ), 4 September”.</param>
public sealed record ClearedLine(string What, string Why);
