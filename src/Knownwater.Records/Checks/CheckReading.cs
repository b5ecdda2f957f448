using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Statistics;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>Reads checks into what pages, lists and the command show.</summary>
internal static class CheckReading
{
    /// <summary>Checks as lines of a list, in the order given.</summary>
    public static async Task<IReadOnlyList<CheckLine>> Lines(RecordsContext records, IQueryable<Check> which, BenchSetting bench, CancellationToken cancel)
    {
        var checks = await CheckRows.Read(records, which.AsNoTracking(), cancel);
        var methods = await Methods(records, checks.Select(c => c.Check.MethodId).OfType<Guid>().ToList(), cancel);
        return checks.Select(rows =>
        {
            var c = rows.Check;
            var at = Words.List(rows.Levels.Select(l => $"{NumberWords.Plain(l.Known.Value, 4, bench.Sign)}{Words.NoBreak}{rows.Measured.Form.UnitDisplay}").ToList());
            if (rows.Compared is { } compared && rows.Levels.Count > 0)
                at = $"{NumberWords.Plain(rows.Levels[0].Known.Value, 4, bench.Sign)}{Words.NoBreak}{rows.Measured.Form.UnitDisplay}, {VerdictWords.Series(compared, second: false)} and {VerdictWords.Series(compared, second: true)}";
            return new CheckLine(c.Id, Title(rows, methods), c.State, c.Kept, c.Verdict, Sentence(rows, bench.Sign), c.StartedAt, Words.Day(bench.DayOf(c.StartedAt), bench.Today), $"at {at}");
        }).ToList();
    }

    /// <summary>The verdict in a sentence, or how far a check has come.</summary>
    public static string Sentence(CheckRows rows, DecimalSign sign)
    {
        if (rows.Check.State == CheckState.Open)
            return Progress(rows);
        var judged = rows.Levels.Select(l => (Level: l, Judgement: JudgeLevel.Judge(rows, l))).Where(x => x.Judgement is not null).ToList();
        if (judged.Count == 0)
            return $"Stopped after {Progress(rows)}; no verdict.";
        if (rows.Compared is { } compared)
        {
            var difference = JudgeLevel.Difference(rows);
            var (last, lastJudgement) = judged[^1];
            var series = $"{Words.Capital(VerdictWords.Series(compared, last.Row.Ordinal == 2))}: {Words.Small(VerdictWords.Say(JudgeLevel.Plan(rows, last), lastJudgement!, sign).Sentence)}";
            if (rows.Check.SteadyWater)
                return difference is null ? $"Stopped after {Progress(rows)}; no verdict." : VerdictWords.Say(difference, compared, sign).Sentence;
            return difference is null ? $"{series} The other series was not read to the end." : $"{VerdictWords.Say(difference, compared, sign).Sentence} {series}";
        }
        if (judged.Count == 1 && rows.Levels.Count == 1)
            return VerdictWords.Say(JudgeLevel.Plan(rows, judged[0].Level), judged[0].Judgement!, sign).Sentence;
        return OverLevels(rows, JudgeLevel.Together(rows), sign)!;
    }

    /// <summary>“2 of 5 readings”.</summary>
    public static string Progress(CheckRows rows) => $"{rows.Levels.Sum(l => l.Replicates.Count)} of {rows.Levels.Sum(l => l.Planned)} readings";

    /// <summary>“Alkalinity on the harbour analyser”.</summary>
    public static string Title(CheckRows rows, IReadOnlyDictionary<Guid, MethodLine> methods) =>
        rows.Check.MethodId is { } id && methods.TryGetValue(id, out var method) ? $"{rows.Measured.Name} on {method.InstrumentName}" : rows.Measured.Name;

