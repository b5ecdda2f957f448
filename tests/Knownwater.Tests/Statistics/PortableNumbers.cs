namespace Knownwater.Tests.Statistics;

/// <summary>Random numbers that any language makes alike: splitmix64 of seed and place, Box and Muller, rounded. The same as in bench/peers/_prng.py.</summary>
internal static class PortableNumbers
{
    /// <summary>Readings of two methods with errors of 2 and 2.5 % and three decimals.</summary>
    public static (double[] X, double[] Y) Comparison(int n)
    {
        double[] x = new double[n], y = new double[n];
        for (var i = 0; i < n; i++)
        {
            var t = 5 + 45 * Uniform(11, (ulong)i);
            x[i] = Math.Round(t * (1 + .02 * Normal(12, (ulong)i)), 3);
            y[i] = Math.Round(0.3 + 1.03 * t + .025 * t * Normal(13, (ulong)i), 3);
        }
        return (x, y);
    }

    private static double Uniform(ulong seed, ulong place)
    {
        var z = seed * 0xD1342543DE82EF95 + (place + 1) * 0x9E3779B97F4A7C15;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return ((z ^ (z >> 31)) >> 11) * (1.0 / (1UL << 53));
    }

    private static double Normal(ulong seed, ulong place) =>
        Math.Sqrt(-2 * Math.Log(1 - Uniform(seed, 2 * place))) * Math.Cos(2 * Math.PI * Uniform(seed, 2 * place + 1));
}
