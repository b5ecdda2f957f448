using Knownwater.Statistics;

namespace Knownwater.Checks;

/// <summary>How many replicates a level needs, and what they achieve.</summary>
/// <param name="N">The least number of replicates that reaches the power on both sides, from two; null where no number up to <see cref="ReplicatePlanning.Most"/> does.</param>
/// <param name="PowerRight">P(reads right | no bias) with that number, or with the most looked at.</param>
/// <param name="PowerWrong">P(reads high | bias of twice the tolerance) with that number, or with the most looked at.</param>
/// <param name="LimitedByReference">Whether no number suffices because of the reference water's doubt.</param>
/// <param name="LimitedByResolution">Whether no number suffices because of the step of the display.</param>
public sealed record ReplicatePlan(int? N, double PowerRight, double PowerWrong, bool LimitedByReference, bool LimitedByResolution);

/// <summary>Plans the number of replicates before the first one.</summary>
/// <remarks>
/// The least n with P(reads right | no bias) and P(reads high | bias 2T) both at least the power. The display step q enters the interval, adds to the
/// scatter and shifts the mean; the phase of the true value on the display's grid is taken where it is worst, for normal or for rectangular errors. With a declared extension the first look alone
/// has the power, at its 97.5 % interval.
/// </remarks>
public static class ReplicatePlanning
{
    /// <summary>The most replicates looked at.</summary>
    public const int Most = 1000;

    private const int Phases = 16;

    /// <summary>Plans one level; all quantities in one reporting form.</summary>
    /// <param name="tolerance">Tolerance at the reference value; above zero.</param>
    /// <param name="sd">Repeatability standard deviation; zero or more.</param>
    /// <param name="referenceU">Standard uncertainty of the reference value; zero or more.</param>
    /// <param name="resolution">Display step; zero or more.</param>
    /// <param name="prior">Prior that will be pooled with the readings' scatter; null for none.</param>
    /// <param name="looks">One, or two where one extension is declared.</param>
    /// <param name="power">Probability to reach; above 0.5, below 1.</param>
    /// <param name="levels">Number of levels that the check judges together; one or more.</param>
    /// <returns>The number and the two probabilities.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of the range given above.</exception>
    public static ReplicatePlan Plan(double tolerance, double sd, double referenceU, double resolution = 0, PriorSd? prior = null, int looks = 1, double power = 0.9, int levels = 1)
    {
        Check(tolerance > 0 && double.IsFinite(tolerance), nameof(tolerance), tolerance, "the tolerance must be above zero. Say how wrong a reading may be before you would act differently");
        Check(sd >= 0 && double.IsFinite(sd), nameof(sd), sd, "a standard deviation is zero or more. Take that of a few readings of the same water");
        Check(referenceU >= 0 && double.IsFinite(referenceU), nameof(referenceU), referenceU, "the doubt of the known water is zero or more");
        Check(resolution >= 0 && double.IsFinite(resolution), nameof(resolution), resolution, "the display step is zero or more");
        Check(looks is 1 or 2, nameof(looks), looks, "a check has one look, or two where one extension is declared");
        Check(levels >= 1, nameof(levels), levels, "a check has at least one level");
        Check(power > 0.5 && power < 1, nameof(power), power, "the power lies between 0.5 and 1. Nine times in ten is 0.9");

        var coverage = LevelPlan.CoverageOf(looks, levels);
        var found = Search(tolerance, sd, referenceU, resolution, prior, coverage, power);
        if (found.N is not null)
            return found;
        var byReference = referenceU > 0 && Reaches(Limit(tolerance, sd, 0, resolution, prior, coverage), power);
        var byDisplay = resolution > 0 && Reaches(Limit(tolerance, sd, referenceU, 0, prior, coverage), power);
        var bothTogether = !byReference && !byDisplay && referenceU > 0 && resolution > 0 && Reaches(Limit(tolerance, sd, 0, 0, prior, coverage), power);
        var stillShort = !Reaches(Limit(tolerance, sd, referenceU, resolution, prior, coverage), power);
        return found with { LimitedByReference = stillShort && (byReference || bothTogether), LimitedByResolution = stillShort && (byDisplay || bothTogether) };
    }

