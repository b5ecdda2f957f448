using System.Globalization;
using Knownwater.Drift;
using Knownwater.Figures;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Drift;

/// <summary>Shows the course of a method: its checks against known water over time, what moved and when, and when to check again.</summary>
public sealed class ViewDrift(RecordsContext records, Clock clock)
{
    private const int Year = 365, FewestChecks = 6, ShortestSpan = 14;

    /// <summary>Looks at a method.</summary>
    /// <param name="method">The method.</param>
    /// <param name="from">First day of the picture; null for the first check.</param>
    /// <param name="to">Last day of the picture; null for the last check.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>Its course; null where this bench has no such method.</returns>
    public async Task<DriftView?> Handle(Guid method, LocalDate? from, LocalDate? to, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        // an alarm is recorded as soon as its page could show it
        await KeptCourse.Read(records, bench, cancel);
        if (await MethodCourse.Read(records, bench, method, cancel) is not { } course)
            return null;
        if (course.History is null)
        {
            return new DriftView
            {
                Method = method, Title = course.Title, ChecksWords = "no checks yet", Sentence = "No check counts yet.", Detail = "The course of a method shows from its third check against known water on.", Tone = FigureTone.Plain, Figure = null,
                UnitWords = "", WhatToDo = [], Next = "Check it: nobody knows yet how it reads.", NextOn = null, Lots = [], Events = [], Numbers = [], Alarms = [], Span = null, All = null, Spans = [],
            };
        }
        var reading = new CourseReading(course, bench, await ChecksPerYear(records, bench, cancel));
        var older = course.All > MethodCourse.MostChecks ? await Older(course, reading, bench, cancel) : [];
        var span = from is { } first && to is { } last && first < last ? (first, last) : ((LocalDate From, LocalDate To)?)null;
        var alarms = await AlarmLines.Read(records, method, bench, cancel);
        var figure = Picture(course, reading, older, alarms, bench, span);
        var (since, until) = (MethodCourse.On(figure.Points[0].Day, bench), MethodCourse.On(figure.Points[^1].Day, bench));
        return new DriftView
        {
            Method = method,
            Title = course.Title,
            ChecksWords = Checks(course, figure.Points[0].DayLabel),
            Sentence = reading.Sentence,
            Detail = reading.Detail,
            Tone = reading.Tone,
            Figure = figure,
            UnitWords = $"in {course.Measured.Form.Display} at {reading.Level}",
            WhatToDo = reading.WhatToDo,
            Next = reading.NextCheckWords.Whole,
            NextOn = reading.NextCheckWords.On,
            Lots = Lots(course, reading),
            Events = [.. reading.Change.Events.Select(e => new DriftEventLine(reading.Day(e.Event.Day), Words.Capital(e.Event.Label), reading.Signed(e.Step, CourseReading.HalfOf(e.Interval)),
                e.IsClear ? e.Together.Count > 0 ? "a step, here or at what came between the same checks" : "a step" : "may be chance"))],
            Numbers = Numbers(course, reading, bench),
            Alarms = alarms,
            Span = span,
            All = (since, until),
            Spans = Spans(since, until, span),
        };
    }

    /// <summary>Checks in a year over all methods, as they were run in the last one.</summary>
    internal static async Task<double> ChecksPerYear(RecordsContext records, BenchSetting bench, CancellationToken cancel)
    {
        var since = bench.Now - Duration.FromDays(Year);
        var starts = records.Checks.AsNoTracking().Where(c => c.MethodId != null && c.State == CheckState.Closed && c.Kind == null && c.Verdict != null && c.StartedAt >= since);
        var count = await starts.CountAsync(cancel);
        var days = count == 0 ? Year : (bench.Now - await starts.MinAsync(c => c.StartedAt, cancel)).TotalDays;
        return Math.Max(FewestChecks, count * Year / Math.Max(days, 60));
    }

    internal static string Checks(MethodCourse course, string since) =>
        course.All == 1 ? $"one check, {since}" : string.Create(CultureInfo.InvariantCulture, $"{course.All} checks since {since}");

    private static List<DriftLotLine> Lots(MethodCourse course, CourseReading reading) =>
        [.. reading.Change.Lots.Where(l => l.Lots.Count > 0).Reverse().Select(l => new DriftLotLine(
            string.Join(" + ", l.Lots.Select(lot => course.LotNames.GetValueOrDefault(lot, "a lot without a name")).Order(StringComparer.Ordinal)),
            reading.Signed(l.Bias.Value, CourseReading.HalfOf(l.Bias.Interval)),
            From(l.Bias.Checks, l.Changeovers),
            l.Bias.Interval is { Low: > -1, High: < 1 } ? true : l.Bias.Interval.Low > 1 || l.Bias.Interval.High < -1 ? false : null))];

