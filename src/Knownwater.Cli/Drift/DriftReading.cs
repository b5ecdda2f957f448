using Knownwater.Checks;
using Knownwater.Drift;
using Knownwater.Quantities;
using Knownwater.Statistics;

namespace Knownwater.Cli.Drift;

/// <summary>What the checks of a table come to: the same figures as on the page of a course. Sizes are in tolerances; amounts in words are in the unit of the values, at the middle of the levels.</summary>
internal sealed class DriftReading
{
    /// <summary>Checks for each false alarm at least: with fewer the chart would have no limits worth the name.</summary>
    private const double ChecksPerAlarm = 5;

    private const double Year = 365, FewestChecks = 6, ShortestDays = 60, SumReference = 0.5, Line = 3, AnyLevel = 1000;
    private const char NoBreak = NumberWords.NoBreakSpace;

    private readonly string _unit;
    private readonly DriftFile _file;
    private readonly Lazy<Dictionary<int, List<string>>> _signals;

    public DriftReading(DriftFile file, string unit, double falseAlarmsPerYear, double? checksPerYear, double risk)
    {
        (_file, _unit) = (file, unit);
        // without a tolerance nothing is known beforehand of how far off the method may be
        var priors = file.IsToleranceGiven ? new DriftPriors() : new DriftPriors { LevelSd = AnyLevel };
        Model = DriftModel.Fit(History, priors);
        Scale = History.Tolerance.At(Model.MiddleLevel);
        Change = ChangePoint.Find(History, priors);
        Settled = Model.Beside(Change);
        Found = CourseFinding.Of(History, Change, Settled.CombinedBias);
        Next = file.IsToleranceGiven ? NextCheck.After(History.StartingAnew(Change), risk, priors) : null;
        ChecksPerYear = checksPerYear ?? Counted();
        Chart = AlarmChart.For(Math.Min(falseAlarmsPerYear, ChecksPerYear / ChecksPerAlarm), ChecksPerYear, Model.Forecasts);
        Alarms = Chart.Read(Model.Forecasts);
        Sums = CusumChart.For(SumReference, Chart.InControlRunLength);
        _signals = new(FindSignals);
    }

    public DriftHistory History => _file.History;

    public DriftModel Model { get; }

    /// <summary>The model beside what has moved, so that a step or a drift is no scatter.</summary>
    public DriftModel Settled { get; }

    public ChangePoint Change { get; }

    public CourseFinding Found { get; }

    /// <summary>When to check next; null without a tolerance.</summary>
    public NextCheck? Next { get; }

    public double NextDay => Next?.Day ?? History.Checks[^1].Day + NextCheck.LongestDays;

    public AlarmChart Chart { get; }

    public IReadOnlyList<AlarmPoint> Alarms { get; }

    public CusumChart Sums { get; }

    public IndividualsChart Singles { get; } = new(Line);

    public MovingRangeChart Ranges { get; } = new();

    public RunRulesChart Rules { get; } = new();

    public double ChecksPerYear { get; }

    /// <summary>From tolerances to the unit of the values, at the middle level.</summary>
    public double Scale { get; }

    /// <summary>The charts that a check of the history signals on, by name.</summary>
    public IReadOnlyList<string> SignalsOf(int check) => _signals.Value.GetValueOrDefault(check) ?? [];

    /// <summary>Whether an interval lies within the tolerance (true), beyond it (false), or across; null too where no tolerance was given.</summary>
    public bool? IsWithin(Interval interval) => !_file.IsToleranceGiven ? null : interval is { Low: > -1, High: < 1 } ? true : interval.Low > 1 || interval.High < -1 ? false : null;

    /// <summary>Checks in a year, as they were run in the one before the last check.</summary>
    private double Counted()
    {
        var days = _file.Rows.DistinctBy(r => r.Check).Select(r => r.Day).ToList();
        var year = days.Where(d => d >= days[^1] - Year).ToList();
        return Math.Max(FewestChecks, year.Count * Year / Math.Max(days[^1] - year[0], ShortestDays));
    }

    private Dictionary<int, List<string>> FindSignals()
    {
        Dictionary<int, List<string>> found = [];
        void Add(int check, bool signals, string chart)
        {
            if (!signals)
                return;
            if (!found.TryGetValue(check, out var all))
                found[check] = all = [];
            all.Add(chart);
        }
        foreach (var point in Alarms)
            Add(point.Check, point.Alarm, "ewma");
        var scored = Model.Forecasts.Where(f => f.Score is not null).ToList();
        double[] scores = [.. scored.Select(f => f.Score!.Value)];
        if (scores.Length > 0)
        {
            var (sums, rules, ranges) = (Sums.Sums(scores), Rules.Signals(scores), MovingRangeChart.Ranges(scores));
            for (var i = 0; i < scores.Length; i++)
            {
                var check = scored[i].Check;
                Add(check, Math.Abs(scores[i]) > Singles.Width, "individuals");
                Add(check, i > 0 && ranges[i - 1] > Ranges.Range, "moving_range");
                Add(check, sums[i].Upper > Sums.H || sums[i].Lower > Sums.H, "cusum");
                Add(check, rules[i].HasFlag(RunRules.TwoOfThreeBeyondTwo), "two_of_three");
                Add(check, rules[i].HasFlag(RunRules.FourOfFiveBeyondOne), "four_of_five");
                Add(check, rules[i].HasFlag(RunRules.EightOnOneSide), "eight_on_one_side");
            }
        }
        foreach (var scatter in CheckScatter.Of(Model))
            Add(scatter.Check, scatter.Signals, "sd");
        return found;
    }

