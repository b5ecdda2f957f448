using System.Runtime.CompilerServices;

namespace Knownwater.Figures;

/// <summary>Argument checks whose messages name the value.</summary>
internal static class Guard
{
    public static double Finite(double value, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        double.IsFinite(value)
            ? value
            : throw new ArgumentOutOfRangeException(name, value, $"{name} is {value}; a figure can only show finite numbers.");

    public static void Ordered(double low, double high, string lowName, string highName)
    {
        if (low > high)
            throw new ArgumentOutOfRangeException(lowName, low, $"{lowName} is {low} and lies above {highName}, {high}. Swap the two.");
    }
}
