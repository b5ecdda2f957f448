namespace Knownwater.Preparation;

/// <summary>Weighings of pure water that a piece delivered or held, as they were done.</summary>
public sealed record GravimetricTrial
{
    /// <summary>Half-width, °C, that is taken for a thermometer at the water (read to 0.2 °C).</summary>
    public const double UsualTemperatureLimit = 0.2;

    /// <summary>Half-width, hPa, that is taken for the pressure of the place.</summary>
    public const double UsualPressureLimit = 10;

    /// <summary>What is set or filled to, mL; above zero.</summary>
    public required double Setting { get; init; }

    /// <summary>Each weighing in order, g: the difference of load and tare in air; finite.</summary>
    public required IReadOnlyList<double> WeighingsGrams { get; init; }

    /// <summary>How many deliveries went into each weighing; 1 weighs them one by one, more weigh a sum.</summary>
    public int DeliveriesEach { get; init; } = 1;

    /// <summary>The balance: its limit or its proof at this mass, and its display step.</summary>
    public required Glassware Balance { get; init; }

    /// <summary>Temperature of water and air, °C; 0 to 40.</summary>
    public required double TemperatureCelsius { get; init; }

    /// <summary>Half-width of what the temperature may be off, °C; zero or above.</summary>
    public double TemperatureLimit { get; init; } = UsualTemperatureLimit;

    /// <summary>Pressure of the place, hPa; 500 to 1100.</summary>
    public double PressureHectopascals { get; init; } = 1013;

    /// <summary>Half-width of what the pressure may be off, hPa; zero or above.</summary>
    public double PressureLimit { get; init; } = UsualPressureLimit;

    /// <summary>Relative humidity, %; 0 to 100.</summary>
    public double HumidityPercent { get; init; } = 50;

    /// <summary>Cubic expansion of the piece, 1/°C; zero for a piston pipette or a syringe.</summary>
    public double ExpansionPerCelsius { get; init; }

    /// <summary>What evaporates during one delivery, g; zero or above. It is added back, and counts as known to half of itself.</summary>
    public double EvaporationGrams { get; init; }

    /// <summary>Limit of error of the piece at this setting, mL, against which the balance is measured; zero where none is claimed.</summary>
    public double Limit { get; init; }

    /// <summary>Standard deviation of one delivery that is assumed where the weighings cannot show it, mL; zero or above.</summary>
    public double AssumedSd { get; init; }
}