    /// <summary>“three checks and a changeover”.</summary>
    private static string From(int checks, int changeovers)
    {
        string Count(int count, string one, string many) => count == 1 ? one : $"{Words.Count(count)} {many}";
        var bottles = Count(changeovers, "a changeover", "changeovers");
        return (checks, changeovers) switch
        {
            (0, _) => $"{bottles} alone",
            (_, 0) => Count(checks, "one check", "checks"),
            _ => $"{Count(checks, "one check", "checks")} and {bottles}",
        };
    }

    private static List<NumberLine> Numbers(MethodCourse course, CourseReading reading, BenchSetting bench)
    {
        var (components, level, unit) = (reading.Settled.Components, reading.Model.MiddleLevel, Words.NoBreak + course.Measured.Form.UnitDisplay);
        string Plain(double value) => NumberWords.Plain(value, 2, bench.Sign);
        string Sd(ComponentEstimate sd) => $"{Plain(sd.Value)}{unit} (95{Words.Narrow}%: {Plain(sd.Interval.Low)} to {Plain(sd.Interval.High)})";
        List<NumberLine> lines =
        [
            new("Scatter between readings of one check", Sd(components.WithinAt(level))),
            new("Scatter from check to check", Sd(components.BetweenAt(level))),
            new("Doubt that waters of one stock share", $"{Plain(components.Stock * reading.Scale)}{unit}"),
            new("Doubt that is fresh in each preparation", $"{Plain(components.Preparation * reading.Scale)}{unit}"),
            new("One reading of any day", $"±{Words.Narrow}{Plain(CourseReading.Half(components.ReadingSd(level, course.Checks[^1].Check.Resolution)))}{unit} (95{Words.Narrow}%): {KeptCourse.ReadingMeans}"),
            new("How it reads", reading.Whole),
        ];
        if (course.Checks.Count >= 3)
        {
            string Chance(double p) => $"{Plain(Math.Round(100 * p))}{Words.Narrow}%";
            lines.Add(new(reading.Change.Events.Any(e => e.IsClear) ? "Beside the steps: steady, another step, or a drift" : "Steady, a step, or a drift", $"{Chance(reading.Change.SteadyProbability)}, {Chance(reading.Change.StepProbability)}, {Chance(reading.Change.DriftProbability)}"));
        }
        lines.Add(new("The alarm", $"raised falsely once in about {Plain(reading.Chart.InControlRunLength)} checks of this method: {reading.AlarmWords} over all methods. A change by your tolerance raises it after about {Plain(reading.Chart.ChecksToKnow)} checks"));
        return lines;
    }

    private static DriftFigure Picture(MethodCourse course, CourseReading reading, IReadOnlyList<DriftPoint> older, IReadOnlyList<DriftAlarmLine> raised, BenchSetting bench, (LocalDate From, LocalDate To)? span)
    {
        var alarms = raised.ToDictionary(a => a.Check, a => a.IsHigh ? FigureTone.High : FigureTone.Low);
        var points = reading.Settled.Trueness.Select(t =>
        {
            var half = CourseReading.Half(t.StandardUncertainty);
            var check = course.Checks[t.Check].Check;
            return new DriftPoint(t.Day, Words.Day(bench.DayOf(check.StartedAt), bench.Today), t.Bias * reading.Scale, reading.Signed(t.Bias, half), (t.Bias - half) * reading.Scale, (t.Bias + half) * reading.Scale, $"/checks/{check.Id}")
            {
                Signal = alarms.GetValueOrDefault(check.Id, FigureTone.Plain),
                Lot = course.Lots.LastOrDefault(l => l.From <= bench.DayOf(check.StartedAt))?.Name ?? "",
            };
        });
        IReadOnlyList<DriftPoint> all = [.. older, .. points];
        var usual = Math.Sqrt(reading.Settled.Trueness.Average(t => t.StandardUncertainty * t.StandardUncertainty));
        return new DriftFigure
        {
            Unit = course.Measured.Form.UnitDisplay,
            Points = all,
            Tolerance = reading.Scale,
            ToleranceLabel = NumberWords.Plain(reading.Scale, 2, bench.Sign),
            Usual = all.Count >= 3 && double.IsFinite(usual) ? CourseReading.Half(usual) * reading.Scale : null,
            UsualMiddle = reading.Onset is null ? reading.Settled.CombinedBias.Value * reading.Scale : 0,
            Lots = [.. course.Lots.Select(l => new DriftLot(l.Name, MethodCourse.Day(l.From, bench), MethodCourse.Day(l.To, bench)))],
            Events = [.. course.Settings.Select((s, i) => new Figures.DriftEvent(MethodCourse.Day(s.On, bench), ((char)('A' + i % 26)).ToString(), $"{MethodCourse.Setting(s)}, {Words.Day(s.On, bench.Today)}"))],
            Onset = reading.Onset,
            Ticks = Months(span?.From ?? MethodCourse.On(all[0].Day, bench), span?.To ?? MethodCourse.On(all[^1].Day, bench), bench),
            Span = span is var (from, to) ? (MethodCourse.Day(from, bench), MethodCourse.Day(to, bench)) : null,
        };
    }