    /// <summary>Methods with their instruments, removed ones too.</summary>
    public static async Task<IReadOnlyDictionary<Guid, MethodLine>> Methods(RecordsContext records, IReadOnlyList<Guid> ids, CancellationToken cancel)
    {
        var rows = await (
            from m in records.Methods.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking()
            where ids.Contains(m.Id)
            join i in records.Instruments.IgnoreQueryFilters([RecordsContext.DeletedFilter]) on m.InstrumentId equals i.Id
            select new { Method = m, Instrument = i }).ToListAsync(cancel);
        return rows.ToDictionary(r => r.Method.Id, r => new MethodLine(r.Method.Id, Measured.Of(r.Method.ParameterKey, r.Method.OtherName, r.Method.Form).NameWithForm, r.Instrument.Id, r.Instrument.Name));
    }

    /// <summary>A check with everything behind it.</summary>
    public static async Task<CheckView> View(RecordsContext records, CheckRows rows, BenchSetting bench, CancellationToken cancel)
    {
        var check = rows.Check;
        var methods = await Methods(records, check.MethodId is { } m ? [m] : [], cancel);
        var method = check.MethodId is { } id ? methods.GetValueOrDefault(id) : null;
        var lots = await records.CheckLots.AsNoTracking().Where(l => l.CheckId == check.Id).OrderBy(l => l.Name).ToListAsync(cancel);
        var waterIds = rows.Levels.Select(l => l.Row.ReferenceWaterId).OfType<Guid>().ToList();
        var waters = await records.ReferenceWaters.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().Where(w => waterIds.Contains(w.Id)).ToDictionaryAsync(w => w.Id, cancel);
        var started = bench.At(check.StartedAt);
        var settings = method is null ? [] : await records.InstrumentSettings.AsNoTracking().Where(s => s.InstrumentId == method.InstrumentId && s.On <= started.Date)
            .OrderBy(s => s.On).ThenBy(s => s.RecordedAt).ToListAsync(cancel);
        var day = Words.DayAndYear(started.Date);
        var round = check.RoundId is { } r ? await records.Rounds.AsNoTracking().Where(x => x.Id == r).Select(x => new RoundName(x.Id, x.Label)).FirstOrDefaultAsync(cancel) : null;
        var begun = await Guards.Overridden(records, check.Id, cancel);
        var levels = new List<LevelView>();
        foreach (var level in rows.Levels)
        {
            var water = level.Row.ReferenceWaterId is { } w ? waters.GetValueOrDefault(w) : null;
            var bought = water is null ? _ => true : await WaterReading.Bought(records, bench, water, await records.Estimates.Read(water.EstimateId, cancel), cancel);
            var view = View(rows, level, water, lots, day, bought, bench);
            levels.Add(view.Statement is { } statement && begun.Count > 0 ? view with { Statement = string.Join(' ', begun.Select(Although).Prepend(statement)) } : view);
        }
        var judged = rows.Levels.Zip(levels).Where(p => p.Second.Judgement is not null).Select(p => (p.First, p.Second.Judgement!)).ToList();
        var last = await Undo.LastAct(records, check.Id, cancel);
        var toGo = rows.Levels.Sum(l => Math.Max(0, l.Planned - l.Replicates.Count) + rows.ConditioningToGo(l));
        var closed = check.State != CheckState.Open;
        var together = JudgeLevel.Together(rows);
        var kit = KitScale.Of(check);
        return new CheckView
        {
            Kind = check.Kind ?? CheckKind.Usual,
            Difference = closed && rows.Compared is { } compared && JudgeLevel.Difference(rows) is { } difference ? SameWaterView.Of(compared, difference, !check.SteadyWater, rows.Measured.Form, bench.Sign) : null,
            ScaleWords = kit?.Words(rows.Measured.Form, bench.Sign) ?? "",
            ScaleHint = kit?.Hint(rows.Measured.Form, bench.Sign) ?? "",
            ReadingUnit = kit?.Unit(rows.Measured.Form) ?? rows.Measured.Form.Display,
            ScaleChoices = kit?.Choices(bench.Sign) ?? [],
            SteadyWater = check.SteadyWater,
            ConditioningRuns = check.ConditioningRuns,
            Id = check.Id,
            State = check.State,
            Kept = check.Kept,
            Title = Title(rows, methods),
            ParameterKey = check.ParameterKey,
            ParameterName = rows.Measured.Name,
            Form = rows.Measured.Form,
            Method = method,
            Round = round,
            Matrix = check.Matrix,
            Salinity = check.Salinity,
            Temperature = check.TemperatureCelsius,
            SalinityTyped = check.SalinityTyped,
            TemperatureTyped = check.TemperatureTyped,
            Who = check.Who,
            Notes = check.Notes,
            StartedAt = check.StartedAt,
            ClosedAt = check.ClosedAt,
            StartedWords = Words.Moment(started),
            DayWords = day,
            Tolerance = new Tolerance(check.ToleranceAbsolute, check.TolerancePercent),
            ToleranceSource = check.ToleranceSource,
            Resolution = check.Resolution,
            MinutesPerReading = check.MinutesPerReading,
            ExtensionDeclared = check.ExtensionDeclared,
            Extended = check.ExtensionTaken,
            CanExtend = judged.Exists(j => JudgeLevel.Extension(rows, j.Item2) > 0),
            AutomationPaused = check.AutomationPaused,
            DosingPausedWords = check is { DosingPausedAt: { } paused, DosingResumedAt: null } ? Words.ShortMoment(bench.At(paused), bench.Today) : "",
            AsksBefore = rows.AsksBefore,
            BegunAllTheSame = begun,
            ExpiredLotReason = check.ExpiredLotReason,
            Lots = lots.Select(l => new CheckLotLine(l.LotId, l.Name, l.Reagent, l.Expired, l.OnlyLevel)).ToList(),
            Levels = levels,
            CurrentLevel = closed ? null : rows.Current?.Row.Ordinal,
            Verdict = closed ? JudgeLevel.Over(rows) : null,
            OverLevels = closed && rows is { Levels.Count: > 1, Compared: null } ? OverLevels(rows, together, bench.Sign) : null,
            Together = closed ? together : null,
            TogetherSure = closed && together is not null ? VerdictWords.Say(together, bench.Sign).Sure : "",
            TogetherWhatToDo = closed && together is not null ? VerdictWords.WhatToDo(together, bench.Sign) : [],
            TogetherNumbers = closed && together is not null ? TogetherNumbers(together, rows.Measured.Form, bench.Sign) : [],
            TogetherRule = closed && together is not null ? VerdictWords.Rule(together) : "",
            MinutesSoFar = ((check.ClosedAt ?? bench.Now) - check.StartedAt).TotalMinutes,
            MinutesToGo = closed ? 0 : toGo * check.MinutesPerReading,
            LastAct = last?.Sentence,
            LastActEntry = last?.Id,
            Trace = Trace(check, method, lots, settings, begun, bench, day),
            After = await FailureReading.Read(records, rows, bench, cancel),
        };
    }

