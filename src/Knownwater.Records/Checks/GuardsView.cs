namespace Knownwater.Records.Checks;

/// <summary>The guards before a check as a page shows them.</summary>
public sealed record GuardsView
{
    /// <summary>The check.</summary>
    public required Guid Check { get; init; }

    /// <summary>“Alkalinity on the harbour analyser”.</summary>
    public required string Title { get; init; }

    /// <summary>Where the check stands.</summary>
    public required CheckState State { get; init; }

    /// <summary>Why there is no run step by step, in a sentence that says what to do; null where there is one.</summary>
    public required string? Hindrance { get; init; }

    /// <summary>“Automatic analyser, fed by hand”; empty with a hindrance.</summary>
    public required string Procedure { get; init; }

    /// <summary>The instrument; null where the check names no method.</summary>
    public required Guid? Instrument { get; init; }

    /// <summary>The guards in the order in which one sees to them.</summary>
    public required IReadOnlyList<GuardView> Guards { get; init; }

    /// <summary>“Two things need you, one stands in the way.”, or “All holds.”</summary>
    public required string Summary { get; init; }

    /// <summary>Whether all hold, or one goes on with a reason.</summary>
    public bool CanBegin => Hindrance is null && Guards.All(g => g.State is GuardState.Holds or GuardState.Overridden);
}

/// <summary>One guard.</summary>
/// <param name="Kind">Which.</param>
/// <param name="State">How it stands.</param>
/// <param name="StateWords">“holds”, “needs you”, “stands in the way”, “you go on all the same”.</param>
/// <param name="Name">“Temperature”.</param>
/// <param name="Sentence">What is so, with the reason.</param>
/// <param name="ToDo">What to do; empty where nothing is.</param>
/// <param name="Tick">What the person confirms; empty where there is nothing to tick.</param>
/// <param name="Said">Whether the person has confirmed it.</param>
/// <param name="Reason">Why one goes on all the same; empty where one does not.</param>
/// <param name="OtherMethod">A method of the same instrument for this water; null where there is none, or it is not asked for.</param>
public sealed record GuardView(GuardKind Kind, GuardState State, string StateWords, string Name, string Sentence, string ToDo, string Tick, bool Said, string Reason, Guid? OtherMethod = null);
