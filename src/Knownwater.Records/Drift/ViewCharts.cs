using System.Globalization;
using Knownwater.Drift;
using Knownwater.Figures;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Drift;

/// <summary>Shows the checks of a method on the charts that illustrate its course. None of them raises an alarm.</summary>
/// <remarks>All but the one of standard deviations take the scores of the alarm chart: how far a check fell from what the checks before it foretold. They start themselves: no standard deviation has to be known beforehand.</remarks>
public sealed class ViewCharts(RecordsContext records, Clock clock)
{
    /// <summary>Reference value of the sums: half of a shift by one standard deviation.</summary>
    private const double Reference = 0.5;

    private const int FewestPoints = 2;
    private const double Line = 3;

    // these two depend on nothing
    private static readonly Lazy<double> RangesRun = new(() => new MovingRangeChart().AverageRunLength()), RulesRun = new(() => new RunRulesChart().AverageRunLength());

    /// <summary>Looks at a method.</summary>
    /// <param name="method">The method.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>Its charts; null where this bench has no such method.</returns>
    public async Task<ChartsView?> Handle(Guid method, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        if (await MethodCourse.Read(records, bench, method, cancel) is not { } course)
            return null;
        if (course.History is null)
            return new ChartsView(method, course.Title, []);
        var model = CourseFit.Of(course.History, bench.Watch.Risk).Model;
        var scored = model.Forecasts.Where(f => f.Score is not null).ToList();
        if (scored.Count < FewestPoints)
            return new ChartsView(method, course.Title, []);
        var alarm = CourseReading.AlarmFor(model, bench, await ViewDrift.ChecksPerYear(records, bench, cancel));
        var looks = new Looks(course, model, alarm, bench, scored);
        return new ChartsView(method, course.Title, [looks.Individuals(), looks.Ranges(), looks.Means(), .. looks.Sds(), looks.Sums(), looks.Rules()]);
    }

    /// <summary>The charts of one course.</summary>
    private sealed class Looks(MethodCourse course, DriftModel model, AlarmChart alarm, BenchSetting bench, IReadOnlyList<ForecastError> scored)
    {
        private const string Scores = "Its points are the scores of the alarm: how far each check fell from what the checks before it foretold, in standard deviations of that forecast.";
        private readonly double _scale = course.History!.Tolerance.At(model.MiddleLevel);
        private readonly double[] _scores = [.. scored.Select(f => f.Score!.Value)];
        private readonly IReadOnlyList<DriftTick> _ticks = ViewDrift.Months(MethodCourse.On(course.History!.Checks[0].Day, bench), MethodCourse.On(course.History.Checks[^1].Day, bench), bench);

        public ChartLook Individuals() => new("single", "Single checks", Scores,
            "Limits at 3 below and above: three standard deviations, as is usual.",
            Run(new IndividualsChart(Line).AverageRunLength()), Finds(_scores.Count(z => Math.Abs(z) > Line)),
            Figure("Score of each check", scored.Select((f, i) => Point(f.Check, _scores[i], Beyond(_scores[i], -Line, Line))), Zero, Limits(Line)));

        public ChartLook Ranges()
        {
            var (ranges, limit) = (MovingRangeChart.Ranges(_scores), MovingRangeChart.UsualRange);
            var mean = 2 / Math.Sqrt(Math.PI);
            return new("ranges", "From one check to the next", "Its points are the distances between two neighbouring scores, without sign.",
                $"Limit at {Plain(limit, 3)}: mean and three standard deviations of the range of two (d₂ + 3 d₃). What it goes with is the chart of single checks above.",
                $"The two together: {Small(Run(RangesRun.Value))}", Finds(ranges.Count(r => r > limit)),
                Figure("Distance of each score from the one before", ranges.Select((r, i) => Point(scored[i + 1].Check, r, Beyond(r, double.NegativeInfinity, limit), signed: false)),
                    new ChartLine(mean, Plain(mean, 3), false), [new ChartLine(limit, Plain(limit, 3), true)]));
        }

        public ChartLook Means()
        {
            var unit = Words.NoBreak + course.Measured.Form.UnitDisplay;
            return new("means", "Mean of each check", $"Its points are the biases of the checks less what was foretold, in {course.Measured.Form.Display} at {Level}: the mean of the readings, over the levels where there are several.",
                "Each check has its own limits, three standard deviations of its forecast: scatter within and between checks, its known water, and what the checks before it left open. They narrow as the scatter is learnt, and widen after a step.",
                $"{Run(new IndividualsChart(Line).AverageRunLength())} That holds once the scatter is known; while it is learnt the tails are longer, and this chart signals somewhat more often than the scores do.",
                Finds(scored.Count(f => Math.Abs(f.Error) > Line * f.Sd)),
                Figure("Each check less what was foretold", scored.Select(f =>
                    Point(f.Check, f.Error * _scale, Beyond(f.Error, -Line * f.Sd, Line * f.Sd), unit: unit) with { Low = -Line * f.Sd * _scale, High = Line * f.Sd * _scale }), Zero, []));
        }