    private static LevelView View(CheckRows rows, LevelRows level, ReferenceWater? water, IReadOnlyList<CheckLot> lots, string day, Func<Guid, bool> isBought, BenchSetting bench)
    {
        var (sign, form) = (bench.Sign, rows.Measured.Form);
        var kit = KitScale.Of(rows.Check);
        var plan = JudgeLevel.Plan(rows, level);
        var steady = rows.Check.SteadyWater;
        var judgement = steady ? null : JudgeLevel.Judge(rows, level);
        var excluded = judgement is not null && level.Replicates.Exists(r => r.ExcludedReason is not null) ? JudgeLevel.Judge(rows, level, withExcluded: true) : null;
        var counted = level.Replicates.Where(r => r.ExcludedReason is null).ToList();
        var sd = counted.Count > 1 && counted.TrueForAll(r => r.Censoring == Censoring.None) ? SampleMoments.Of(counted.Select(r => r.Value).ToArray()).StandardDeviation : (double?)null;
        return new LevelView
        {
            Ordinal = level.Row.Ordinal,
            Plan = plan,
            KnownWords = steady ? $"about {NumberWords.Plain(level.Known.Value, 6, sign)}{Words.NoBreak}{form.UnitDisplay}" : WaterReading.KnownWords(level.Known, form, sign),
            WaterWords = steady ? $"steady water of about {NumberWords.Plain(level.Known.Value, 6, sign)}{Words.NoBreak}{form.UnitDisplay}" : $"known water {WaterReading.KnownWords(level.Known, form, sign)}",
            ToleranceWords = Words.ToleranceAt(plan.Tolerance, level.Known.Value, form, sign),
            Planned = level.Planned,
            ExtendedBy = level.Row.ExtendedBy,
            Taken = level.Replicates.Count,
            Readings = level.Replicates.Select(r => new ReadingView(r.Ordinal, r.Typed, r.Value, r.Censoring, r.At, r.Who, r.ExcludedReason, Shown(r, sign),
                r.Censoring == Censoring.None ? Distance(r, level.Known.Value, sign) : "") { Seen = kit?.Seen(r.Value, r.Censoring, sign) ?? "" }).ToList(),
            Series = rows.Compared is { } compared ? VerdictWords.Series(compared, level.Row.Ordinal == 2) : "",
            LeftOpen = kit?.LeftOpen(plan.Resolution, form, sign) ?? "",
            Conditioning = level.Conditioning.Select(r => new ReadingView(r.Ordinal, r.Typed, r.Value, r.Censoring, r.At, r.Who, null, Shown(r.Typed, r.Value, r.Censoring, sign), "") { Seen = kit?.Seen(r.Value, r.Censoring, sign) ?? "" }).ToList(),
            ConditioningToGo = rows.ConditioningToGo(level),
            ScatterSoFar = sd,
            ScatterWords = Scattering(plan, judgement, sd, counted.Count, sign),
            Judgement = judgement,
            Words = judgement is null ? null : VerdictWords.Say(plan, judgement, sign),
            WithExcluded = excluded,
            WithExcludedWords = excluded is null ? null : VerdictWords.Say(plan, excluded, sign),
            WithoutOutlierWords = judgement?.WithoutOutlier is { } without ? VerdictWords.Say(plan, without, sign) : null,
            WhatToDo = judgement is null ? [] : WhatToDo(rows, level, plan, judgement, water, bench),
            Numbers = judgement is null ? [] : Numbers(plan, judgement, level, form, sign),
            Statement = judgement is null ? null : VerdictWords.Statement(plan, new StatementFacts
            {
                Matrix = rows.Check.Matrix,
                Salinity = rows.Check.Salinity,
                TemperatureCelsius = rows.Check.TemperatureCelsius,
                Lots = lots.Where(l => l.OnlyLevel is null || l.OnlyLevel == level.Row.Ordinal).Select(l => l.Name).ToList(),
                Day = day,
            }, sign),
            Rule = judgement is null ? null : VerdictWords.Rule(plan),
            Water = water is null ? null : new WaterLine(water.Id, water.Label, water.Origin, Words.Origin(water.Origin, water.OriginDetail)),
            Trace = steady ? [new NumberLine("Water", $"of a steady level, about {level.Row.KnownTyped}{Words.NoBreak}{form.UnitDisplay}; no known value enters")] : Trace(level, water, form, bench),
            Doubts = steady ? [] : WaterReading.Doubts(level.Known, form, sign, isBought),
            KnownTyped = level.Row.KnownTyped,
        };
    }

