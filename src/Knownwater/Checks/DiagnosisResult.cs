namespace Knownwater.Checks;

/// <summary>What to suspect, ranked, and what to test next.</summary>
public sealed record DiagnosisResult
{
    /// <summary>All causes, the most probable first; their probabilities sum to 1.</summary>
    public required IReadOnlyList<Cause> Causes { get; init; }

    /// <summary>Tests that would tell something, the one with the most expected bits a minute first; empty where nothing is left to tell.</summary>
    public required IReadOnlyList<DecidingTest> Tests { get; init; }

    /// <summary>Entropy over the faults, in bits: how open the question is; zero where one fault is certain.</summary>
    public required double EntropyBits { get; init; }

    /// <summary>The test to make next; null where nothing is left to tell.</summary>
    public DecidingTest? BestTest => Tests.Count > 0 ? Tests[0] : null;

    /// <summary>Whether no declared fault explains the readings well: “none of these” leads.</summary>
    public bool NothingExplains => Causes[0].IsUnlisted;
}
