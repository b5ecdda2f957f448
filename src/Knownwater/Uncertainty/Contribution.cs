namespace Knownwater.Uncertainty;

/// <summary>What one error source contributes to an estimate.</summary>
/// <param name="Source">The source.</param>
/// <param name="Value">Signed contribution c = sensitivity × u, in the unit of the estimate.</param>
public readonly record struct Contribution(ErrorSource Source, double Value)
{
    /// <summary>Size of the contribution, |c|: a standard uncertainty in the unit of the estimate.</summary>
    public double StandardUncertainty => Math.Abs(Value);

    /// <summary>Sensitivity coefficient c/u: unit of the estimate per unit of the source.</summary>
    public double Sensitivity => Value / Source.StandardUncertainty;
}

/// <summary>One line of an uncertainty budget (JCGM 100:2008, 7.2.7).</summary>
/// <param name="Source">The source, with its own u, unit, shape and degrees of freedom.</param>
/// <param name="Contribution">Signed contribution, in the unit of the estimate.</param>
/// <param name="Share">Part of the combined variance, 0 to 1; the lines of a budget sum to 1.</param>
public readonly record struct BudgetLine(ErrorSource Source, double Contribution, double Share)
{
    /// <summary>Name of the source.</summary>
    public string Name => Source.Name;

    /// <summary>Standard uncertainty of the source, in its own unit.</summary>
    public double StandardUncertainty => Source.StandardUncertainty;

    /// <summary>Sensitivity coefficient: unit of the estimate per unit of the source.</summary>
    public double Sensitivity => Contribution / Source.StandardUncertainty;
}
