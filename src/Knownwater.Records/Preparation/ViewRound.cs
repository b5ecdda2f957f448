using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Shows a round: what is to be made, in which order the checks run, and what their verdicts share.</summary>
public sealed class ViewRound(RecordsContext records, Clock clock)
{
    private const int ReadingsWithoutAdvice = 5;

    private sealed record Line(RoundMethod Row, Method Method, string Instrument, Measured Measured, IReadOnlyList<RoundBottle> Bottles, CheckRows? Check, Tolerance? Tolerance);

    /// <summary>Reads the round.</summary>
    /// <param name="round">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The round; null where this bench has none of that key.</returns>
    public async Task<RoundView?> Handle(Guid round, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        if (await records.Rounds.AsNoTracking().FirstOrDefaultAsync(r => r.Id == round, cancel) is not { } row)
            return null;
        var lines = await Lines(row, bench, cancel);
        var items = lines.Select(l => Item(l, lines)).ToList();
        var order = RunningOrder.Of(items);
        var checks = new List<RoundCheck>();
        foreach (var (i, place) in order.Select((i, place) => (i, place)))
            checks.Add(await View(lines[i], place + 1, place > 0 && items[order[place - 1]].Instrument == items[i].Instrument && items[order[place - 1]].Matrix != items[i].Matrix, bench, cancel));
        var preparations = await Preparations(lines, bench, cancel);
        var (shared, correlations) = Shared([.. order.Select(i => lines[i])], bench);
        return new RoundView
        {
            Id = row.Id,
            Label = row.Label,
            PlannedWords = Words.Moment(bench.At(row.PlannedAt)),
            Summary = Summary(preparations, checks, RunningOrder.MatrixChanges(items, order), bench.Sign),
            Notes = [.. lines.Where(l => l.Check?.Check.State is null or CheckState.Open).SelectMany(l => l.Bottles).Select(b => b.AgeNote).OfType<string>().Distinct()],
            Preparations = preparations,
            Checks = checks,
            Shared = shared,
            Correlations = correlations,
        };
    }

    private async Task<List<Line>> Lines(RoundRow round, BenchSetting bench, CancellationToken cancel)
    {
        string[] deleted = [RecordsContext.DeletedFilter];
        var methods = await (
            from line in records.RoundMethods.AsNoTracking()
            where line.RoundId == round.Id
            join method in records.Methods.AsNoTracking().IgnoreQueryFilters(deleted) on line.MethodId equals method.Id
            join instrument in records.Instruments.AsNoTracking().IgnoreQueryFilters(deleted) on method.InstrumentId equals instrument.Id
            orderby line.Ordinal
            select new { Line = line, Method = method, Instrument = instrument.Name }).ToListAsync(cancel);
        var ids = methods.Select(m => m.Line.Id).ToList();
        var levels = (await records.RoundLevels.AsNoTracking().Where(l => ids.Contains(l.RoundMethodId)).OrderBy(l => l.Ordinal).ToListAsync(cancel)).ToLookup(l => l.RoundMethodId);
        var checks = (await CheckRows.Read(records, records.Checks.AsNoTracking().Where(c => c.RoundId == round.Id).OrderByDescending(c => c.StartedAt), cancel)).ToLookup(c => c.Check.MethodId);
        var lines = new List<Line>();
        foreach (var m in methods)
        {
            var measured = Measured.Of(m.Method.ParameterKey, m.Method.OtherName, m.Method.Form);
            var bottles = new List<RoundBottle>();
            foreach (var level in levels[m.Line.Id])
            {
                if (await RoundBottle.Read(records, bench, (level.ReferenceWaterId ?? level.PreparationId)!.Value, measured, cancel) is { } bottle)
                    bottles.Add(bottle);
            }
            var tolerance = new PlanFields(records, bench, bench.Fields()).Tolerance("", "", measured, m.Method)?.Tolerance;
            lines.Add(new Line(m.Line, m.Method, m.Instrument, measured, bottles, checks[m.Method.Id].FirstOrDefault(), tolerance));
        }
        return lines;
    }