        /// <summary>The chart of standard deviations; none where every check has single readings.</summary>
        public IEnumerable<ChartLook> Sds()
        {
            var found = CheckScatter.Of(model);
            if (found.Count < FewestPoints)
                yield break;
            var run = 1 / found.Average(f => 1 / f.Chart.AverageRunLength());
            yield return new("scatter", "Scatter within each check", $"Its points are the standard deviations of the readings of each check by the usual one of this method, levels together. The usual one comes from all checks shown, {Plain(model.Components.WithinAt(model.MiddleLevel).Value, 2)}{Words.NoBreak}{course.Measured.Form.UnitDisplay} at {Level}, and from what is typical while there are few.",
                "Each check has its own limits after the number of its readings: mean and three standard deviations of that ratio (B₅, B₆).",
                $"{Run(run)} That takes the usual scatter as known.", Finds(found.Count(f => f.Signals)),
                Figure("Scatter of each check by the usual one", found.Select(f => Point(f.Check, f.Ratio, Beyond(f.Ratio, f.Chart.Lower, f.Chart.Upper), signed: false) with { Low = f.Chart.Lower, High = f.Chart.Upper }), new ChartLine(1, "1", false), []));
        }

        public ChartLook Sums()
        {
            var chart = CusumChart.For(Reference, alarm.InControlRunLength);
            var sums = chart.Sums(_scores);
            IEnumerable<ChartPoint> Side(Func<(double Upper, double Lower), double> sum) => sums.Select((s, i) => Point(scored[i].Check, sum(s), Beyond(sum(s), -chart.H, chart.H)));
            return new("sums", "Sums of what is left over", $"{Scores} What exceeds {Plain(Reference, 2)} is added up, above and below apart; a sum never falls below zero. The lower one is drawn downwards.",
                $"Limits at {Plain(chart.H, 3)}. They are set so that it signals as seldom as the alarm of the drift page. After a signal the sum goes on.",
                Run(chart.AverageRunLength()), Finds(sums.Count(s => s.Upper > chart.H || s.Lower > chart.H)),
                Figure("Sum of scores above and below", Side(s => s.Upper), Zero, Limits(chart.H)) with { SecondPoints = [.. Side(s => -s.Lower)] });
        }

        public ChartLook Rules()
        {
            var broken = new RunRulesChart().Signals(_scores);
            return new("rules", "Rules of runs", Scores,
                "A check signals beyond 3; as the second of three beyond 2 on one side; as the fourth of five beyond 1 on one side; as the eighth in a row on one side.",
                $"{Run(RulesRun.Value)} Many rules cry wolf often.", Finds(broken.Count(b => b != RunRules.None)),
                Figure("Score of each check", scored.Select((f, i) => Point(f.Check, _scores[i], (Tone(broken[i] != RunRules.None, _scores[i]), Rules(broken[i])))), Zero,
                    [.. Limits(Line), new(2, "+2", false), new(-2, "\u22122", false), new(1, "+1", false), new(-1, "\u22121", false)]));
        }

        private string Level => $"{Plain(model.MiddleLevel, 3)}{Words.NoBreak}{course.Measured.Form.UnitDisplay}";

        private static ChartLine Zero => new(0, "0", false);

        private ChartLine[] Limits(double at) => [new(at, "+" + Plain(at, 3), true), new(-at, "\u2212" + Plain(at, 3), true)];

        private ChartFigure Figure(string what, IEnumerable<ChartPoint> points, ChartLine centre, IReadOnlyList<ChartLine> lines) =>
            new() { What = what, Points = [.. points], Centre = centre, Lines = lines, Ticks = _ticks };

        private ChartPoint Point(int check, double value, (FigureTone Tone, string Note) beyond, string unit = "", bool signed = true)
        {
            var row = course.Checks[check].Check;
            var shown = value.ToString(unit.Length > 0 ? "G2" : "F2", CultureInfo.InvariantCulture);
            var words = unit.Length > 0 ? NumberWords.Plain(Math.Abs(value), 2, bench.Sign) : NumberWords.Fixed(Math.Abs(value), 2, bench.Sign);
            return new ChartPoint(course.History!.Checks[check].Day, Words.Day(bench.DayOf(row.StartedAt), bench.Today), value, (!signed || double.Parse(shown, CultureInfo.InvariantCulture) == 0 ? "" : value > 0 ? "+" : "\u2212") + words + unit, $"/checks/{row.Id}")
            {
                Signal = beyond.Tone,
                Note = beyond.Note,
            };
        }

        private static (FigureTone, string) Beyond(double value, double low, double high) =>
            value > high ? (FigureTone.High, "beyond the upper limit") : value < low ? (FigureTone.Low, "beyond the lower limit") : (FigureTone.Plain, "");

        private static FigureTone Tone(bool signals, double value) => !signals ? FigureTone.Plain : value > 0 ? FigureTone.High : FigureTone.Low;

        private static string Rules(RunRules broken)
        {
            List<string> all = [];
            if (broken.HasFlag(RunRules.OneBeyondThree))
                all.Add("beyond 3");
            if (broken.HasFlag(RunRules.TwoOfThreeBeyondTwo))
                all.Add("second of three beyond 2");
            if (broken.HasFlag(RunRules.FourOfFiveBeyondOne))
                all.Add("fourth of five beyond 1");
            if (broken.HasFlag(RunRules.EightOnOneSide))
                all.Add("eighth on one side");
            return string.Join("; ", all);
        }

        private string Run(double length) => $"Where nothing has changed it signals once in about {NumberWords.Fixed(length, 0, bench.Sign)} checks.";

        private static string Small(string words) => char.ToLowerInvariant(words[0]) + words[1..];

        private static string Finds(int signals) => signals switch
        {
            0 => "Here it finds nothing.",
            1 => "Here one check lies beyond.",
            _ => $"Here {Words.Count(signals)} checks lie beyond.",
        };

        private string Plain(double value, int digits) => NumberWords.Plain(value, digits, bench.Sign);
    }
}
