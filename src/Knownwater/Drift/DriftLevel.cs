using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Drift;

/// <summary>One level of a check in the history of its method. All amounts are in one reporting form.</summary>
public sealed record DriftLevel
{
    /// <summary>Known value of the water; zero or above.</summary>
    public required double Known { get; init; }

    /// <summary>Mean of the readings minus the known value, with the error sources of the known water. The scatter of the readings is not among them: it comes from <see cref="Sd"/>.</summary>
    public required Estimate Bias { get; init; }

    /// <summary>Number of readings in the mean, at least 1.</summary>
    public required int Replicates { get; init; }

    /// <summary>Standard deviation of single readings within this level; null with one reading.</summary>
    public double? Sd { get; init; }

    /// <summary>Degrees of freedom of <see cref="Sd"/>; <see cref="Replicates"/> less one where null.</summary>
    public double? SdDof { get; init; }

    /// <summary>Step of the display; zero or above.</summary>
    public double Resolution { get; init; }

    internal double Dof => Sd is null ? 0 : SdDof ?? Replicates - 1;

    internal void Check()
    {
        Require.NotNegative(Known);
        Require.AtLeast(Replicates, 1);
        Require.NotNegative(Resolution);
        if (Sd is { } sd)
        {
            Require.NotNegative(sd, nameof(Sd));
            if (!(Dof > 0) || !double.IsFinite(Dof))
                throw new ArgumentException($"The standard deviation {sd} rests on {Dof} degrees of freedom; they must be a finite number above zero. Leave it out where there is one reading.", nameof(Sd));
        }
    }
}
