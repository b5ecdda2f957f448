using System.Collections.Immutable;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>One event of a run, as far as it decides where the run stands.</summary>
/// <param name="Key">Its own key; the same event told twice has the same.</param>
/// <param name="Kind">What happened.</param>
/// <param name="Step">The step that it was done at, from zero.</param>
/// <param name="At">When, by the clock of the records.</param>
public readonly record struct RunHappening(Guid Key, RunEventKind Kind, int Step, Instant At);

/// <summary>Where a run stands: a pure fold over its events in the order in which the records took them.</summary>
/// <remarks>
/// Every event names the step that it was done at, and moves the run only from that step. So an event for a step that is passed changes
/// nothing, two devices that do the same steps advance the run once, and one press of <em>Back</em> on each of two takes it back once. An
/// event told twice, by its key, counts the first time.
/// </remarks>
public sealed record RunProgress
{
    private RunProgress(int steps) => Steps = steps;

    /// <summary>Number of steps of the run.</summary>
    public int Steps { get; }

    /// <summary>The step to do next, from zero; the number of steps when all are done.</summary>
    public int Step { get; private init; }

    /// <summary>Whether the run was ended; no event moves it from then on.</summary>
    public bool Ended { get; private init; }

    /// <summary>When each step that was entered was entered first after the one before it, or when its timer was started last.</summary>
    public ImmutableSortedDictionary<int, Instant> Starts { get; private init; } = ImmutableSortedDictionary<int, Instant>.Empty;

    /// <summary>Folds the events of a run.</summary>
    /// <param name="steps">Number of steps of the run; zero or more.</param>
    /// <param name="inOrder">Its events in the order of the records.</param>
    /// <returns>Where it stands.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number of steps is below zero.</exception>
    public static RunProgress Of(int steps, IEnumerable<RunHappening> inOrder)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(steps);
        ArgumentNullException.ThrowIfNull(inOrder);
        return inOrder.DistinctBy(h => h.Key).Aggregate(new RunProgress(steps), (progress, happening) => progress.After(happening));
    }

    private RunProgress After(RunHappening happening)
    {
        if (Ended)
            return this;
        var here = happening.Step == Step;
        return happening.Kind switch
        {
            RunEventKind.Begun when Starts.IsEmpty => Enter(0, happening.At),
            RunEventKind.Done or RunEventKind.ReadingKept when here && Step < Steps => Enter(Step + 1, happening.At),
            RunEventKind.Back when here && Step > 0 => this with { Step = Step - 1 },
            RunEventKind.TimerStarted when here && Step < Steps => this with { Starts = Starts.SetItem(Step, happening.At) },
            RunEventKind.Ended => this with { Ended = true },
            _ => this,
        };
    }

    private RunProgress Enter(int step, Instant at) => this with { Step = step, Starts = Starts.SetItem(step, at) };
}
