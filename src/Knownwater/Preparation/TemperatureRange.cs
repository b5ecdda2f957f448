namespace Knownwater.Preparation;

/// <summary>How far the temperature of the bench may lie from the one at which volumes hold.</summary>
/// <param name="Id">Identity of the one source that all volumes share.</param>
/// <param name="HalfRangeKelvins">Half-width of the rectangular range, K; zero or above.</param>
/// <param name="Coefficient">Volume expansion of the solution per K; 2.1·10⁻⁴ for water (QUAM, example A1).</param>
public sealed record TemperatureRange(Guid Id, double HalfRangeKelvins, double Coefficient = TemperatureRange.Water)
{
    /// <summary>Volume expansion of water near 20 °C, per K (QUAM, example A1).</summary>
    public const double Water = 2.1e-4;
}
