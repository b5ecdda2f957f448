using System.Runtime.CompilerServices;

namespace Knownwater.Statistics;

/// <summary>Argument checks of the lower rooms: each message names the value and the limit.</summary>
internal static class Require
{
    /// <summary>A finite number.</summary>
    public static double Finite(double value, [CallerArgumentExpression(nameof(value))] string name = "") =>
        double.IsFinite(value) ? value : throw new ArgumentOutOfRangeException(name, value, $"The {name} is {value}; it must be a finite number.");

    /// <summary>Any number or an infinity, but not NaN.</summary>
    public static double Number(double value, [CallerArgumentExpression(nameof(value))] string name = "") =>
        !double.IsNaN(value) ? value : throw new ArgumentOutOfRangeException(name, value, $"The {name} is not a number.");

    /// <summary>A finite number, zero or above.</summary>
    public static double NotNegative(double value, [CallerArgumentExpression(nameof(value))] string name = "") =>
        double.IsFinite(value) && value >= 0 ? value : throw new ArgumentOutOfRangeException(name, value, $"The {name} is {value}; it must be a finite number, zero or above.");

    /// <summary>A finite number above zero.</summary>
    public static double Positive(double value, [CallerArgumentExpression(nameof(value))] string name = "") =>
        double.IsFinite(value) && value > 0 ? value : throw new ArgumentOutOfRangeException(name, value, $"The {name} is {value}; it must be a finite number above zero.");

    /// <summary>A probability strictly between 0 and 1.</summary>
    public static double InsideUnit(double value, [CallerArgumentExpression(nameof(value))] string name = "") =>
        value > 0 && value < 1 ? value : throw new ArgumentOutOfRangeException(name, value, $"The {name} is {value}; it must lie between 0 and 1, both excluded.");

    /// <summary>Degrees of freedom: above zero, infinity allowed.</summary>
    public static double Dof(double value, [CallerArgumentExpression(nameof(value))] string name = "") =>
        value > 0 ? value : throw new ArgumentOutOfRangeException(name, value, $"The degrees of freedom ({name}) are {value}; they must be above zero, and may be infinite.");

    /// <summary>Degrees of freedom that must be finite.</summary>
    public static double FiniteDof(double value, [CallerArgumentExpression(nameof(value))] string name = "") =>
        value > 0 && double.IsFinite(value) ? value : throw new ArgumentOutOfRangeException(name, value, $"The degrees of freedom ({name}) are {value}; they must be a finite number above zero.");

    /// <summary>A count of at least a least one.</summary>
    public static int AtLeast(int value, int least, [CallerArgumentExpression(nameof(value))] string name = "") =>
        value >= least ? value : throw new ArgumentOutOfRangeException(name, value, $"The {name} is {value}; it must be at least {least}.");

    /// <summary>Finite values, at least so many of them.</summary>
    public static void Sample(ReadOnlySpan<double> values, int least, [CallerArgumentExpression(nameof(values))] string name = "")
    {
        if (values.Length < least)
            throw new ArgumentException($"There are {values.Length} values in {name}; at least {least} are needed.", name);
        for (var i = 0; i < values.Length; i++)
        {
            if (!double.IsFinite(values[i]))
                throw new ArgumentException($"Value {i + 1} of {name} is {values[i]}; every value must be a finite number.", name);
        }
    }

    /// <summary>Pairs of finite values, at least so many.</summary>
    public static void Pairs(ReadOnlySpan<double> x, ReadOnlySpan<double> y, int least)
    {
        Sample(x, least);
        Sample(y, least);
        if (x.Length != y.Length)
            throw new ArgumentException($"There are {x.Length} values of x and {y.Length} of y; each pair needs both.", nameof(y));
    }
}