    private static List<NumberLine> TogetherNumbers(LevelsJudgement together, ReportingForm form, DecimalSign sign)
    {
        if (together.Line is not { } line)
            return [];
        var unit = Words.NoBreak + form.UnitDisplay;
        string Signed(double value, double expanded, string after)
        {
            var (number, doubt) = NumberWords.WithDoubt(Math.Abs(value), expanded, sign);
            return $"{(value < 0 ? "−" : "+")}{number}{Words.NoBreak}±{Words.NoBreak}{doubt}{after}";
        }
        var lines = new List<NumberLine>
        {
            new("Offset, at zero", Signed(line.Offset.Value, line.OffsetExpanded, unit) + " (95 %)"),
            new("Gain, beyond the value", Signed(line.GainPercent, line.GainPercentExpanded, Words.Narrow + "%") + " (95 %)"),
        };
        if (!line.Offset.IsExact && !line.Gain.IsExact)
            lines.Add(new NumberLine("They move together", $"correlation {NumberWords.Plain(Estimate.Correlation(line.Offset, line.Gain), 2, sign)}"));
        if (together.LargestSharedSource is { } shared)
            lines.Add(new NumberLine("Of the gain’s doubt the waters share", $"{NumberWords.Plain(Math.Round(100 * line.SharedShare), 3, sign)}{Words.Narrow}% of the variance, most from {shared}"));
        if (line.FitP is { } p)
            lines.Add(new NumberLine("Do the levels lie on one line", $"chance of so large a spread if they do: {NumberWords.Plain(p, 2, sign)}"));
        return lines;
    }

