using Knownwater.Drift;
using Knownwater.Figures;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Statistics;

namespace Knownwater.Records.Drift;

/// <summary>What the course of a method says, in words. Amounts are those at the middle of its levels.</summary>
internal sealed class CourseReading
{
    private const int FewestForACourse = 3;
    private const double Clear = 0.05, Two = 1.959963984540054;

    private readonly MethodCourse _course;
    private readonly BenchSetting _bench;
    private readonly double _scale, _checksPerYear;

    public CourseReading(MethodCourse course, BenchSetting bench, double checksPerYear)
    {
        (_course, _bench, _checksPerYear) = (course, bench, checksPerYear);
        History = course.History!;
        Model = DriftModel.Fit(History);
        _scale = History.Tolerance.At(Model.MiddleLevel);
        Change = ChangePoint.Find(History);
        Next = NextCheck.After(History, bench.Watch.Risk);
        var sds = Model.Forecasts.Select(f => f.Sd).Order().ToList();
        Chart = AlarmChart.For(bench.Watch.AlarmsAmong(checksPerYear), checksPerYear, sds[sds.Count / 2]);
        Alarms = Chart.Read(Model.Forecasts);
        Cause = Change.Kind == CourseKind.Step
            ? Change.Events.Where(e => e.CorrectedP < Clear && Change.Onset is { } onset && e.Event.Day >= onset.Low && e.Event.Day <= onset.High).MinBy(e => e.P)
            : null;
    }

    public DriftHistory History { get; }

    public DriftModel Model { get; }

    public ChangePoint Change { get; }

    public NextCheck Next { get; }

    public AlarmChart Chart { get; }

    public IReadOnlyList<AlarmPoint> Alarms { get; }

    /// <summary>The event that the step goes with; null where there is none.</summary>
    public EventStep? Cause { get; }

    /// <summary>From tolerances to the unit of the method, at its middle level.</summary>
    public double Scale => _scale;

    private bool HasChanged => History.Checks.Count >= FewestForACourse && Change.Kind != CourseKind.Steady && Change is { Size: not null, Onset: not null };

    public FigureTone Tone => HasChanged ? Change.Size > 0 ? FigureTone.High : FigureTone.Low : FigureTone.Plain;

    public string Sentence
    {
        get
        {
            if (History.Checks.Count < FewestForACourse)
                return $"{Words.Capital(Words.Count(History.Checks.Count))} {(History.Checks.Count == 1 ? "check" : "checks")} so far; a course shows from three on.";
            if (HasChanged)
                return Change.Kind == CourseKind.Step ? $"Reads {(Change.Size > 0 ? "higher" : "lower")} {Since}." : $"Drifts {(Change.Size > 0 ? "up" : "down")} {Since}.";
            return Alarms.LastOrDefault(a => a.Alarm) switch
            {
                null => "Holds steady.",
                { } alarm when alarm.Check >= History.Checks.Count - FewestForACourse => $"Something moved: the check of {Day(alarm.Day)} fell far from what was foretold.",
                _ => "Holds steady now; it did not always.",
            };
        }
    }

    public string Detail
    {
        get
        {
            if (HasChanged)
            {
                var (size, interval) = (Change.Size!.Value, Change.SizeInterval!.Value);
                var matters = Change.Kind != CourseKind.Step ? "" : Math.Min(Math.Abs(interval.Low), Math.Abs(interval.High)) > 1 && interval.Low * interval.High > 0 ? ", and that matters" : Math.Max(Math.Abs(interval.Low), Math.Abs(interval.High)) < 1 ? ", which is less than your tolerance" : "";
                var pace = Change.Kind == CourseKind.Drift ? " in thirty days" : "";
                return $"By {Amount(Math.Abs(size), HalfOf(interval))}{pace} at {Level}{matters}. {When}";
            }
            if (History.Checks.Count < FewestForACourse)
                return "";
            var alarms = Alarms.Where(a => a.Alarm).Select(a => Day(a.Day)).ToList();
            return alarms.Count == 0 ? Whole : $"{Whole} Far from what was foretold fell the {(alarms.Count == 1 ? "check" : "checks")} of {Words.List(alarms)}.";
        }
    }