    public string Sentence
    {
        get
        {
            var checks = History.Checks.Count;
            if (checks < CourseFinding.FewestChecks)
                return $"{Capital(VerdictWords.Count(checks))} {(checks == 1 ? "check" : "checks")} so far; a course shows from three on.";
            if (Found.Moved is { } moved)
            {
                var amount = Amount(Math.Abs(moved.Size), Half(moved.Interval));
                var since = moved.Cause is { } cause ? $"{cause.Event.Label}{Also(cause)}, {Day(cause.Event.Day)}" : $"about {Day(moved.Likeliest)}";
                return moved.Kind == CourseKind.Step ? $"Reads {amount} {Higher(moved.Size)} since {since}." : $"Drifts {(moved.Size > 0 ? "up" : "down")} by {amount} in thirty days since {since}.";
            }
            if (Found.Passed is var (came, _))
                return $"{Capital(came.Event.Label)} read {Amount(Math.Abs(came.Step), Half(came.Interval))} {Higher(came.Step)}; the lot after it does not.";
            return Alarms.LastOrDefault(a => a.Alarm) switch
            {
                null => "Holds steady.",
                { } alarm when alarm.Check >= checks - CourseFinding.FewestChecks => $"Something moved: the check of {Day(alarm.Day)} fell far from what was foretold.",
                _ => "Holds steady now; it did not always.",
            };
        }
    }

    /// <summary>“Since lot N-14 it reads 0.10 ± 0.20 mg/L high at 10 mg/L, within your tolerance.”</summary>
    public string Whole
    {
        get
        {
            var combined = Settled.CombinedBias;
            var where = !_file.IsToleranceGiven ? "" : IsWithin(combined.Interval) switch { true => ", within your tolerance", false => ", beyond your tolerance", _ => ", which may or may not be within your tolerance" };
            var since = Found.Moved switch
            {
                { Kind: CourseKind.Drift } => "Now",
                { Cause: null } moved => $"Since about {Day(moved.Likeliest)}",
                _ => Change.Events.LastOrDefault(e => e.IsClear) is { } step ? $"Since {step.Event.Label}" : "On the whole",
            };
            return $"{since} it reads {Amount(Math.Abs(combined.Value), Half(combined.Interval))} {(combined.Value < 0 ? "low" : "high")} at {Plain(Model.MiddleLevel, 3)}{where}.";
        }
    }

    /// <summary>When to check next, and why.</summary>
    public string NextWords
    {
        get
        {
            var day = Day(NextDay);
            if (Next is null)
                return $"By {day}, the longest time without a check. Give --tolerance to hear whether it is due sooner.";
            var chance = Next.Probability > 0.995 ? $"more than 99{NumberWords.NarrowSpace}%" : Next.Probability < 0.005 ? $"less than 1{NumberWords.NarrowSpace}%" : $"{NumberWords.Plain(Math.Round(100 * Next.Probability), 2, DecimalSign.Point)}{NumberWords.NarrowSpace}%";
            var because = Next.Reason switch
            {
                NextCheckReason.WrongAlready => $"Now: the chance that it reads wrong by more than your tolerance is {chance} already.",
                NextCheckReason.MayHaveDrifted => $"By {day}: by then the chance that it reads wrong by more than your tolerance reaches {chance}.",
                _ => $"By {day}, the longest time without a check. The chance that it reads wrong by more than your tolerance is {chance} then.",
            };
            return because + (Next.PriorDriven ? " Until eight checks this follows from what is common more than from this method." : "");
        }
    }

    public string Day(double day) => _file.Times.Words(day);

    /// <summary>“2.5 ± 0.4 mg/L”, from tolerances.</summary>
    public string Amount(double value, double half) => half > 0 && NumberWords.WithDoubt(value * Scale, half * Scale, DecimalSign.Point) is var (shown, doubt)
        ? $"{shown}{NoBreak}±{NoBreak}{doubt}{Unit}" : Plain(value * Scale, 2);

    /// <summary>“−2.5 ± 0.4 mg/L”, from tolerances.</summary>
    public string Signed(double value, Interval interval) =>
        $"{NumberWords.Signed(value * Scale, Half(interval) * Scale, DecimalSign.Point)}{NoBreak}±{NoBreak}{NumberWords.WithDoubt(value * Scale, Half(interval) * Scale, DecimalSign.Point).Doubt}{Unit}";

    /// <summary>“0.21 mg/L”, in the unit of the values.</summary>
    public string Plain(double value, int digits) => NumberWords.Plain(value, digits, DecimalSign.Point) + Unit;

    public static double Half(Interval interval) => (interval.High - interval.Low) / 2;

    private string Unit => _unit.Length == 0 ? "" : NoBreak + _unit;

    private static string Higher(double size) => size > 0 ? "higher" : "lower";

    private static string Also(EventStep cause) => cause.Together.Count == 0 ? "" : $" (or {string.Join(", ", cause.Together.Select(e => e.Label))}, between the same two checks)";

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}
