using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>When a method is to be checked again, and why.</summary>
/// <remarks>
/// <para>Bias from day to day: steady level + random walk w·√Δ + a step that nobody noted, with a hazard of one in a year and the size N(0, 1) in tolerances, after the last check. Level, walk and the standard deviation between checks come from all
/// checks with their covariance, on the grid over the standard deviations; the walk has the prior of <see cref="DriftPriors.WalkScale"/>. Due is the first day on which P(|bias| &gt; T) exceeds the owner's risk.</para>
/// <para>A changeover made since the last check, from the lots of that check, carries the level over to the new lots: its step is added to the bias and its variance to that of the bias.</para>
/// <para>The bias is that of the middle level checked. The scatter of single checks is not in it: it is in the uncertainty of a reading.</para>
/// </remarks>
public sealed class NextCheck
{
    /// <summary>The longest time without a check, in days; 60.</summary>
    public const int LongestDays = 60;

    private const double StepsPerDay = 1.0 / 365, StepVariance = 1;
    private const int Seasoned = 8;

    private readonly List<(double Weight, double Mean, double Variance, double Walk2)> _parts;
    private readonly double _lastDay;

    private NextCheck(List<(double Weight, double Mean, double Variance, double Walk2)> parts, double lastDay, double risk, DriftEvent? since, bool priorDriven)
    {
        (_parts, _lastDay, Since, PriorDriven) = (parts, lastDay, since, priorDriven);
        if (since is not null)
            (Day, Reason) = (since.Day, NextCheckReason.EventSince);
        else if (ProbabilityWrong(lastDay) > risk)
            (Day, Reason) = (lastDay, NextCheckReason.WrongAlready);
        else
        {
            var days = 1;
            while (days < LongestDays && ProbabilityWrong(lastDay + days) <= risk)
                days++;
            (Day, Reason) = (lastDay + days, ProbabilityWrong(lastDay + days) > risk ? NextCheckReason.MayHaveDrifted : NextCheckReason.LongestTime);
        }
        Probability = ProbabilityWrong(Day);
    }

    /// <summary>Day on which it is due; that of the last check, or of the event, where it is due at once.</summary>
    public double Day { get; }

    /// <summary>Why.</summary>
    public NextCheckReason Reason { get; }

    /// <summary>Probability that on that day it reads wrong by more than its tolerance; what an event since the last check may have done is not in it.</summary>
    public double Probability { get; }

    /// <summary>The event since the last check, if that is the reason.</summary>
    public DriftEvent? Since { get; }

    /// <summary>Whether there are fewer than eight checks, so that the date follows from what is common more than from this method.</summary>
    public bool PriorDriven { get; }

    /// <summary>Probability that the method reads wrong by more than its tolerance on a day.</summary>
    /// <param name="day">Day on the scale of the checks, not before the last check.</param>
    /// <exception cref="ArgumentOutOfRangeException">The day lies before the last check.</exception>
    public double ProbabilityWrong(double day)
    {
        if (!(day >= _lastDay))
            throw new ArgumentOutOfRangeException(nameof(day), day, $"Day {day} lies before the last check, on day {_lastDay}.");
        var days = day - _lastDay;
        var unmoved = Math.Exp(-StepsPerDay * days);
        double sum = 0;
        foreach (var (weight, mean, variance, walk2) in _parts)
        {
            var spread = variance + walk2 * days;
            sum += weight * (unmoved * Beyond(mean, spread) + (1 - unmoved) * Beyond(mean, spread + StepVariance));
        }
        return sum;
    }

    /// <summary>Finds the day.</summary>
    /// <param name="history">The history, with the events since the last check.</param>
    /// <param name="risk">Probability of reading wrong that the owner accepts, between 0 and 1.</param>
    /// <param name="priors">What is taken to be so beforehand; the documented priors where null.</param>
    /// <exception cref="ArgumentOutOfRangeException">The risk is not between 0 and 1.</exception>
    public static NextCheck After(DriftHistory history, double risk = 0.1, DriftPriors? priors = null)
    {
        ArgumentNullException.ThrowIfNull(history);
        Require.InsideUnit(risk);
        var grid = new DriftGrid(history, priors ?? new DriftPriors(), walks: true);
        var nodes = grid.Nodes;
        var log = new double[nodes.Length];
        var mean = new double[nodes.Length];
        var variance = new double[nodes.Length];
        Parallel.For(0, nodes.Length, k =>
        {
            double[] white = new double[grid.Count], now = new double[grid.Count];
            var factor = grid.Factor(nodes[k], withLevel: true);
            factor.Whiten(grid.Y, white);
            var prior = grid.CovarianceWithNow(nodes[k], now);
            factor.Whiten(now, now);
            log[k] = -factor.HalfLogDeterminant;
            double forecast = 0, known = 0;
            for (var r = 0; r < white.Length; r++)
            {
                log[k] -= 0.5 * white[r] * white[r];
                forecast += now[r] * white[r];
                known += now[r] * now[r];
            }
            (mean[k], variance[k]) = (forecast, Math.Max(0, prior - known));
        });
        var last = history.Checks[^1].Day;
        // a lot whose step was measured on one water since the last check is not waited for: its step is known
        var measured = Enumerable.Range(0, history.Changeovers.Count)
            .Where(i => history.Changeovers[i].Day > last && history.Changeovers[i].From.ToHashSet(StringComparer.Ordinal).SetEquals(history.Checks[^1].Lots)).Select(i => (int?)i).LastOrDefault();
        if (measured is { } step)
        {
            for (var k = 0; k < nodes.Length; k++)
                (mean[k], variance[k]) = (mean[k] + grid.Steps[step], variance[k] + grid.StepVariance(nodes[k], step));
        }
        bool Known(DriftEvent e) => measured is { } i && e is { Kind: DriftEventKind.LotOpened, Lots.Count: > 0 } && e.Lots.All(history.Changeovers[i].To.Contains);
        var weights = grid.Weights(log);
        var parts = Enumerable.Range(0, nodes.Length).Where(k => weights[k] > 1e-7).Select(k => (weights[k], mean[k], variance[k], nodes[k].Walk * nodes[k].Walk)).ToList();
        // a bottle of the same lot is not waited for; a service is
        var since = history.Events.FirstOrDefault(e => e.Day > last && e.Kind != DriftEventKind.BottleOpened && !Known(e));
        return new NextCheck(parts, last, risk, since, history.Checks.Count < Seasoned);
    }

    private static double Beyond(double mean, double variance)
    {
        var sd = Math.Sqrt(Math.Max(variance, 1e-18));
        return Normal.Cdf((-1 - mean) / sd) + Normal.Cdf((mean - 1) / sd);
    }
}
