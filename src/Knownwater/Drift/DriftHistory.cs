using Knownwater.Quantities;
using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>The checks of one method in time order, with the dated events between them.</summary>
/// <remarks>
/// Checks at several levels are brought to one scale by the tolerance: a bias counts as its share of the tolerance at its level, so that 1 means “wrong by the tolerance”. Whatever moves the method from check
/// to check is taken to move every level by the same share. Take checks of one matrix and one reporting form, as read: with no correction of the program applied.
/// </remarks>
public sealed class DriftHistory
{
    /// <summary>Puts a history together.</summary>
    /// <param name="tolerance">How wrong a reading may be; above zero at every level checked.</param>
    /// <param name="checks">Checks in any order, at least one.</param>
    /// <param name="events">Dated events in any order.</param>
    /// <param name="typical">Typical standard deviation of single readings of this parameter, as a weak prior; null where none is known.</param>
    /// <param name="changeovers">Steps between lots that were measured on one water, in any order.</param>
    /// <exception cref="ArgumentException">There is no check, a check has no level, a number is out of its range, or the tolerance at a level is zero.</exception>
    public DriftHistory(Tolerance tolerance, IEnumerable<DriftCheck> checks, IEnumerable<DriftEvent>? events = null, TypicalSd? typical = null, IEnumerable<Changeover>? changeovers = null)
    {
        ArgumentNullException.ThrowIfNull(tolerance);
        ArgumentNullException.ThrowIfNull(checks);
        Tolerance = tolerance;
        Typical = typical;
        Checks = [.. checks.OrderBy(c => c.Day)];
        Events = [.. (events ?? []).OrderBy(e => e.Day)];
        Changeovers = [.. (changeovers ?? []).OrderBy(c => c.Day)];
        if (Checks.Count == 0)
            throw new ArgumentException("The history has no check. Drift is seen from three checks on.", nameof(checks));
        foreach (var check in Checks)
        {
            Require.Finite(check.Day, nameof(checks));
            if (check.Levels.Count == 0)
                throw new ArgumentException($"The check of day {check.Day} has no level; it needs at least one.", nameof(checks));
            foreach (var level in check.Levels)
            {
                level.Check();
                RequireTolerance(level.Known);
            }
        }
        foreach (var changeover in Changeovers)
        {
            changeover.Check();
            RequireTolerance(changeover.Level);
        }

        void RequireTolerance(double level)
        {
            if (tolerance.At(level) <= 0)
                throw new ArgumentException($"The tolerance at {level} is zero; drift is measured in tolerances. Give an absolute part above zero.", nameof(tolerance));
        }
    }

    /// <summary>How wrong a reading may be before one would act differently.</summary>
    public Tolerance Tolerance { get; }

    /// <summary>Checks, the oldest first.</summary>
    public IReadOnlyList<DriftCheck> Checks { get; }

    /// <summary>Dated events, the oldest first.</summary>
    public IReadOnlyList<DriftEvent> Events { get; }

    /// <summary>Measured steps between lots, the oldest first.</summary>
    public IReadOnlyList<Changeover> Changeovers { get; }

    /// <summary>Typical standard deviation of single readings, if any.</summary>
    public TypicalSd? Typical { get; }

    /// <summary>The history up to and including a number of checks, as it stood then: later events and changeovers are left out.</summary>
    /// <param name="checks">Number of checks, 1 to all.</param>
    /// <exception cref="ArgumentOutOfRangeException">There are not so many checks, or fewer than 1 are asked for.</exception>
    public DriftHistory Until(int checks)
    {
        if (checks < 1 || checks > Checks.Count)
            throw new ArgumentOutOfRangeException(nameof(checks), checks, $"The history has {Checks.Count} checks; {checks} cannot be taken.");
        var last = Checks[checks - 1].Day;
        return new DriftHistory(Tolerance, Checks.Take(checks), Events.Where(e => e.Day <= last), Typical, Changeovers.Where(c => c.Day <= last));
    }

    /// <summary>The same history in which each clear event of a change begins a level of its own, so that a fault that is over is no scatter and no doubt of today.</summary>
    /// <param name="change">What changed in it.</param>
    public DriftHistory StartingAnew(ChangePoint change)
    {
        ArgumentNullException.ThrowIfNull(change);
        var clear = change.Events.Where(e => e.IsClear).DistinctBy(e => e.Between).Select(e => e.Event).ToHashSet();
        return clear.Count == 0 ? this : With([.. Events.Select(e => clear.Contains(e) ? e with { StartsAnew = true } : e)]);
    }

    internal DriftHistory With(IReadOnlyList<DriftEvent> events) => new(Tolerance, Checks, events, Typical, Changeovers);
}
