namespace Knownwater.Checks;

/// <summary>What a diagnosis needs to know of one level of the failed check. All amounts are in the reporting form of the check.</summary>
public sealed record LevelEvidence
{
    /// <summary>Known value of the water; zero or above.</summary>
    public required double Known { get; init; }

    /// <summary>The readings in the order in which they were taken, at least one; censored ones count as the middle of what they leave open.</summary>
    public required IReadOnlyList<Indication> Readings { get; init; }

    /// <summary>How wrong a reading may be here before one would act differently; above zero.</summary>
    public required double Tolerance { get; init; }

    /// <summary>Standard uncertainty of the known value that comes from the stock (√Σ of the squared contributions of its sources); zero or above.</summary>
    public double StockU { get; init; }

    /// <summary>Standard uncertainty that comes from the preparation: glassware, weighing, mixing; zero or above.</summary>
    public double PreparationU { get; init; }

    /// <summary>Standard uncertainty that comes from the background of the matrix water; zero or above.</summary>
    public double BackgroundU { get; init; }

    /// <summary>Usual standard deviation of one reading within a check at this level, above zero; null where neither the method’s history nor a typical figure gives one: then a third of the tolerance is taken, with two degrees of freedom.</summary>
    public double? UsualSd { get; init; }

    /// <summary>Degrees of freedom of <see cref="UsualSd"/>, above zero; infinite where it counts as known; six for a typical figure.</summary>
    public double UsualSdDof { get; init; } = 6;

    /// <summary>Step of the display; zero or above.</summary>
    public double Resolution { get; init; }

    /// <summary>Age of this known water in days, zero where it was made or opened today; null where it is not known.</summary>
    public double? AgeDays { get; init; }

    /// <summary>The most that this water may lose, in percent a day; zero where it loses nothing, null where it is not known (2 % is taken).</summary>
    public double? MostLossPercentPerDay { get; init; }

    /// <summary>The most that may evaporate as it is kept, in percent a day; null where it is not known (0.05 % is taken, a bottle opened daily).</summary>
    public double? MostEvaporationPercentPerDay { get; init; }
}
