using System.Globalization;

namespace Knownwater.Figures.Tests;

/// <summary>Verdict figures to look at: the one of the five alkalinity readings, and a family over everything that may go wrong in a layout.</summary>
internal static class VerdictFigures
{
    public static VerdictFigure Alkalinity() => new()
    {
        Unit = "dKH",
        Known = 7.90, KnownLabel = "7.90", KnownLow = 7.82, KnownHigh = 7.98,
        ToleranceLow = 7.44, ToleranceHigh = 8.36, ToleranceLowLabel = "7.44", ToleranceHighLabel = "8.36",
        Readings = [new(8.6, "8.6", "+0.7"), new(8.8, "8.8", "+0.9"), new(8.7, "8.7", "+0.8"), new(8.9, "8.9", "+1.0"), new(8.7, "8.7", "+0.8")],
        Mean = 8.74, MeanLabel = "8.74", Low = 8.57, High = 8.91, LowLabel = "8.57", HighLabel = "8.91",
        DistanceLabel = "+0.84", DistanceWithDoubtLabel = "+0.84 ± 0.17", Tone = FigureTone.High,
    };

    /// <summary>A figure round a known value of 10 whose parts are given in units of the spread of its readings.</summary>
    public static VerdictFigure Make(int n, double tolerance, double bias, double doubt, bool interval = true, int digits = 2, bool excluded = false)
    {
        const double known = 10, spread = 0.1;
        double[] pattern = [0, 0.8, -0.5, 1.1, -0.9, 0.3, -0.2, 0.6, -1.2, 0.1];
        string L(double v) => v.ToString("F" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        string S(double v) => (v < 0 ? "\u2212" : "+") + L(Math.Abs(v));
        var values = Enumerable.Range(0, n).Select(i => known + (bias + pattern[i % pattern.Length]) * spread).ToList();
        var mean = values.Average();
        var half = 2.5 * spread / Math.Sqrt(n) + doubt * spread;
        var readings = values.Select(v => new FigureReading(v, L(v), S(v - known))).ToList();
        if (excluded)
            readings.Add(new FigureReading(87, "87", "+77") { ExcludedBecause = "a slip of the comma" });
        var tone = Math.Abs(bias) < tolerance ? FigureTone.Right : bias > 0 ? FigureTone.High : FigureTone.Low;
        return new VerdictFigure
        {
            Unit = "mg/L",
            Known = known, KnownLabel = L(known), KnownLow = known - doubt * spread, KnownHigh = known + doubt * spread,
            ToleranceLow = known - tolerance * spread, ToleranceHigh = known + tolerance * spread,
            ToleranceLowLabel = L(known - tolerance * spread), ToleranceHighLabel = L(known + tolerance * spread),
            Readings = readings,
            Mean = mean, MeanLabel = L(mean),
            Low = interval ? mean - half : null, High = interval ? mean + half : null,
            LowLabel = L(mean - half), HighLabel = L(mean + half),
            DistanceLabel = S(mean - known), Tone = interval ? tone : FigureTone.Cannot,
        };
    }

    public static IEnumerable<(string Name, VerdictFigure Figure)> Family()
    {
        int[] counts = [1, 2, 3, 5, 7, 10, 11, 15, 20];
        double[] tolerances = [0, 0.02, 0.5, 2, 10, 200];
        double[] biases = [-60, -4, 0, 1, 8];
        double[] doubts = [0, 0.5, 12];
        foreach (var n in counts)
            foreach (var tolerance in tolerances)
                foreach (var bias in biases)
                    foreach (var doubt in doubts)
                    {
                        var name = string.Create(CultureInfo.InvariantCulture, $"n {n}, tolerance {tolerance}, bias {bias}, doubt {doubt}");
                        yield return (name, Make(n, tolerance, bias, doubt, interval: n > 1));
                        if (n is 2 or 7)
                        {
                            yield return (name + ", long labels", Make(n, tolerance, bias, doubt, digits: 4));
                            yield return (name + ", one left out", Make(n, tolerance, bias, doubt, excluded: true));
                        }
                    }
    }
}
