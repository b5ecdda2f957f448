using Knownwater.Drift;
using Knownwater.Figures;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Statistics;

namespace Knownwater.Records.Drift;

/// <summary>What the course of a method says, in words. Amounts are those at the middle of its levels.</summary>
internal sealed class CourseReading
{
    private const double Two = 1.959963984540054;

    private readonly MethodCourse _course;
    private readonly BenchSetting _bench;
    private readonly double _scale, _checksPerYear;

    public CourseReading(MethodCourse course, BenchSetting bench, double checksPerYear)
    {
        (_course, _bench, _checksPerYear) = (course, bench, checksPerYear);
        History = course.History!;
        (Model, Change, Settled, Next) = CourseFit.Of(History, bench.Watch.Risk);
        _scale = History.Tolerance.At(Model.MiddleLevel);
        Chart = AlarmFor(Model, bench, checksPerYear);
        Alarms = Chart.Read(Model.Forecasts);
        var found = CourseFinding.Of(History, Change, Settled.CombinedBias);
        (Moved, Passed) = (found.Moved, found.Passed);
    }

    /// <summary>The chart that raises alarms, for the forecasts of a model.</summary>
    public static AlarmChart AlarmFor(DriftModel model, BenchSetting bench, double checksPerYear) =>
        AlarmChart.For(bench.Watch.AlarmsAmong(checksPerYear), checksPerYear, model.Forecasts);

    public DriftHistory History { get; }

    public DriftModel Model { get; }

    /// <summary>The model beside what has moved, so that a step or a drift is no scatter.</summary>
    public DriftModel Settled { get; }

    public ChangePoint Change { get; }

    public NextCheck Next { get; }

    public AlarmChart Chart { get; }

    public IReadOnlyList<AlarmPoint> Alarms { get; }

    /// <summary>What has moved and stays so; null where nothing has.</summary>
    private Movement? Moved { get; }

    /// <summary>The two events between which it read otherwise, of the last fault that came and went; null where there is none.</summary>
    private PassedFault? Passed { get; }

    /// <summary>From tolerances to the unit of the method, at its middle level.</summary>
    public double Scale => _scale;

    public FigureTone Tone => Moved is { } moved ? moved.Size > 0 ? FigureTone.High : FigureTone.Low : FigureTone.Plain;

    public string Sentence
    {
        get
        {
            if (History.Checks.Count < CourseFinding.FewestChecks)
                return $"{Words.Capital(Words.Count(History.Checks.Count))} {(History.Checks.Count == 1 ? "check" : "checks")} so far; a course shows from three on.";
            if (Moved is { } moved)
                return moved.Kind == CourseKind.Step ? $"Reads {Higher(moved.Size)} {Since(moved)}." : $"Drifts {(moved.Size > 0 ? "up" : "down")} {Since(moved)}.";
            if (Passed is var (came, went))
            {
                var amount = $"{NumberWords.Plain(Math.Abs(came.Step) * _scale, 2, _bench.Sign)}{Words.NoBreak}{_course.Measured.Form.UnitDisplay} {Higher(came.Step)}";
                return came.Event.Kind == DriftEventKind.LotOpened && went.Event.Kind == DriftEventKind.LotOpened
                    ? $"{Words.Capital(came.Event.Label)} read {amount}; the lot after it does not."
                    : $"From {came.Event.Label} on {Day(came.Event.Day)} to {went.Event.Label} on {Day(went.Event.Day)} it read {amount}; now it does not.";
            }
            return Alarms.LastOrDefault(a => a.Alarm) switch
            {
                null => "Holds steady.",
                { } alarm when alarm.Check >= History.Checks.Count - CourseFinding.FewestChecks => $"Something moved: the check of {Day(alarm.Day)} fell far from what was foretold.",
                _ => "Holds steady now; it did not always.",
            };
        }
    }

    public string Detail
    {
        get
        {
            if (History.Checks.Count < CourseFinding.FewestChecks)
                return "";
            if (Moved is { } moved)
                return $"{By(moved.Size, moved.Interval, moved.Kind)}. {When(moved)}";
            var told = Passed is var (came, went) ? $"{By(came.Step, came.Interval, CourseKind.Step)}, from {Day(came.Event.Day)} to {Day(went.Event.Day)}. " : "";
            var alarms = Alarms.Where(a => a.Alarm && !(Passed is var (from, to) && a.Day >= from.Event.Day && a.Day <= to.Between.High)).Select(a => Day(a.Day)).ToList();
            return $"{told}{Whole}{(alarms.Count == 0 ? "" : $" Far from what was foretold fell the {(alarms.Count == 1 ? "check" : "checks")} of {Words.List(alarms)}.")}".Trim();
        }
    }

