namespace Knownwater.Statistics;

/// <summary>One stage of a nested analysis of variance.</summary>
public sealed record NestedStage
{
    internal NestedStage(double dof, double sumOfSquares, double component, double? f, double? against)
    {
        Dof = dof;
        SumOfSquares = sumOfSquares;
        VarianceComponent = component;
        F = f;
        P = f is { } ratio ? FisherF.UpperTail(ratio, dof, against!.Value) : null;
    }

    /// <summary>Degrees of freedom.</summary>
    public double Dof { get; }

    /// <summary>Sum of squares, in the square of the unit.</summary>
    public double SumOfSquares { get; }

    /// <summary>Mean square, in the square of the unit.</summary>
    public double MeanSquare => SumOfSquares / Dof;

    /// <summary>Estimated component of variance of this stage, in the square of the unit; may be negative, which stands for a component near zero.</summary>
    public double VarianceComponent { get; }

    /// <summary>Square root of the component of variance, in the unit of the values; zero where the component is negative.</summary>
    public double ComponentStandardDeviation => Math.Sqrt(Math.Max(0, VarianceComponent));

    /// <summary>Mean square over that of the next stage; null for the last stage, and where the next stage does not vary.</summary>
    public double? F { get; }

    /// <summary>Probability of an F at least as large where this stage adds nothing; null where there is no F.</summary>
    public double? P { get; }
}
