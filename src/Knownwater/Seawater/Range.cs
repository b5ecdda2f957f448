using System.Globalization;

namespace Knownwater.Seawater;

/// <summary>The one check of validity ranges.</summary>
internal static class Range
{
    /// <summary>Refuses a value outside a closed range with a sentence that names value, range and what it is for.</summary>
    public static void Require(double value, double low, double high, string what, string unit, string forWhat, string name)
    {
        if (!(value >= low && value <= high))
        {
            var space = unit.Length == 0 ? "" : " ";
            throw new ArgumentOutOfRangeException(name, value, string.Create(CultureInfo.InvariantCulture,
                $"A {what} of {value}{space}{unit} lies outside the range of {forWhat}, {low} to {high}{space}{unit}. Check the number and its unit."));
        }
    }
}
