namespace Knownwater.Checks;

/// <summary>A repeatability standard deviation known before the check: from the method's own history at that level, or typical of the parameter.</summary>
/// <remarks>A typical figure is a weak prior of about six degrees of freedom and is always named “typical, not yours”.</remarks>
public sealed record PriorSd
{
    /// <summary>States a prior repeatability standard deviation.</summary>
    /// <param name="value">Standard deviation in the reporting form of the level; above zero, finite.</param>
    /// <param name="dof">Degrees of freedom; above zero, positive infinity where it counts as known.</param>
    /// <param name="isTypical">Whether it is typical of the parameter and not the method's own.</param>
    /// <exception cref="ArgumentOutOfRangeException">The standard deviation or its degrees of freedom are not above zero.</exception>
    public PriorSd(double value, double dof, bool isTypical = false)
    {
        if (!(value > 0) || double.IsInfinity(value))
            throw new ArgumentOutOfRangeException(nameof(value), value, $"The usual scatter is {value}, but a standard deviation is above zero. Leave it out where none is known.");
        if (!(dof > 0))
            throw new ArgumentOutOfRangeException(nameof(dof), dof, $"The usual scatter rests on {dof} degrees of freedom, but there must be more than zero. Count the readings less one for each check that it comes from.");
        Value = value;
        Dof = dof;
        IsTypical = isTypical;
    }

    /// <summary>Standard deviation in the reporting form of the level.</summary>
    public double Value { get; }

    /// <summary>Degrees of freedom; positive infinity where it counts as known.</summary>
    public double Dof { get; }

    /// <summary>Whether it is typical of the parameter and not the method's own.</summary>
    public bool IsTypical { get; }
}
