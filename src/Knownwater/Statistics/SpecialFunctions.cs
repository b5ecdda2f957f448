using Numerics = MathNet.Numerics.SpecialFunctions;

namespace Knownwater.Statistics;

/// <summary>Incomplete gamma and beta functions that keep their relative accuracy in the tails and for large parameters.</summary>
/// <remarks>
/// MathNet.Numerics 5 ends its continued fraction for the incomplete beta function after 140 terms, which is too few from some 10⁴ degrees of freedom on,
/// and takes the leading power x^a(1 − x)^b/B(a, b) from differences of log-gamma values, which loses digits as a and b grow. Here the leading power is
/// written with Stirling's error and the deviance (Loader, Fast and accurate computation of binomial probabilities, 2000), and the fractions run until they converge.
/// </remarks>
internal static class SpecialFunctions
{
    private const double Tiny = 1e-300;
    private const double Epsilon = 1.1e-16;

    /// <summary>δ(n) = ln Γ(n + 1) − (n + ½) ln n + n − ½ ln 2π.</summary>
    private static double StirlingError(double n)
    {
        // δ(n) = δ(n + 1) + (n + ½) ln(1 + 1/n) − 1, up to where the asymptotic series is exact
        double sum = 0;
        for (; n < 10; n++)
            sum += (n + 0.5) * LogOnePlus(1 / n) - 1;
        var nn = n * n;
        return sum + (1.0 / 12 - (1.0 / 360 - (1.0 / 1260 - (1.0 / 1680 - (1.0 / 1188 - (691.0 / 360360 - 1.0 / 156 / nn) / nn) / nn) / nn) / nn) / nn) / n;
    }

    /// <summary>ln(1 + x) without loss for small x.</summary>
    public static double LogOnePlus(double x)
    {
        var u = 1 + x;
        return u == 1 ? x : double.IsPositiveInfinity(u) ? u : Math.Log(u) * (x / (u - 1));
    }

    /// <summary>Deviance x ln(x/m) + m − x, without cancellation where x is near m.</summary>
    private static double Deviance(double x, double m)
    {
        if (Math.Abs(x - m) >= 0.1 * (x + m))
            return x == 0 ? m : x * Math.Log(x / m) + m - x;
        // with v = (x − m)/(x + m): (x − m)v + 2x(v³/3 + v⁵/5 + …)
        double v = (x - m) / (x + m), sum = (x - m) * v, term = 2 * x * v, vv = v * v;
        for (var k = 3; ; k += 2)
        {
            term *= vv;
            var next = sum + term / k;
            if (next == sum)
                return sum;
            sum = next;
        }
    }

    /// <summary>x^a e^(−x) / Γ(a + 1).</summary>
    private static double GammaPower(double a, double x) =>
        a < 1e-8 ? Math.Exp(a * Math.Log(x) - x - Numerics.GammaLn(a + 1))
            : Math.Exp(-StirlingError(a) - Deviance(a, x)) / Math.Sqrt(2 * Math.PI * a);

    /// <summary>Lower (P) and upper (Q) regularised incomplete gamma function.</summary>
    /// <param name="a">Shape, above zero.</param>
    /// <param name="x">Argument, zero or above; infinity allowed.</param>
    public static (double Lower, double Upper) Gamma(double a, double x)
    {
        if (x <= 0)
            return (0, 1);
        if (double.IsPositiveInfinity(x))
            return (1, 0);
        var power = GammaPower(a, x);
        if (x < a + 1)
        {
            // P = power · (1 + x/(a+1) + x²/((a+1)(a+2)) + …)
            double term = 1, sum = 1, denominator = a;
            while (term > Epsilon * sum)
            {
                term *= x / ++denominator;
                sum += term;
            }
            var p = Math.Min(1, power * sum);
            return (p, 1 - p);
        }
        // Q = x^a e^(−x)/Γ(a) · 1/(x + 1 − a − 1(1 − a)/(x + 3 − a − …)), by the modified Lentz algorithm
        double b = x + 1 - a, c = 1 / Tiny, d = 1 / b, h = d;
        for (double i = 1; ; i++)
        {
            var an = -i * (i - a);
            b += 2;
            d = an * d + b;
            d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
            c = b + an / c;
            c = Math.Abs(c) < Tiny ? Tiny : c;
            var step = d * c;
            h *= step;
            if (Math.Abs(step - 1) <= 2 * Epsilon)
                break;
        }
        var q = Math.Min(1, power * a * h);
        return (1 - q, q);
    }

