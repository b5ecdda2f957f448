using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>A weighted mixture of normal distributions: what is known of a value when its standard deviation is only known as a distribution.</summary>
internal static class NormalMixture
{
    public static double Cdf(List<(double Weight, double Value, double Sd)> parts, double x)
    {
        double sum = 0, total = 0;
        foreach (var (weight, value, sd) in parts)
        {
            sum += weight * Normal.Cdf((x - value) / sd);
            total += weight;
        }
        return sum / total;
    }

    public static double Quantile(List<(double Weight, double Value, double Sd)> parts, double p)
    {
        double low = parts.Min(m => m.Value - 12 * m.Sd), high = parts.Max(m => m.Value + 12 * m.Sd);
        for (var turn = 0; turn < 60; turn++)
        {
            var middle = 0.5 * (low + high);
            if (Cdf(parts, middle) < p)
                low = middle;
            else
                high = middle;
        }
        return 0.5 * (low + high);
    }

    public static Interval Interval(List<(double Weight, double Value, double Sd)> parts, double probability) =>
        new(Quantile(parts, 0.5 - 0.5 * probability), Quantile(parts, 0.5 + 0.5 * probability));
}
