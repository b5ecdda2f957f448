using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>One water read with the old lots in use and with the new ones, on one occasion: what the step between the lots is, free of the water’s error and of what differs from check to check.</summary>
/// <remarks>
/// Model: step = level with the new lots − level with the old ones + e, e ~ N(0, s_r²(c)·(1/n₁ + 1/n₂)). The reference’s error is in both series with the same sign and drops out, and so does the effect of the day.
/// All amounts are in one reporting form.
/// </remarks>
public sealed record Changeover
{
    /// <summary>Day on which it was made, on the scale of the checks.</summary>
    public required double Day { get; init; }

    /// <summary>Lots in use in the first series.</summary>
    public required IReadOnlyList<string> From { get; init; }

    /// <summary>Lots in use in the second series.</summary>
    public required IReadOnlyList<string> To { get; init; }

    /// <summary>Level of the water: its known value, or what was read where it is only steady; zero or above.</summary>
    public required double Level { get; init; }

    /// <summary>Mean of the second series minus mean of the first.</summary>
    public required double Step { get; init; }

    /// <summary>Number of readings in the first series, at least 1.</summary>
    public required int FromReplicates { get; init; }

    /// <summary>Number of readings in the second series, at least 1.</summary>
    public required int ToReplicates { get; init; }

    /// <summary>Standard deviation of single readings pooled from both series; null where neither has two readings.</summary>
    public double? Sd { get; init; }

    /// <summary>Degrees of freedom of <see cref="Sd"/>; those of two series less two where null.</summary>
    public double? SdDof { get; init; }

    /// <summary>Step of the display; zero or above.</summary>
    public double Resolution { get; init; }

    internal double Dof => Sd is null ? 0 : SdDof ?? FromReplicates + ToReplicates - 2;

    internal void Check()
    {
        Require.Finite(Day, nameof(Day));
        Require.Finite(Step, nameof(Step));
        Require.NotNegative(Level);
        Require.NotNegative(Resolution);
        Require.AtLeast(FromReplicates, 1);
        Require.AtLeast(ToReplicates, 1);
        if (From.ToHashSet(StringComparer.Ordinal).SetEquals(To))
            throw new ArgumentException($"The changeover of day {Day} has the same lots in both series, so that it says nothing of a step between lots. Leave it out.", nameof(To));
        if (Sd is { } sd)
        {
            Require.NotNegative(sd, nameof(Sd));
            if (!(Dof > 0) || !double.IsFinite(Dof))
                throw new ArgumentException($"The standard deviation {sd} rests on {Dof} degrees of freedom; they must be a finite number above zero. Leave it out where each series has one reading.", nameof(Sd));
        }
    }
}