    private static string Shown(Replicate reading, DecimalSign sign) => Shown(reading.Typed, reading.Value, reading.Censoring, sign);

    private static string Shown(string typed, double value, Censoring censoring, DecimalSign sign) => Words.Typed(typed, value, censoring, sign);

    /// <summary>A reading's distance from the known value ends where the reading ends.</summary>
    private static string Distance(Replicate reading, double known, DecimalSign sign)
    {
        var shown = Shown(reading, sign);
        var point = shown.IndexOfAny([',', '.']);
        var text = NumberWords.Fixed(reading.Value - known, point < 0 ? 0 : shown.Length - point - 1, sign);
        return reading.Value > known && text.AsSpan().IndexOfAnyInRange('1', '9') >= 0 ? "+" + text : text;
    }

    private static string Scattering(LevelPlan plan, LevelJudgement? judgement, double? sd, int count, DecimalSign sign)
    {
        var size = sd is { } s ? $": {NumberWords.Plain(s, 2, sign)}{Words.NoBreak}{plan.Form.UnitDisplay} between readings" : "";
        if (judgement is not null)
        {
            var few = judgement.Scatter == Scatter.CannotTell && sd is not null && count < 5 ? $"; {Words.Count(count)} readings are too few" : "";
            return VerdictWords.Word(judgement.Scatter) + size + few;
        }
        return sd is null ? "can’t tell yet" : $"can’t tell yet{size} so far";
    }

    /// <summary>The sentence over levels; null where none is judged.</summary>
    private static string? OverLevels(CheckRows rows, LevelsJudgement? together, DecimalSign sign)
    {
        if (together is not null)
            return VerdictWords.Say(together, sign).Sentence;
        foreach (var level in rows.Levels)
        {
            if (JudgeLevel.Judge(rows, level) is { } judgement)
                return $"{VerdictWords.Word(judgement.Verdict)} at {NumberWords.Plain(level.Known.Value, 4, sign)}{Words.NoBreak}{rows.Measured.Form.UnitDisplay}; the other levels were not read to the end.";
        }
        return null;
    }

    private static List<string> WhatToDo(CheckRows rows, LevelRows level, LevelPlan plan, LevelJudgement judgement, ReferenceWater? water, BenchSetting bench)
    {
        var lines = new List<string>();
        switch (judgement.Verdict)
        {
            case Verdict.ReadsRight:
                lines.Add("Nothing: readings near this level may be trusted within your tolerance.");
                break;
            case Verdict.CannotTell:
                lines.Add(Words.Capital(VerdictWords.Remedy(plan, judgement, bench.Sign)));
                lines.Add($"Until it is settled, make no correction for {Words.Small(rows.Measured.Name)}.");
                break;
            default:
                lines.Add($"Do not dose on this number. Hold the last proven rate, and make no correction until a second stock has spoken.");
                lines.Add("Check again with water from a second stock. The error may be the analyser’s or the stock’s; only a second stock tells.");
                break;
        }
        if (judgement.Scatter == Scatter.WorseThanUsual)
            lines.Add("The readings scatter more than usual. Look for bubbles, a film on the cell, or a worn tube before you trust single readings.");
        if (judgement.HasTrend)
            lines.Add($"The readings {(judgement.TrendSign > 0 ? "climb" : "fall")} one after the other. Something was still settling: temperature, rinsing, or residue of the water before.");
        if (judgement.Outliers.Count > 0)
        {
            var outlier = judgement.Outliers[0];
            var number = level.Replicates.Where(r => r.ExcludedReason is null).ElementAt(outlier.Index).Ordinal;
            lines.Add($"Reading {number} lies far from the others. Leave it out only for a cause that was seen; both verdicts stay.");
        }
        if (water is { UseBy: { } useBy } && useBy < bench.DayOf(rows.Check.StartedAt))
            lines.Add($"{water.Label} was good until {Words.Day(useBy, bench.Today)}, before this check. Make it fresh before you act on this.");
        return lines;
    }