    internal static List<DriftTick> Months(LocalDate from, LocalDate to, BenchSetting bench)
    {
        List<DriftTick> ticks = [];
        for (var month = new LocalDate(from.Year, from.Month, 1); month <= to; month = month.PlusMonths(1))
            ticks.Add(new DriftTick(MethodCourse.Day(month, bench), month.Month == 1 ? month.Year.ToString(CultureInfo.InvariantCulture) : CultureInfo.InvariantCulture.DateTimeFormat.AbbreviatedMonthNames[month.Month - 1]));
        return ticks;
    }

    /// <summary>Checks before those of the model, as they were found: the mean over their levels of bias by tolerance.</summary>
    private async Task<IReadOnlyList<DriftPoint>> Older(MethodCourse course, CourseReading reading, BenchSetting bench, CancellationToken cancel)
    {
        var before = course.Checks[0].Check.StartedAt;
        var rows = await (
            from check in MethodCourse.Counted(records, course.Method.Id, course.Method.Form)
            where check.StartedAt < before
            join level in records.CheckLevels on check.Id equals level.CheckId
            where level.Bias != null && level.BiasLow != null && level.BiasHigh != null
            join estimate in records.EstimateRows on level.EstimateId equals estimate.Id
            select new { check.Id, check.StartedAt, estimate.Value, Bias = level.Bias!.Value, Half = (level.BiasHigh!.Value - level.BiasLow!.Value) / 2 }).ToListAsync(cancel);
        return [.. rows.Where(r => reading.History.Tolerance.At(r.Value) > 0).GroupBy(r => (r.Id, r.StartedAt)).OrderBy(g => g.Key.StartedAt).Select(g =>
        {
            var (bias, half) = (g.Average(r => r.Bias / reading.History.Tolerance.At(r.Value)), g.Average(r => r.Half / reading.History.Tolerance.At(r.Value)));
            var on = bench.DayOf(g.Key.StartedAt);
            return new DriftPoint(MethodCourse.Day(g.Key.StartedAt), Words.Day(on, bench.Today), bias * reading.Scale, reading.Signed(bias, half), (bias - half) * reading.Scale, (bias + half) * reading.Scale, $"/checks/{g.Key.Id}")
            {
                Lot = course.Lots.LastOrDefault(l => l.From <= on)?.Name ?? "",
            };
        })];
    }

    private static List<(string, LocalDate?, LocalDate?)> Spans(LocalDate first, LocalDate last, (LocalDate From, LocalDate To)? span)
    {
        var (from, to) = span ?? (first, last);
        var days = Math.Max(ShortestSpan, Period.DaysBetween(from, to));
        List<(string, LocalDate?, LocalDate?)> spans = [];
        if (span is not null && from > first)
            spans.Add(("Earlier", from.PlusDays(-days / 2), to.PlusDays(-days / 2)));
        if (span is not null && to < last)
            spans.Add(("Later", from.PlusDays(days / 2), to.PlusDays(days / 2)));
        if (days > 2 * ShortestSpan)
            spans.Add(("Closer", to.PlusDays(-days / 2), to));
        if (span is not null && (from.PlusDays(-days / 2) > first || to.PlusDays(days / 2) < last))
            spans.Add(("Wider", from.PlusDays(-days / 2), to.PlusDays(days / 2)));
        if (span is not null)
            spans.Add(("All", null, null));
        return spans;
    }
}