    /// <summary>What a given number of replicates achieves; arguments as in <see cref="Plan"/>.</summary>
    /// <param name="n">Number of replicates; at least two.</param>
    /// <param name="tolerance">Tolerance at the reference value.</param>
    /// <param name="sd">Repeatability standard deviation.</param>
    /// <param name="referenceU">Standard uncertainty of the reference value.</param>
    /// <param name="resolution">Display step.</param>
    /// <param name="prior">Prior that will be pooled; null for none.</param>
    /// <param name="looks">One or two.</param>
    /// <param name="levels">Number of levels that the check judges together; one or more.</param>
    /// <returns>P(reads right | no bias) and P(reads high | bias 2T).</returns>
    public static (double Right, double Wrong) Power(int n, double tolerance, double sd, double referenceU, double resolution = 0, PriorSd? prior = null, int looks = 1, int levels = 1)
    {
        Check(n >= 2, nameof(n), n, "scatter needs at least two readings");
        Check(levels >= 1, nameof(levels), levels, "a check has at least one level");
        return PowerAt(n, tolerance, sd, referenceU, resolution, prior, LevelPlan.CoverageOf(looks, levels));
    }

    private static (double Right, double Wrong) PowerAt(int n, double tolerance, double sd, double referenceU, double resolution, PriorSd? prior, double coverage)
    {
        double right = 1, wrong = 1;
        foreach (var (shift, displayed) in Displayed(sd, resolution))
        {
            var power = new VerdictPower(displayed, n, prior, coverage, resolution, referenceU);
            right = Math.Min(right, power.ReadsRight(shift, tolerance));
            wrong = Math.Min(wrong, power.ReadsHigh(2 * tolerance + shift, tolerance));
        }
        return (right, wrong);
    }

    private static ReplicatePlan Search(double tolerance, double sd, double referenceU, double resolution, PriorSd? prior, double coverage, double power)
    {
        (double Right, double Wrong) At(int n) => PowerAt(n, tolerance, sd, referenceU, resolution, prior, coverage);
        int below = 1, n = 2;
        var reached = At(n);
        while (!Reaches(reached, power))
        {
            if (n >= Most)
                return new ReplicatePlan(null, reached.Right, reached.Wrong, false, false);
            below = n;
            n = n < 30 ? n + 1 : Math.Min(Most, 2 * n);
            reached = At(n);
        }
        while (n - below > 1)
        {
            var middle = (below + n) / 2;
            var there = At(middle);
            if (Reaches(there, power))
                (n, reached) = (middle, there);
            else
                below = middle;
        }
        return new ReplicatePlan(n, reached.Right, reached.Wrong, false, false);
    }

    /// <summary>Power when readings without number leave only the doubt of the reference and of the display.</summary>
    private static (double Right, double Wrong) Limit(double tolerance, double sd, double referenceU, double resolution, PriorSd? prior, double coverage) =>
        PowerAt(1_000_000, tolerance, sd, referenceU, resolution, prior, coverage);

    private static bool Reaches((double Right, double Wrong) powers, double power) => powers.Right >= power && powers.Wrong >= power;

    /// <summary>Mean shift and standard deviation of a reading as displayed, for each phase of the true value on the grid, for normal and for rectangular errors.</summary>
    private static IEnumerable<(double Shift, double Sd)> Displayed(double sd, double resolution)
    {
        if (resolution == 0)
            return [(0, sd)];
        var phases = Enumerable.Range(0, Phases).Select(i => -0.5 + (double)i / Phases).ToArray();
        if (sd == 0)
            return [.. phases.Select(phase => (-phase * resolution, 0.0))];
        return [.. phases.Select(phase => Rounded(phase, Normal.Cdf)), .. phases.Select(phase => Rounded(phase, z => Math.Clamp(0.5 + z / Math.Sqrt(12), 0, 1)))];

        (double Shift, double Sd) Rounded(double phase, Func<double, double> cdf)
        {
            double mean = 0, square = 0;
            var reach = (int)Math.Ceiling(8 * sd / resolution) + 1;
            var from = cdf((-reach - 0.5 - phase) * resolution / sd);
            for (var k = -reach; k <= reach; k++)
            {
                var to = cdf((k + 0.5 - phase) * resolution / sd);
                mean += k * (to - from);
                square += (double)k * k * (to - from);
                from = to;
            }
            return ((mean - phase) * resolution, resolution * Math.Sqrt(Math.Max(0, square - mean * mean)));
        }
    }

    private static void Check(bool holds, string name, double value, string limit)
    {
        if (!holds)
            throw new ArgumentOutOfRangeException(name, value, $"{name} is {value}, but {limit}.");
    }
}
