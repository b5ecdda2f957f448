namespace Knownwater.Checks;

/// <summary>What a diagnosis needs to know of the method. Volumes are in millilitres.</summary>
public sealed record MethodEvidence
{
    /// <summary>Whether it titrates: then an error of the sample volume counts in full.</summary>
    public bool IsTitration { get; init; }

    /// <summary>Sample volume, above zero; null where it is not known.</summary>
    public double? SampleMillilitres { get; init; }

    /// <summary>Reagent volume, above zero; null where it is not known. In photometry a sample volume that is off by x moves the reading by x · reagent/(sample + reagent); where either is not known, 0.3 · x is taken.</summary>
    public double? ReagentMillilitres { get; init; }

    /// <summary>What stays in the emptied chamber, above zero; null where it is not known.</summary>
    public double? ResidualMillilitres { get; init; }

    /// <summary>Number of rinses with the known water that the procedure asks for; zero or more.</summary>
    public int Rinses { get; init; } = 2;

    /// <summary>Whether the water’s matrix and salinity lie in the method’s window, by the records; null where they do not say.</summary>
    public bool? MatrixFits { get; init; }

    /// <summary>Minutes that one reading takes; above zero.</summary>
    public double MinutesPerReading { get; init; } = 10;
}
