namespace Knownwater.Drift;

/// <summary>What the course of a method comes to: something moved and stays so, or a fault came and went, or neither.</summary>
/// <remarks>
/// A change at no event goes first, where one is more probable than none. Else the clearest of the clear steps at events counts. Where the last clear step takes back at least half of the one before it and leaves the
/// method nearer to right, the two are a fault that is over, and nothing has moved.
/// </remarks>
public sealed record CourseFinding
{
    /// <summary>Checks from which on a course shows; 3.</summary>
    public const int FewestChecks = 3;

    private CourseFinding(Movement? moved, PassedFault? passed) => (Moved, Passed) = (moved, passed);

    /// <summary>What has moved and stays so; null where nothing has.</summary>
    public Movement? Moved { get; }

    /// <summary>The last fault that came and went; null where there is none.</summary>
    public PassedFault? Passed { get; }

    /// <summary>Reads a course.</summary>
    /// <param name="history">The history; below three checks nothing is found.</param>
    /// <param name="change">What changed in it.</param>
    /// <param name="now">The present bias, since the last clear step.</param>
    public static CourseFinding Of(DriftHistory history, ChangePoint change, CombinedBias now)
    {
        ArgumentNullException.ThrowIfNull(history);
        ArgumentNullException.ThrowIfNull(change);
        ArgumentNullException.ThrowIfNull(now);
        if (history.Checks.Count < FewestChecks)
            return new CourseFinding(null, null);
        var steps = change.Events.Where(e => e.IsClear).DistinctBy(e => e.Between).OrderBy(e => e.Event.Day).ToList();
        var returned = steps.Count >= 2 && Math.Abs(steps[^1].Step + steps[^2].Step) < 0.5 * Math.Abs(steps[^2].Step);
        var passed = returned && Math.Abs(now.Value) <= Math.Abs(now.Value - steps[^1].Step) ? new PassedFault(steps[^2], steps[^1]) : null;
        Movement? moved = null;
        if (change is { Kind: not CourseKind.Steady, Size: { } size, SizeInterval: { } interval, Onset: { } onset, LikeliestOnset: { } likeliest })
            moved = new Movement(change.Kind, size, interval, onset, likeliest, null);
        else if (passed is null && (returned ? steps[^1] : steps.MinBy(e => e.P)) is { } clearest)
            moved = new Movement(CourseKind.Step, clearest.Step, clearest.Interval, clearest.Between, clearest.Event.Day, clearest);
        return new CourseFinding(moved, passed);
    }
}
