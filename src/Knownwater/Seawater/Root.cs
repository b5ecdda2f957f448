namespace Knownwater.Seawater;

/// <summary>The root of a function that rises through a bracket.</summary>
internal static class Root
{
    /// <summary>Finds it by the secant through the bracket, kept inside by bisection (the Illinois rule), to the last bits of a double.</summary>
    /// <param name="rising">A function that is below zero or zero at the lower end and above at the upper one.</param>
    /// <param name="low">Lower end.</param>
    /// <param name="high">Upper end.</param>
    public static double Between(Func<double, double> rising, double low, double high)
    {
        var (a, b, fa, fb) = (low, high, rising(low), rising(high));
        if (fa >= 0)
            return low;
        if (fb <= 0)
            return high;
        var side = 0;
        for (var step = 0; step < 200; step++)
        {
            var middle = step % 8 == 7 ? (a + b) / 2 : ((a * fb) - (b * fa)) / (fb - fa);
            if (!(middle > a && middle < b))
                middle = (a + b) / 2;
            if (middle == a || middle == b)
                break;
            var f = rising(middle);
            if (f == 0 || b - a <= 4e-16 * Math.Abs(middle))
                return middle;
            if (f > 0)
            {
                (b, fb) = (middle, f);
                if (side == 1)
                    fa /= 2;
                side = 1;
            }
            else
            {
                (a, fa) = (middle, f);
                if (side == -1)
                    fb /= 2;
                side = -1;
            }
        }
        return (a + b) / 2;
    }
}