    private static string Higher(double size) => size > 0 ? "higher" : "lower";

    /// <summary>“By 2.5 ± 0.4 mg/L at 10 mg/L, and that matters”.</summary>
    private string By(double size, Interval interval, CourseKind kind)
    {
        var matters = kind != CourseKind.Step ? "" : Math.Min(Math.Abs(interval.Low), Math.Abs(interval.High)) > 1 && interval.Low * interval.High > 0 ? ", and that matters" : Math.Max(Math.Abs(interval.Low), Math.Abs(interval.High)) < 1 ? ", which is less than your tolerance" : "";
        var pace = kind == CourseKind.Drift ? " in thirty days" : "";
        return $"By {Amount(Math.Abs(size), HalfOf(interval))}{pace} at {Level}{matters}";
    }

    /// <summary>What explains an alarm at a check: the latest clear step before it, if that went the same way. “lot N-13 on 31 July”; empty where nothing does.</summary>
    public string Explains(AlarmPoint alarm) =>
        Change.Events.LastOrDefault(e => e.IsClear && e.Event.Day <= alarm.Day) is { } step && Math.Sign(step.Step) == Math.Sign(alarm.Average)
            ? $"{step.Event.Label} on {Words.DayAndYear(MethodCourse.On(step.Event.Day, _bench))}" : "";

    /// <summary>“It reads 0.10 ± 0.20 mg/L high on the whole, within your tolerance.”</summary>
    public string Whole
    {
        get
        {
            var combined = Settled.CombinedBias;
            var (value, half) = (combined.Value, HalfOf(combined.Interval));
            var where = combined.Interval.Low > -1 && combined.Interval.High < 1 ? "within your tolerance" : combined.Interval.Low > 1 || combined.Interval.High < -1 ? "beyond your tolerance" : "which may or may not be within your tolerance";
            var since = Moved switch
            {
                { Kind: CourseKind.Drift } => "Now",
                { Cause: null } moved => $"Since about {Day(moved.Likeliest)}",
                _ => Change.Events.LastOrDefault(e => e.IsClear) is { } step ? $"Since {step.Event.Label}" : "On the whole",
            };
            return $"{since} it reads {Amount(Math.Abs(value), half)} {(value < 0 ? "low" : "high")} at {Level}, {where}.";
        }
    }

    public IReadOnlyList<string> WhatToDo
    {
        get
        {
            if (Moved is not { } moved)
                return Passed is ({ Event: { Kind: DriftEventKind.LotOpened } lot }, _) ? [$"Put away what is left of {lot.Label}. Where it must be used, run the same water on it and on the present lot first."] : [];
            List<string> all = [];
            if (moved.Cause is { Event.Kind: DriftEventKind.LotOpened })
                all.Add("Run the same water on the former bottle and on this one, if some of the former is left; else on a bottle of another lot. It tells whether the lot is to blame.");
            else if (moved.Cause is not null)
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

    public DriftOnset? Onset => Moved is { } moved
        ? new DriftOnset(moved.Onset.Low, moved.Onset.High, moved.Cause is { } cause ? $"since {Day(cause.Event.Day)}" : $"since about {Day(moved.Likeliest)}", Tone)
        : Passed is var (came, went) ? new DriftOnset(came.Between.Low, went.Between.High, $"{Day(came.Event.Day)} to {Day(went.Event.Day)}", came.Step > 0 ? FigureTone.High : FigureTone.Low) : null;

    public static double HalfOf(Interval interval) => (interval.High - interval.Low) / 2;

    public static double Half(double u) => Two * u;

    private string Since(Movement moved) => moved.Cause switch
    {
        { Event.Kind: DriftEventKind.LotOpened } cause => $"since {cause.Event.Label} was opened on {Day(cause.Event.Day)}{Also(cause)}",
        { } cause => $"since {cause.Event.Label} was set on {Day(cause.Event.Day)}{Also(cause)}",
        _ => $"since about {Day(moved.Likeliest)}",
    };

    private static string Also(EventStep cause) => cause.Together.Count == 0 ? "" : $" (or {Words.List([.. cause.Together.Select(e => e.Label)])}, between the same two checks)";

    private string When(Movement moved)
    {
        var (from, to) = (Day(moved.Onset.Low), Day(moved.Onset.High));
        return moved.Cause is not null ? $"It began between the checks of {from} and {to}." : from == to ? $"It began on {from}." : $"It began between {from} and {to} (95{Words.Narrow}%).";
    }
}