    /// <summary>“It reads 0.10 ± 0.20 mg/L high on the whole, within your tolerance.”</summary>
    public string Whole
    {
        get
        {
            var combined = Model.CombinedBias;
            var (value, half) = (combined.Value, HalfOf(combined.Interval));
            var where = combined.Interval.Low > -1 && combined.Interval.High < 1 ? "within your tolerance" : combined.Interval.Low > 1 || combined.Interval.High < -1 ? "beyond your tolerance" : "which may or may not be within your tolerance";
            return $"On the whole it reads {Amount(Math.Abs(value), half)} {(value < 0 ? "low" : "high")} at {Level}, {where}.";
        }
    }

    public IReadOnlyList<string> WhatToDo
    {
        get
        {
            if (!HasChanged)
                return [];
            List<string> all = [];
            if (Cause is { Event.Kind: DriftEventKind.LotOpened })
                all.Add("Run the same water on the former bottle and on this one, if some of the former is left; else on a bottle of another lot. It tells whether the lot is to blame.");
            else if (Cause is not null)
                all.Add("Look at what was changed then, and set it back if it was not meant to be so. Then check again.");
            else
                all.Add("Check with water from a second stock. It tells whether the method moved or the stock.");
            all.Add("Hold the last proven rate and make no correction on its readings until a check passes.");
            return all;
        }
    }

    /// <summary>When to check again, and why.</summary>
    public NextWords NextCheckWords => new(Next.Reason, Next.Day, Next.Probability, Next.Since?.Kind, Next.Since?.Label ?? "", Next.PriorDriven, _bench);

    public string Level => $"{NumberWords.Plain(Model.MiddleLevel, 3, _bench.Sign)}{Words.NoBreak}{_course.Measured.Form.UnitDisplay}";

    public string Day(double day) => Words.Day(MethodCourse.On(day, _bench), _bench.Today);

    /// <summary>“2.5 ± 0.4 mg/L”, from tolerances.</summary>
    public string Amount(double value, double half) => $"{Bare(value, half)}{Words.NoBreak}{_course.Measured.Form.UnitDisplay}";

    public string Bare(double value, double half) => half > 0 && NumberWords.WithDoubt(value * _scale, half * _scale, _bench.Sign) is var (shown, doubt)
        ? $"{shown}{Words.NoBreak}±{Words.NoBreak}{doubt}" : NumberWords.Plain(value * _scale, 2, _bench.Sign);

    /// <summary>“−2.5 ± 0.4”, from tolerances.</summary>
    public string Signed(double value, double half) => half > 0
        ? $"{NumberWords.Signed(value * _scale, half * _scale, _bench.Sign)}{Words.NoBreak}±{Words.NoBreak}{NumberWords.WithDoubt(value * _scale, half * _scale, _bench.Sign).Doubt}"
        : NumberWords.Signed(value * _scale, Math.Max(Math.Abs(value * _scale) / 10, 1e-6), _bench.Sign);

    /// <summary>“one false alarm a year”; where there are too few checks for that, so many as the chart allows.</summary>
    public string AlarmWords => Chart.InControlRunLength > _checksPerYear / _bench.Watch.FalseAlarmsPerYear * 1.000001
        ? new DriftWatch(_checksPerYear / Chart.InControlRunLength, 0).AlarmWords(_bench.Sign) : _bench.Watch.AlarmWords(_bench.Sign);

    public DriftOnset? Onset => HasChanged ? new DriftOnset(Change.Onset!.Value.Low, Change.Onset.Value.High, Cause is { } cause ? $"since {Day(cause.Event.Day)}" : $"since about {Day(Change.LikeliestOnset!.Value)}", Tone) : null;

    public static double HalfOf(Interval interval) => (interval.High - interval.Low) / 2;

    public static double Half(double u) => Two * u;

    private string Since => Cause switch
    {
        { Event.Kind: DriftEventKind.LotOpened } cause => $"since {cause.Event.Label} was opened on {Day(cause.Event.Day)}{Also(cause)}",
        { } cause => $"since {cause.Event.Label} was set on {Day(cause.Event.Day)}{Also(cause)}",
        _ => $"since about {Day(Change.LikeliestOnset!.Value)}",
    };

    private static string Also(EventStep cause) => cause.Together.Count == 0 ? "" : $" (or {Words.List([.. cause.Together.Select(e => e.Label)])}, between the same two checks)";

    private string When
    {
        get
        {
            var (from, to) = (Day(Change.Onset!.Value.Low), Day(Change.Onset.Value.High));
            return from == to ? $"It began on {from}." : $"It began between {from} and {to} (95{Words.Narrow}%).";
        }
    }
}
