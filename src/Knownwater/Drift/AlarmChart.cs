using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>The one chart of a method that may raise an alarm: the moving average of its forecast errors, at the bench's budget of false alarms.</summary>
/// <remarks>
/// <para>The budget is parted over the checks: each check of any method has the same chance of a false alarm, so a method checked often has more of them. All charts of a bench then have one average run length in control,
/// checks a year of all methods together over false alarms a year, and each method's share of the budget is its share of the checks.</para>
/// <para>The weight of the newest point is the one that finds a bias of one tolerance soonest, by computed run lengths in steady state with the forecast's standard deviation as known. Weights from 0.1 to 0.5 are tried: with less,
/// the forecasts have taken the shift up before the average shows it; with more, single outlying checks raise it. Limits vary with time, so that the first checks count fully. After an alarm the average starts from zero.</para>
/// </remarks>
public sealed class AlarmChart
{
    private static readonly double[] Weights = [0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5];

    private AlarmChart(EwmaChart chart, double inControl, double checksToKnow) => (Chart, InControlRunLength, ChecksToKnow) = (chart, inControl, checksToKnow);

    /// <summary>Weight and limits, in standard deviations of a forecast error.</summary>
    public EwmaChart Chart { get; }

    /// <summary>Average number of checks from one false alarm to the next.</summary>
    public double InControlRunLength { get; }

    /// <summary>Average number of checks from the day on which the method begins to read wrong by its tolerance to the alarm, where the level before it is well known. After few checks it takes longer.</summary>
    public double ChecksToKnow { get; }

    /// <summary>Designs the chart.</summary>
    /// <param name="falseAlarmsPerYear">How often the charts of all methods together may cry wolf in a year; above zero.</param>
    /// <param name="checksPerYear">Number of checks in a year, all methods of the bench together; above the false alarms.</param>
    /// <param name="forecastSd">Standard deviation of a forecast error of this method, in tolerances; above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is out of its range.</exception>
    public static AlarmChart For(double falseAlarmsPerYear, double checksPerYear, double forecastSd)
    {
        Require.Positive(falseAlarmsPerYear);
        Require.Positive(checksPerYear);
        Require.Positive(forecastSd);
        var inControl = checksPerYear / falseAlarmsPerYear;
        if (inControl < 5)
            throw new ArgumentOutOfRangeException(nameof(falseAlarmsPerYear), falseAlarmsPerYear, $"With {checksPerYear} checks a year, {falseAlarmsPerYear} false alarms would be more than one in five checks. Allow fewer.");
        AlarmChart? best = null;
        foreach (var weight in Weights)
        {
            var chart = EwmaChart.For(weight, inControl, timeVaryingLimits: true);
            var delay = chart.SteadyStateAverageRunLength(1 / forecastSd);
            if (best is null || delay < best.ChecksToKnow)
                best = new AlarmChart(chart, inControl, delay);
        }
        return best!;
    }

    /// <summary>Designs the chart for the forecasts that were made of a method: for the median of their standard deviations.</summary>
    /// <param name="falseAlarmsPerYear">How often the charts of all methods together may cry wolf in a year; above zero.</param>
    /// <param name="checksPerYear">Number of checks in a year, all methods of the bench together; above the false alarms.</param>
    /// <param name="forecasts">Forecast errors in tolerances, at least one.</param>
    /// <exception cref="ArgumentException">There is no forecast.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A number is out of its range.</exception>
    public static AlarmChart For(double falseAlarmsPerYear, double checksPerYear, IReadOnlyList<ForecastError> forecasts)
    {
        ArgumentNullException.ThrowIfNull(forecasts);
        if (forecasts.Count == 0)
            throw new ArgumentException("There is no forecast to design the chart for. Take those of a model of at least one check.", nameof(forecasts));
        var sds = forecasts.Select(f => f.Sd).Order().ToList();
        return For(falseAlarmsPerYear, checksPerYear, sds[sds.Count / 2]);
    }

    /// <summary>Days until a bias of one tolerance raises the alarm, on average.</summary>
    /// <param name="daysBetweenChecks">Days from one check to the next, above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">The days are not above zero.</exception>
    public double DaysToKnow(double daysBetweenChecks) => ChecksToKnow * Require.Positive(daysBetweenChecks);

    /// <summary>The longest time between checks with which a bias of one tolerance raises the alarm within so many days, on average.</summary>
    /// <param name="daysWrong">How long the method may read wrong by its tolerance before it is known, in days; above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">The days are not above zero.</exception>
    public double DaysBetweenChecks(double daysWrong) => Require.Positive(daysWrong) / ChecksToKnow;

    /// <summary>Puts the forecast errors of a method on the chart.</summary>
    /// <param name="forecasts">Forecast errors in the order of the checks.</param>
    /// <returns>One point for each check that has a score.</returns>
    public IReadOnlyList<AlarmPoint> Read(IReadOnlyList<ForecastError> forecasts)
    {
        ArgumentNullException.ThrowIfNull(forecasts);
        List<AlarmPoint> points = [];
        double average = 0;
        var count = 0;
        foreach (var forecast in forecasts)
        {
            if (forecast.Score is not { } score)
            {
                (average, count) = (0, 0);
                continue;
            }
            average += Chart.Lambda * (score - average);
            var point = new AlarmPoint(forecast.Check, forecast.Day, score, average, Chart.LimitAt(++count));
            points.Add(point);
            if (point.Alarm)
                (average, count) = (0, 0);
        }
        return points;
    }
}