    /// <summary>x^a y^b / B(a, b) with y = 1 − x given apart.</summary>
    public static double BetaPower(double a, double b, double x, double y)
    {
        if (a < 1e-8 || b < 1e-8)
            return Math.Exp(a * Math.Log(x) + b * Math.Log(y) - Numerics.GammaLn(a) - Numerics.GammaLn(b) + Numerics.GammaLn(a + b));
        // 1/B(a, b) = ab/(a + b) · C(a + b, a), and C(n, a) x^a y^b is a binomial probability
        var n = a + b;
        var log = StirlingError(n) - StirlingError(a) - StirlingError(b) - Deviance(a, n * x) - Deviance(b, n * y);
        return Math.Exp(log) * Math.Sqrt(a * b / (n * 2 * Math.PI));
    }

    /// <summary>Regularised incomplete beta function I_x(a, b) and its complement.</summary>
    /// <param name="a">First shape, above zero.</param>
    /// <param name="b">Second shape, above zero.</param>
    /// <param name="x">Argument, 0 to 1.</param>
    /// <param name="y">1 − x, given apart so that neither loses digits.</param>
    public static (double Lower, double Upper) Beta(double a, double b, double x, double y)
    {
        if (x <= 0)
            return (0, 1);
        if (y <= 0)
            return (1, 0);
        if (x > (a + 1) / (a + b + 2))
        {
            var (lower, upper) = Beta(b, a, y, x);
            return (upper, lower);
        }
        var p = Math.Min(1, BetaPower(a, b, x, y) * BetaFraction(a, b, x) / a);
        return (p, 1 - p);
    }

    private static double BetaFraction(double a, double b, double x)
    {
        double c = 1, d = 1 - (a + b) * x / (a + 1);
        d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
        var h = d;
        for (double m = 1; ; m++)
        {
            var even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
            d = 1 + even * d;
            d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
            c = 1 + even / c;
            c = Math.Abs(c) < Tiny ? Tiny : c;
            h *= d * c;
            var odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
            d = 1 + odd * d;
            d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
            c = 1 + odd / c;
            c = Math.Abs(c) < Tiny ? Tiny : c;
            var step = d * c;
            h *= step;
            if (Math.Abs(step - 1) <= 2 * Epsilon)
                return h;
        }
    }

    /// <summary>Root of a rising function on (0, ∞), found on a logarithmic scale; the function is a tail probability minus its target.</summary>
    /// <param name="excess">Function, below zero at 0 and above zero at infinity.</param>
    /// <param name="start">Where to begin, above zero.</param>
    public static double RisingRoot(Func<double, double> excess, double start)
    {
        double low = Math.Log(start), high = low, reach = 0.5;
        double atLow = excess(start), atHigh = atLow;
        while (atLow > 0 && low > -744)
        {
            (high, atHigh) = (low, atLow);
            low = Math.Max(-745, low - reach);
            atLow = excess(Math.Exp(low));
            reach *= 2;
        }
        while (atHigh < 0 && high < 709)
        {
            (low, atLow) = (high, atHigh);
            high = Math.Min(709.7, high + reach);
            atHigh = excess(Math.Exp(high));
            reach *= 2;
        }
        return Math.Exp(BracketedRoot(x => excess(Math.Exp(x)), low, atLow, high, atHigh));
    }

    /// <summary>Root of a rising function inside a bracket: regula falsi in the form of Anderson and Björck, and halving where that stalls.</summary>
    public static double BracketedRoot(Func<double, double> f, double low, double atLow, double high, double atHigh)
    {
        if (atLow >= 0)
            return low;
        if (atHigh <= 0)
            return high;
        var side = 0;
        for (var i = 0; i < 400 && Math.Abs(high - low) > 2e-16 * Math.Max(Math.Abs(low), Math.Abs(high)); i++)
        {
            var x = i % 4 == 3 ? low + (high - low) / 2 : high - atHigh * ((high - low) / (atHigh - atLow));
            if (!(x > low && x < high))
                x = low + (high - low) / 2;
            if (x == low || x == high)
                break;
            var y = f(x);
            if (y == 0)
                return x;
            if (y < 0)
            {
                if (side == -1)
                    atHigh *= Shrink(1 - y / atLow);
                (low, atLow, side) = (x, y, -1);
            }
            else
            {
                if (side == 1)
                    atLow *= Shrink(1 - y / atHigh);
                (high, atHigh, side) = (x, y, 1);
            }
        }
        return low + (high - low) / 2;

        static double Shrink(double m) => m > 0 ? m : 0.5;
    }
}