    private static List<NumberLine> Numbers(LevelPlan plan, LevelJudgement judgement, LevelRows level, ReportingForm form, DecimalSign sign)
    {
        var unit = Words.NoBreak + form.UnitDisplay;
        var bias = judgement.Bias;
        var doubt = bias.Expanded is > 0 and { } e ? e : plan.ToleranceHere / 10;
        var coverage = $"{NumberWords.Plain(100 * bias.Coverage, 3, sign)}{Words.Narrow}%";
        var lines = new List<NumberLine>
        {
            new("Known value", WaterReading.KnownWords(level.Known, form, sign)),
            new(judgement.N == 1 ? "The reading" : $"Mean of {CheckWriting.Readings(judgement.N)}", NumberWords.Value(judgement.Mean, doubt, sign) + unit),
        };
        var off = bias.Expanded is > 0
            ? $"{NumberWords.Signed(bias.Value, doubt, sign)}{Words.NoBreak}±{Words.NoBreak}{NumberWords.WithDoubt(bias.Value, doubt, sign).Doubt}{unit} ({coverage})"
            : $"{NumberWords.Signed(bias.Value, doubt, sign)}{unit}";
        lines.Add(new NumberLine("How far off", off));
        if (judgement.RecoveryPercent is { } recovery && !plan.IsNearZero)
            lines.Add(new NumberLine("Recovery", NumberWords.Percent(recovery, 100 * doubt / plan.Reference.Value, sign)));
        lines.Add(new NumberLine("Tolerance", Words.ToleranceAt(plan.Tolerance, plan.Reference.Value, form, sign)));
        if (judgement.ProbabilityWithinTolerance is { } p)
        {
            var chance = p < 0.01 ? $"less than 1{Words.Narrow}%" : p > 0.99 ? $"more than 99{Words.Narrow}%" : $"{NumberWords.Plain(Math.Round(100 * p), 2, sign)}{Words.Narrow}%";
            lines.Add(new NumberLine("Chance that it is within tolerance", chance));
        }
        lines.Add(new NumberLine("Scatter", Scattering(plan, judgement, judgement.Censored == 0 ? judgement.Sd : null, judgement.N, sign)));
        if (plan.Prior is { } prior)
        {
            var from = prior.IsTypical ? "typical, not yours" : "your own, from earlier checks";
            lines.Add(new NumberLine("Usual scatter", $"{NumberWords.Plain(prior.Value, 2, sign)}{unit}, {from}{(plan.PoolPrior ? "; pooled with these readings" : "; not used for the verdict")}"));
        }
        if (judgement.SmallestVisibleBias is { } smallest)
            lines.Add(new NumberLine("Smallest error that such a check shows", NumberWords.Plain(smallest, 2, sign) + unit));
        lines.Add(new NumberLine("What limits this check", judgement.ReadingsAreTheLimit ? "the readings, not the known water" : judgement.LargestIrreducibleSource is { } source ? Words.Small(source) : "the known water, not the readings"));
        return lines;
    }