    private static RunningItem Item(Line line, IReadOnlyList<Line> all) => new()
    {
        Instrument = line.Method.InstrumentId,
        Matrix = line.Method.Matrix,
        Analyte = line.Measured.Key + " " + line.Measured.OtherName,
        KeepsDays = line.Bottles.Min(b => b.KeepsDays),
        Brings = [.. all.Where(o => o != line && o.Tolerance is { } t && line.Bottles.Any(b => b.Brings(o.Measured, t))).Select(o => o.Measured.Key + " " + o.Measured.OtherName)],
    };

    private async Task<RoundCheck> View(Line line, int ordinal, bool changesMatrix, BenchSetting bench, CancellationToken cancel)
    {
        var readings = line.Check?.Levels.Sum(l => l.Planned) ?? await Advised(line, bench.Sign, cancel);
        var toCome = line.Check is { } check ? check.Check.State == CheckState.Open ? check.Levels.Sum(l => Math.Max(0, l.Planned - l.Replicates.Count)) : 0 : readings;
        return new RoundCheck
        {
            Ordinal = ordinal,
            Title = $"{line.Measured.Name} on {line.Instrument}",
            Method = line.Method.Id,
            MatrixWords = line.Method.Matrix == Matrix.Seawater ? "Seawater" : "Fresh water",
            ChangesMatrix = changesMatrix,
            Waters = [.. line.Bottles.Select(b => new RoundWater(b.Label, b.KnownWords, b.Water))],
            Readings = readings,
            Minutes = line.Method.MinutesPerReading * toCome,
            Check = line.Check?.Check.Id,
            State = line.Check?.Check.State,
            Verdict = line.Check is { Check.State: not CheckState.Open } ended ? JudgeLevel.Over(ended) : null,
            Sentence = line.Check is null ? "" : CheckReading.Sentence(line.Check, bench.Sign),
        };
    }

    /// <summary>The number of readings that tells right from wrong at every level, as the plan of a check would advise.</summary>
    private async Task<int> Advised(Line line, DecimalSign sign, CancellationToken cancel)
    {
        var most = 0;
        foreach (var bottle in line.Bottles)
        {
            var outcome = await new PlanReplicates(records).Handle(new PlanReplicates.Command
            {
                Parameter = line.Measured.Key,
                OtherName = line.Measured.OtherName,
                Form = line.Measured.Form.Text,
                Method = line.Method.Id,
                Known = Typed(bottle.Known.Value),
                Doubt = Typed(bottle.Known.StandardUncertainty),
                DoubtKind = Shelf.DoubtMeaning.Standard,
                Levels = line.Bottles.Count,
            }, cancel);
            most = Math.Max(most, outcome is PlanReplicates.Outcome.Planned { Advice.Recommended: { } n } ? n : ReadingsWithoutAdvice);
        }
        return most * line.Bottles.Count;

        string Typed(double value)
        {
            var text = value.ToString("0.############", System.Globalization.CultureInfo.InvariantCulture);
            return sign == DecimalSign.Comma ? text.Replace('.', ',') : text;
        }
    }

    /// <summary>
    /// What takes from another one's dilution follows that one at once, while its flask still holds it. Else what keeps longest comes first,
    /// so that what ages fast is fresh, and weak before strong.
    /// </summary>
    private async Task<IReadOnlyList<PreparationView>> Preparations(IReadOnlyList<Line> lines, BenchSetting bench, CancellationToken cancel)
    {
        var levels = lines.Select(l => l.Row.Id).ToList();
        // a water that stood on the shelf before the round is not made for it
        var wanted = await records.RoundLevels.AsNoTracking().Where(l => levels.Contains(l.RoundMethodId) && l.PreparationId != null).Select(l => l.PreparationId!.Value).ToListAsync(cancel);
        var found = new List<(PreparationView View, Guid Carrier, double Keeps, double Value)>();
        foreach (var bottle in lines.SelectMany(l => l.Bottles).DistinctBy(b => b.Preparation))
        {
            if (bottle.Preparation is not { } id || !wanted.Contains(id) || await PreparationReading.Load(records, bench, id, tracked: false, cancel) is not { } read)
                continue;
            found.Add((PreparationReading.View(read.Row, read.Steps, read.Fields, bottle.Water, bench), read.Steps[0].Carried.PreparationId, bottle.KeepsDays ?? double.PositiveInfinity, bottle.Known.Value));
        }
        return
        [
            .. found.GroupBy(f => f.Carrier).OrderByDescending(g => g.Max(f => f.Keeps)).ThenBy(g => g.Min(f => f.Value))
                .SelectMany(g => g.OrderBy(f => f.View.Id != f.Carrier).ThenBy(f => f.Value)).Select(f => f.View),
        ];
    }

