using Knownwater.Drift;

namespace Knownwater.Tests.Drift;

public class AlarmChartTests
{
    [Fact]
    public void Budget_is_parted_over_the_checks_of_all_methods()
    {
        // eight methods, a check a fortnight: 208 checks a year, one false alarm among them
        var chart = AlarmChart.For(1, 208, 0.4);
        Assert.Equal(208, chart.InControlRunLength);
        Assert.Equal(208, chart.Chart.AverageRunLength(), 1e-6);
        Assert.Equal(416, AlarmChart.For(0.5, 208, 0.4).Chart.AverageRunLength(), 1e-5);
    }

    [Theory]
    [InlineData(0.3)]
    [InlineData(0.8)]
    [InlineData(1.5)]
    public void No_other_weight_finds_a_bias_of_one_tolerance_sooner(double forecastSd)
    {
        var chart = AlarmChart.For(1, 208, forecastSd);
        Assert.Equal(chart.Chart.SteadyStateAverageRunLength(1 / forecastSd), chart.ChecksToKnow, 1e-12);
        foreach (var weight in new[] { 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5 })
            Assert.True(EwmaChart.For(weight, 208, timeVaryingLimits: true).SteadyStateAverageRunLength(1 / forecastSd) >= chart.ChecksToKnow - 1e-9);
        Assert.Equal(14 * chart.ChecksToKnow, chart.DaysToKnow(14), 1e-12);
        Assert.Equal(14, chart.DaysBetweenChecks(chart.DaysToKnow(14)), 1e-12);
    }

    [Fact]
    public void Average_starts_from_zero_after_an_alarm_and_after_what_starts_anew()
    {
        var chart = AlarmChart.For(1, 208, 0.4);
        var weight = chart.Chart.Lambda;
        double?[] scores = [null, null, 1, 9, 1, null, 1];
        var points = chart.Read([.. scores.Select((s, i) => new ForecastError(i, 14 * i, 0, 1, s))]);
        Assert.Equal([2, 3, 4, 6], points.Select(p => p.Check));
        Assert.Equal([weight, weight + weight * (9 - weight), weight, weight], points.Select(p => p.Average));
        Assert.Equal([false, true, false, false], points.Select(p => p.Alarm));
        Assert.Equal(chart.Chart.LimitAt(1), points[2].Limit);
    }

    [Fact]
    public void More_than_one_false_alarm_in_five_checks_is_refused() =>
        Assert.Contains("more than one in five", Assert.Throws<ArgumentOutOfRangeException>(() => AlarmChart.For(60, 208, 0.4)).Message, StringComparison.Ordinal);

    [Fact]
    public void Chart_for_no_forecast_is_refused() =>
        Assert.Contains("no forecast", Assert.Throws<ArgumentException>(() => AlarmChart.For(1, 208, [])).Message, StringComparison.Ordinal);
}