    private static List<NumberLine> Trace(LevelRows level, ReferenceWater? water, ReportingForm form, BenchSetting bench)
    {
        var (sign, today) = (bench.Sign, bench.Today);
        var lines = new List<NumberLine> { new("Known water", water is null ? $"{level.Row.KnownTyped}{Words.NoBreak}{form.UnitDisplay}, as typed" : water.Label) };
        if (level.Row.KnownTyped.Length > 0)
        {
            var doubt = level.Row.DoubtTyped.EndsWith('%') ? level.Row.DoubtTyped : $"{level.Row.DoubtTyped}{Words.NoBreak}{(water is null ? form.UnitDisplay : ReportingForm.Parse(water.Form).UnitDisplay)}";
            lines.Add(new NumberLine("Its doubt as stated", $"{doubt}: {Words.DoubtKind(level.Row.DoubtKind)}"));
        }
        if (water is not null)
        {
            if (water.MadeOn is { } made)
                lines.Add(new NumberLine("Made or opened", Words.DayAndYear(made)));
            if (water.Matrix is not null)
                lines.Add(new NumberLine("Matrix", Words.Water(water.Matrix, water.Salinity, sign)));
            if (water.UseBy is { } useBy)
                lines.Add(new NumberLine("Use by", Words.Day(useBy, today)));
        }
        lines.Add(new NumberLine("Traceable to", water is null ? "not said yet" : Words.Origin(water.Origin, water.OriginDetail)));
        return lines;
    }

    /// <summary>“Begun although KW-36 is past its date: a new bottle comes on Friday.”</summary>
    private static string Although(NumberLine begun)
    {
        var end = begun.Term.IndexOf(". ", StringComparison.Ordinal);
        return $"Begun although {Words.Small(end < 0 ? begun.Term.TrimEnd('.') : begun.Term[..end])}: {begun.Value.TrimEnd('.')}.";
    }

    private static List<NumberLine> Trace(Check check, MethodLine? method, IReadOnlyList<CheckLot> lots, IReadOnlyList<InstrumentSetting> settings, IReadOnlyList<NumberLine> begun, BenchSetting bench, string day)
    {
        var lines = new List<NumberLine> { new("Checked", $"{day}, {bench.At(check.StartedAt).ToString("HH':'mm", null)}{(check.Who.Length > 0 ? $", by {check.Who}" : "")}") };
        if (method is not null)
        {
            lines.Add(new NumberLine("Instrument", method.InstrumentName));
            lines.Add(new NumberLine("Method", method.Name));
        }
        foreach (var lot in lots)
            lines.Add(new NumberLine("Reagent lot", $"{lot.Name}{(lot.Reagent.Length > 0 ? $", {lot.Reagent}" : "")}{(lot.Expired ? ", past its date" : "")}{(lot.OnlyLevel is { } only ? only == 1 ? ": the old bottle" : ": the new bottle" : "")}"));
        if (check.BeforeAt is { } looked)
            lines.Add(new NumberLine("Before the first reading", $"looked at {Words.ShortMoment(bench.At(looked), bench.Today)}; {(begun.Count == 0 ? "all held" : begun.Count == 1 ? "one thing in the way" : $"{Words.Count(begun.Count)} things in the way")}"));
        if (check.ExpiredLotReason.Length > 0)
            lines.Add(new NumberLine("Used past its date because", check.ExpiredLotReason));
        foreach (var setting in settings.GroupBy(s => s.What, StringComparer.OrdinalIgnoreCase).Select(g => g.Last()))
            lines.Add(new NumberLine(Words.Capital(setting.What), $"{setting.New}, set {Words.DayAndYear(setting.On)}"));
        if (check.ToleranceSource.Length > 0)
            lines.Add(new NumberLine("Tolerance from", check.ToleranceSource));
        if (KitScale.Of(check) is { } kit)
            lines.Add(new NumberLine("Read", kit.Words(ReportingForm.Parse(check.Form), bench.Sign)));
        if (check.ConditioningRuns > 0)
            lines.Add(new NumberLine("Conditioning", $"{Words.Count(check.ConditioningRuns)} {(check.ConditioningRuns == 1 ? "run" : "runs")} at the beginning of each series, declared beforehand not to count"));
        if (check.ExtensionDeclared)
            lines.Add(new NumberLine("Extension", check.ExtensionTaken ? "declared beforehand and taken" : "declared beforehand, not taken"));
        if (check.State == CheckState.Stopped)
            lines.Add(new NumberLine("Stopped", check.StopReason.Length > 0 ? check.StopReason : "before its last reading"));
        return lines;
    }
}