    private static string Summary(IReadOnlyList<PreparationView> preparations, List<RoundCheck> checks, int changes, DecimalSign sign)
    {
        var toMake = preparations.Count(p => p.Water is null);
        var toRun = checks.Where(c => c.State is null or CheckState.Open).ToList();
        if (toRun.Count == 0)
            return checks.Count == 2 ? "Both checks are run." : $"All {Words.Count(checks.Count)} checks are run.";
        var parts = new List<string>();
        if (toMake > 0)
            parts.Add(toMake == 1 ? "one water to make" : $"{Words.Count(toMake)} waters to make");
        parts.Add(toRun.Count == 1 ? "one check to run" : $"{Words.Count(toRun.Count)} checks to run");
        var minutes = toRun.Sum(c => c.Minutes ?? 0);
        var unknown = toRun.Count(c => c.Minutes is null);
        var time = minutes > 0 ? $": {(unknown > 0 ? "at least " : "about ")}{VerdictWords.Duration(minutes)} of readings" : "";
        if (unknown > 0)
            time += $"{(minutes > 0 ? "; for" : ": for")} {(unknown == toRun.Count ? "none of them" : Words.Count(unknown) + " of them")} {(unknown == toRun.Count ? "is it known how long a reading takes" : "nobody said how long a reading takes")}";
        return $"{Words.Capital(Words.List(parts))}{time}. {(changes == 0 ? "The matrix does not change." : changes == 1 ? "The matrix changes once." : $"The matrix changes {Words.Count(changes)} times.")}";
    }

    /// <summary>What of a check leans on its waters: the highest level, where errors in proportion to the value show most; or the step to it, where only that was judged.</summary>
    private static (Estimate Value, (Verdict Verdict, double Low, double High)? Bias) Speaks(CheckRows check)
    {
        var (low, high) = (check.Levels.MinBy(v => v.Known.Value)!, check.Levels.MaxBy(v => v.Known.Value)!);
        if (check.Check.Basis == LevelsBasis.Difference && low != high)
        {
            var step = JudgeLevel.Together(check)?.Differences is [.., var last] ? last : null;
            return (high.Known - low.Known, step is null ? null : (step.Verdict, step.Estimate.Value - step.Expanded, step.Estimate.Value + step.Expanded));
        }
        return (high.Known, high.Row is { Verdict: { } verdict, BiasLow: { } from, BiasHigh: { } to } ? (verdict, from, to) : null);
    }

    private static (IReadOnlyList<string> Sentences, IReadOnlyList<NumberLine> Correlations) Shared(IReadOnlyList<Line> lines, BenchSetting bench)
    {
        var judged = lines.Where(l => l.Check is { Check.State: CheckState.Closed }).ToList();
        if (judged.Count < 2)
            return ([], []);
        var spoken = judged.Select(l => Speaks(l.Check!)).ToList();
        var values = spoken.Select(x => x.Value).ToList();
        var names = judged.Select(l => judged.Count(o => o.Measured.Name == l.Measured.Name) > 1 ? $"{Words.Small(l.Measured.Name)} on {l.Instrument}" : Words.Small(l.Measured.Name)).ToList();
        var biases = spoken.Select(x => x.Bias).ToList();
        var shared = SharedDoubt.Among(values);
        if (shared.Count == 0)
            return ([VerdictWords.NothingShared], []);
        var pairs = new List<NumberLine>();
        for (var i = 0; i < values.Count; i++)
        {
            for (var j = i + 1; j < values.Count; j++)
            {
                if (values[i].IsExact || values[j].IsExact || Math.Abs(Estimate.Correlation(values[i], values[j])) is not (>= 0.005 and var r))
                    continue;
                pairs.Add(new NumberLine($"{Words.Capital(names[i])} and {names[j]}", $"correlation {(Estimate.Correlation(values[i], values[j]) < 0 ? "−" : "")}{NumberWords.Plain(r, 2, bench.Sign)}"));
            }
        }
        return ([.. shared.Select(s => VerdictWords.Say(s, names, biases, bench.Sign))], pairs);
    }
}
