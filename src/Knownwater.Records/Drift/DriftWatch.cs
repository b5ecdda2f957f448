using System.Globalization;
using Knownwater.Quantities;
using Knownwater.Records.Benches;

namespace Knownwater.Records.Drift;

/// <summary>What the owner of a bench bears: how often an alarm may be false, and how likely a method may read wrong before it is checked again.</summary>
/// <param name="FalseAlarmsPerYear">False alarms in a year, all methods together.</param>
/// <param name="Risk">Chance of reading wrong by more than the tolerance at which a check is due, 0 to 1.</param>
internal readonly record struct DriftWatch(double FalseAlarmsPerYear, double Risk)
{
    public const double FewestAlarms = 0.1, MostAlarms = 12, LeastRiskPercent = 1, GreatestRiskPercent = 50;

    /// <summary>Checks that there are at least for each false alarm: with fewer the chart would have no limits worth the name.</summary>
    private const double ChecksPerAlarm = 5;

    /// <summary>What holds until the owner says otherwise.</summary>
    private static readonly DriftWatch Usual = new(1, 0.1);

    public double RiskPercent => Math.Round(100 * Risk, 6);

    public static DriftWatch Of(Bench bench) => new(bench.FalseAlarmsPerYear ?? Usual.FalseAlarmsPerYear, bench.RiskOfWrong ?? Usual.Risk);

    /// <summary>False alarms in a year that the charts are made for: where there are few checks, at most one in five of them.</summary>
    public double AlarmsAmong(double checksPerYear) => Math.Min(FalseAlarmsPerYear, checksPerYear / ChecksPerAlarm);

    /// <summary>“one false alarm a year”, “2.5 false alarms a year”, “one false alarm in four years”.</summary>
    public string AlarmWords(DecimalSign sign)
    {
        if (FalseAlarmsPerYear < 1)
            return $"one false alarm in {Number(Math.Round(1 / FalseAlarmsPerYear, 2), sign)} years";
        return FalseAlarmsPerYear == 1 ? "one false alarm a year" : $"{Number(FalseAlarmsPerYear, sign)} false alarms a year";
    }

    /// <summary>“10 %”.</summary>
    public string RiskWords(DecimalSign sign) => $"{NumberWords.Plain(RiskPercent, 3, sign)}{Words.Narrow}%";

    private static string Number(double value, DecimalSign sign) =>
        value == Math.Floor(value) ? Words.Count((int)value) : value.ToString("0.##", CultureInfo.InvariantCulture).Replace('.', sign == DecimalSign.Comma ? ',' : '.');
}
