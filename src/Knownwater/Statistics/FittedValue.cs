namespace Knownwater.Statistics;

/// <summary>A value that a fit gives, with its standard uncertainty.</summary>
/// <param name="Value">The value, in the unit of its axis.</param>
/// <param name="StandardUncertainty">Its standard uncertainty (k = 1), in the same unit.</param>
/// <param name="Dof">Degrees of freedom of that uncertainty; infinite where the errors were known beforehand.</param>
public readonly record struct FittedValue(double Value, double StandardUncertainty, double Dof)
{
    /// <summary>The coverage interval value ± t·u.</summary>
    /// <param name="probability">Coverage probability, between 0 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The probability is not between 0 and 1.</exception>
    public Interval Interval(double probability = 0.95)
    {
        Require.InsideUnit(probability);
        var half = -StudentT.Quantile((1 - probability) / 2, Dof) * StandardUncertainty;
        return new Interval(Value - half, Value + half);
    }
}
