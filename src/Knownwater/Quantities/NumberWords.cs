using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text;

namespace Knownwater.Quantities;

/// <summary>Numbers written for people, never with more digits than are known.</summary>
/// <remarks>
/// The doubt has two significant digits (JCGM 100:2008, 7.2.6), rounded to nearest, halves away from zero, and the value ends where its
/// doubt ends. No scientific notation; the minus is U+2212; whole digits stand in groups of three from five digits on, with U+202F
/// between; a rounded zero carries no sign. The decimal sign is the owner's. These texts are for pages and sentences:
/// files and JSON carry full precision.
/// </remarks>
public static class NumberWords
{
    /// <summary>The minus sign, U+2212.</summary>
    public const char Minus = '\u2212';

    /// <summary>The narrow no-break space, U+202F: before the percent sign, after a leading ±, between groups of digits.</summary>
    public const char NarrowSpace = '\u202F';

    /// <summary>The no-break space, U+00A0: before a unit of letters, and round ± between two numbers.</summary>
    public const char NoBreakSpace = '\u00A0';

    private const int MostDigits = 15;

    /// <summary>A value that ends where its doubt ends: 8.7396 with doubt 0.168 gives "8.74".</summary>
    /// <param name="value">The value; finite.</param>
    /// <param name="doubt">Its doubt, in the same unit; zero or above. Zero means nothing is known of it: the value then shows at most six significant digits.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>The value as text.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value or the doubt is not finite, or the doubt is negative.</exception>
    public static string Value(double value, double doubt, DecimalSign sign) => WithDoubt(value, doubt, sign).Value;

    /// <summary>A value and its doubt: 0.8396 and 0.168 give "0.84" and "0.17".</summary>
    /// <param name="value">The value; finite.</param>
    /// <param name="doubt">Its doubt, in the same unit; zero or above.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>Both as text, ending at the same place.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value or the doubt is not finite, or the doubt is negative.</exception>
    public static (string Value, string Doubt) WithDoubt(double value, double doubt, DecimalSign sign)
    {
        RequireFinite(value, nameof(value));
        RequireFinite(doubt, nameof(doubt));
        ArgumentOutOfRangeException.ThrowIfNegative(doubt);
        if (doubt == 0)
            return (Plain(value, 6, sign), "0");
        var decimals = DecimalsFor(doubt, 2);
        return (Fixed(value, decimals, sign), Fixed(doubt, decimals, sign));
    }

    /// <summary>A value with its sign, for distances from a known value: "+0.84", "−0.17", and "0.00" without a sign.</summary>
    /// <param name="value">The value; finite.</param>
    /// <param name="doubt">Its doubt, in the same unit; zero or above.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>The value as text, with + or U+2212 unless it is shown as zero.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value or the doubt is not finite, or the doubt is negative.</exception>
    [SuppressMessage("Naming", "CA1720", Justification = "Signed is the word for it, not a type.")]
    public static string Signed(double value, double doubt, DecimalSign sign)
    {
        var text = Value(value, doubt, sign);
        return value > 0 && text.AsSpan().IndexOfAnyInRange('1', '9') >= 0 ? "+" + text : text;
    }

    /// <summary>A percentage that ends where its doubt ends, with a narrow no-break space before the sign: "10.6 %".</summary>
    /// <param name="percent">The percentage (10.6 means 10.6 %); finite.</param>
    /// <param name="doubtPercent">Its doubt, in percent as well; zero or above.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>The percentage as text.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A number is not finite, or the doubt is negative.</exception>
    public static string Percent(double percent, double doubtPercent, DecimalSign sign) => Value(percent, doubtPercent, sign) + NarrowSpace + "%";

    /// <summary>A number rounded to so many significant digits, trailing zeros after the decimal sign left out: 7.9 stays "7.9".</summary>
    /// <param name="value">The number; finite.</param>
    /// <param name="significantDigits">At most so many significant digits; 1 to 15.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>The number as text.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite, or the digits lie outside 1 to 15.</exception>
    public static string Plain(double value, int significantDigits, DecimalSign sign)
    {
        RequireFinite(value, nameof(value));
        if (significantDigits is < 1 or > MostDigits)
            throw new ArgumentOutOfRangeException(nameof(significantDigits), significantDigits, $"{significantDigits} significant digits cannot be shown. Ask for 1 to {MostDigits}.");
        if (value == 0)
            return "0";
        var text = Fixed(value, DecimalsFor(Math.Abs(value), significantDigits), sign);
        var mark = text.IndexOf(Mark(sign), StringComparison.Ordinal);
        return mark < 0 ? text : text.TrimEnd('0').TrimEnd(Mark(sign));
    }

    /// <summary>A number with so many decimals, trailing zeros kept: 7.9 with two decimals is "7.90".</summary>
    /// <param name="value">The number; finite.</param>
    /// <param name="decimals">So many decimals; below zero rounds to tens (−1), hundreds (−2) and so on.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>The number as text.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static string Fixed(double value, int decimals, DecimalSign sign)
    {
        RequireFinite(value, nameof(value));
        var digits = Round(value, decimals).ToString("F" + Math.Max(decimals, 0).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        var negative = digits[0] == '-' && digits.AsSpan().IndexOfAnyInRange('1', '9') >= 0;
        digits = digits.TrimStart('-');
        var point = digits.IndexOf('.', StringComparison.Ordinal);
        var whole = point < 0 ? digits : digits[..point];
        var text = new StringBuilder();
        if (negative)
            text.Append(Minus);
        for (var i = 0; i < whole.Length; i++)
        {
            if (i > 0 && whole.Length >= 5 && (whole.Length - i) % 3 == 0)
                text.Append(NarrowSpace);
            text.Append(whole[i]);
        }
        if (point >= 0)
            text.Append(Mark(sign)).Append(digits.AsSpan(point + 1));
        return text.ToString();
    }

    private static char Mark(DecimalSign sign) => sign == DecimalSign.Comma ? ',' : '.';

    /// <summary>Decimals such that the rounded size shows so many significant digits: 0.0996 rounds up to 0.10, not 0.100.</summary>
    private static int DecimalsFor(double size, int significant)
    {
        var decimals = significant - 1 - (int)Math.Floor(Math.Log10(size));
        if (Math.Abs(Round(size, decimals)) >= Math.Pow(10, significant - decimals) * (1 - 1e-12))
            decimals--;
        return Math.Min(decimals, 300);
    }

    // A double is taken as the shortest decimal that gives it, so that 8.745 rounds as a reader expects; outside the reach of decimal, as binary.
    private static double Round(double value, int decimals)
    {
        if (decimals >= 0)
        {
            if (decimals <= 28 && Math.Abs(value) < 1e13)
                return (double)Math.Round(decimal.Parse(value.ToString("R", CultureInfo.InvariantCulture), NumberStyles.Float, CultureInfo.InvariantCulture), decimals, MidpointRounding.AwayFromZero);
            return value;
        }
        var step = Math.Pow(10, -decimals);
        return Math.Round(value / step, MidpointRounding.AwayFromZero) * step;
    }

    private static void RequireFinite(double number, string name)
    {
        if (!double.IsFinite(number))
            throw new ArgumentOutOfRangeException(name, number, $"{number} cannot be written as a number for people; only finite numbers can.");
    }
}
