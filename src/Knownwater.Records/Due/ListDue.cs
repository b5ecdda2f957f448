using Knownwater.Checks;
using Knownwater.Drift;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Drift;
using Knownwater.Records.Instruments;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Records.Tanks;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Due;

/// <summary>Lists what needs doing now, each with its reason.</summary>
public sealed class ListDue(RecordsContext records, Clock clock)
{
    private const int DaysBeforeExpiry = 14;
    private const int MostChecks = 100;

    /// <summary>Reads what is due.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>What is due: what is out of the ordinary first, then by instrument.</returns>
    public async Task<DueList> Handle(CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var items = new List<DueItem>();
        foreach (var dosing in await ReadDosing.StillPaused(records, bench, cancel))
            items.Add(new DueItem(DueKind.DosingPaused, DueWhen.Now, $"Automatic dosing is paused since {dosing.PausedWords}: {dosing.Title}.", dosing.Advice, DueAct.OpenDosing, "Let it listen again", Check: dosing.Check));
        await Checks(items, bench, cancel);
        var nextCheck = await Methods(items, bench, cancel);
        await Alarms(items, bench, cancel);
        await Lots(items, bench, cancel);
        await Waters(items, bench, cancel);
        await Doubts(items, bench, cancel);
        foreach (var round in (await ListRounds.Read(records, bench, cancel)).Where(r => !r.IsDone))
            items.Add(new DueItem(DueKind.UnfinishedRound, DueWhen.Now, $"{round.Label}: {Words.Count(round.Done)} of {Words.Count(round.Of)} checks run.", $"{round.Methods}. What was made and run stands; the rest can be gone on with.", DueAct.OpenRound, "Go on with it", Round: round.Id));
        return new DueList(await Groups(items, cancel), Words.Weekday(bench.Today), Summary(items, nextCheck, bench));
    }

    /// <summary>What is out of the ordinary, then what there is to do at each instrument by its name, then what belongs to none.</summary>
    private async Task<IReadOnlyList<DueGroup>> Groups(List<DueItem> items, CancellationToken cancel)
    {
        var methods = await CheckReading.Methods(records, [.. items.Select(i => i.Method).OfType<Guid>().Distinct()], cancel);
        string Instrument(DueItem item) => item.Method is { } id && methods.TryGetValue(id, out var method) ? method.InstrumentName : "";
        var exceptions = items.Where(IsException).OrderBy(i => i.Kind switch { DueKind.ReadsWrong => 0, DueKind.Alarm => 1, DueKind.InDoubt => 2, _ => 3 }).ThenBy(Instrument, StringComparer.OrdinalIgnoreCase).ToList();
        var groups = new List<DueGroup>();
        if (exceptions.Count > 0)
            groups.Add(new DueGroup(exceptions.Count == 1 ? "Look at this first" : "Look at these first", exceptions));
        foreach (var group in items.Where(i => !IsException(i)).GroupBy(i => (Instrument: Instrument(i), Kind: Instrument(i).Length > 0 ? DueKind.UnfinishedCheck : Shelved(i.Kind)))
                     .OrderBy(g => g.Key.Instrument.Length == 0).ThenBy(g => g.Key.Instrument, StringComparer.OrdinalIgnoreCase).ThenBy(g => g.Key.Kind))
        {
            var heading = group.Key switch
            {
                { Instrument: { Length: > 0 } instrument } => instrument,
                { Kind: DueKind.UnfinishedRound } => "Rounds",
                { Kind: DueKind.WaterPastUse } => "On the shelf",
                _ => "Checks without an instrument",
            };
            groups.Add(new DueGroup(heading, [.. group.OrderBy(i => i.When).ThenBy(i => i.Kind)]));
        }
        return groups;
    }

    private static bool IsException(DueItem item) => item.Kind is DueKind.ReadsWrong or DueKind.Alarm or DueKind.InDoubt or DueKind.DosingPaused;

    private static DueKind Shelved(DueKind kind) => kind switch
    {
        DueKind.WaterPastUse or DueKind.StockPastUse => DueKind.WaterPastUse,
        DueKind.UnfinishedRound => DueKind.UnfinishedRound,
        _ => DueKind.UnfinishedCheck,
    };

    private static string Summary(List<DueItem> items, (string Name, LocalDate On)? next, BenchSetting bench)
    {
        if (items.Count == 0)
            return next is { } n ? $"Nothing is due. The next check is {Words.Small(n.Name)}, on {Words.Day(n.On, bench.Today)}." : "Nothing is due. A quick verdict takes known water and a few readings.";
        var now = items.Count(i => i.When == DueWhen.Now);
        var count = items.Count == 1 ? "One thing is due" : $"{Words.Capital(Words.Count(items.Count))} things are due";
        return now == items.Count ? $"{count}{(items.Count == 1 ? ", now" : ", all of them now")}." : now == 0 ? $"{count}, none of them at once." : $"{count}, {Words.Count(now)} of them now.";
    }

    private async Task Checks(List<DueItem> items, BenchSetting bench, CancellationToken cancel)
    {
        // Of each method the last check with a verdict speaks; an open check and one without a method speak for themselves.
        var open = await CheckRows.Read(records, records.Checks.AsNoTracking().Where(c => c.State == CheckState.Open).OrderByDescending(c => c.StartedAt).Take(MostChecks), cancel);
        var loose = await CheckRows.Read(records, records.Checks.AsNoTracking().Where(c => c.MethodId == null && c.Verdict != null).OrderByDescending(c => c.StartedAt).Take(MostChecks), cancel);
        var methodIds = await records.Methods.Select(m => m.Id).ToListAsync(cancel);
        var lastIds = (await InstrumentReading.LastChecks(records, methodIds, cancel)).Values.Select(c => c.Id).ToList();
        var last = await CheckRows.Read(records, records.Checks.AsNoTracking().Where(c => lastIds.Contains(c.Id)).OrderByDescending(c => c.StartedAt), cancel);
        var lines = await CheckReading.Methods(records, open.Concat(last).Select(c => c.Check.MethodId).OfType<Guid>().Distinct().ToList(), cancel);
        foreach (var rows in open)
            items.Add(new DueItem(DueKind.UnfinishedCheck, DueWhen.Now, $"{CheckReading.Title(rows, lines)}: {CheckReading.Progress(rows)}.", "The check is not finished; without its last reading it says nothing.", DueAct.GoOn, "Go on reading", Check: rows.Check.Id, Method: rows.Check.MethodId));
        foreach (var rows in last.Concat(loose.Where(l => !l.Check.Kept || bench.Now - l.Check.StartedAt < Duration.FromDays(60))))
            Verdicts(items, rows, CheckReading.Title(rows, lines), bench);
    }

    private static void Verdicts(List<DueItem> items, CheckRows rows, string title, BenchSetting bench)
    {
        var check = rows.Check;
        var sentence = $"{title}: {CheckReading.Sentence(rows, bench.Sign)}";
        switch (check.Verdict)
        {
            case Verdict.CannotTell when !check.ExtensionRenounced:
                items.Add(new DueItem(DueKind.CannotTell, DueWhen.Now, sentence, "Until it is settled, make no correction on its readings.", DueAct.OpenCheck, "Open the check", Check: check.Id, Method: check.MethodId, Verdict: check.Verdict));
                break;
            case Verdict.ReadsHigh or Verdict.ReadsLow:
                items.Add(new DueItem(DueKind.ReadsWrong, DueWhen.Now, sentence, "Hold the last proven rate until a second stock has spoken; the error may be the analyser’s or the stock’s.", DueAct.OpenCheck, "Open the check", Check: check.Id, Method: check.MethodId, Verdict: check.Verdict));
                break;
        }
        if (!check.Kept)
            items.Add(new DueItem(DueKind.NotKept, DueWhen.Soon, $"{title}, {Words.Day(bench.DayOf(check.StartedAt), bench.Today)}: say where the known value came from.", "Only then can the verdict be traced; until then nobody can tell what it rests on.", DueAct.Keep, "Keep it", Check: check.Id, Verdict: check.Verdict));
    }

    private async Task<(string Name, LocalDate On)?> Methods(List<DueItem> items, BenchSetting bench, CancellationToken cancel)
    {
        (string Name, LocalDate On)? next = null;
        foreach (var date in await CheckDate.Read(records, bench, cancel))
        {
            DueItem Item(DueKind kind, DueWhen when, string sentence, string reason) =>
                new(kind, when, sentence, reason, DueAct.PlanCheck, "Plan a check", Method: date.Method.Id, Instrument: date.Instrument.Id, Check: date.Last?.Id);
            if (date.Next is not { } course)
            {
                items.Add(date.Last is null
                    ? Item(DueKind.NeverChecked, DueWhen.Soon, $"{date.Name} was never checked.", "Nobody knows yet whether it reads right.")
                    : Item(DueKind.NeverChecked, DueWhen.Soon, $"{date.Name} has no check against known water that counts for its course.", "Nobody knows yet whether it reads right from day to day."));
                continue;
            }
            switch (course.Reason)
            {
                case NextCheckReason.EventSince:
                    items.Add(Item(course.IsLot ? DueKind.NewLot : DueKind.ChangedSince, DueWhen.Now, $"Check {Words.Small(date.Name)}: {course.SinceWords}.", date.LastOn is { } on ? $"The last check, on {Words.Day(on, bench.Today)}, was before that." : course.ReasonWords));
                    break;
                // where the last check said so itself, that stands here already
                case NextCheckReason.WrongAlready when date.Last is { Verdict: Verdict.ReadsHigh or Verdict.ReadsLow }:
                    break;
                case NextCheckReason.WrongAlready:
                    items.Add(Item(DueKind.MayReadWrong, DueWhen.Now, $"Check {Words.Small(date.Name)} again.", course.ReasonWords));
                    break;
                default:
                    if (course.On <= bench.Today)
                        items.Add(Item(DueKind.CheckIsOld, DueWhen.Now, $"Check {Words.Small(date.Name)}.", course.ReasonWords));
                    else if (next is null || course.On < next.Value.On)
                        next = (date.Method.ParameterName, course.On);
                    break;
            }
        }
        return next;
    }

    /// <summary>Alarms that nobody closed and no event explains, of each method together; they are recorded where the dates of the methods are read.</summary>
    private async Task Alarms(List<DueItem> items, BenchSetting bench, CancellationToken cancel)
    {
        foreach (var of in (await AlarmLines.Read(records, null, bench, cancel)).Where(a => a.IsOpen).GroupBy(a => a.Method))
        {
            var raised = of.Reverse().ToList();
            var what = raised.Count == 1 ? $"the check of {raised[0].DayWords} fell far {raised[0].SideWords} what was foretold" : $"the checks of {Words.List([.. raised.Select(a => a.DayWords)])} fell far from what was foretold";
            items.Add(new DueItem(DueKind.Alarm, DueWhen.Now, $"{await MethodCourse.TitleOf(records, of.Key, cancel)}: {what}.", raised.Count == 1 ? "Look at what changed before it, and close the alarm with what it was." : "Look at what changed before them, and close each alarm with what it was.",
                DueAct.OpenCourse, "Open its course", Method: of.Key));
        }
    }

    private async Task Lots(List<DueItem> items, BenchSetting bench, CancellationToken cancel)
    {
        var soon = bench.Today.PlusDays(DaysBeforeExpiry);
        var uses = await (
            from use in records.MethodLots.AsNoTracking()
            where use.To == null
            join lot in records.Lots on use.LotId equals lot.Id
            where lot.EmptiedOn == null && lot.ExpiresOn != null
            join method in records.Methods on use.MethodId equals method.Id
            select new { Lot = lot, method.InstrumentId, MethodId = method.Id }).ToListAsync(cancel);
        foreach (var use in uses.GroupBy(u => u.Lot.Id).Select(g => g.First()).Where(u => u.Lot.ExpiresOn <= soon).OrderBy(u => u.Lot.ExpiresOn))
        {
            var on = use.Lot.ExpiresOn!.Value;
            var past = on < bench.Today;
            var sentence = past ? $"Lot {use.Lot.Name} is past its date since {Words.Day(on, bench.Today)}. Open a fresh one." : $"Lot {use.Lot.Name} is good until {Words.Day(on, bench.Today)}. Have a fresh one ready.";
            items.Add(new DueItem(DueKind.LotExpires, past ? DueWhen.Now : DueWhen.Soon, sentence, "An old reagent changes how the method reads.", DueAct.OpenInstrument, "Open the instrument", Method: use.MethodId, Instrument: use.InstrumentId, Lot: use.Lot.Id));
        }
    }

    /// <summary>Of each method that failed, what is in doubt and was not cleared, by the tanks.</summary>
    private async Task Doubts(List<DueItem> items, BenchSetting bench, CancellationToken cancel)
    {
        var found = new List<(string Tanks, DueItem Item)>();
        foreach (var span in await DoubtSpan.Read(records, _ => true, cancel))
        {
            var readings = await span.ReadingsInDoubt(records).GroupBy(r => r.TankId).Select(g => new { g.Key, Count = g.Count() }).ToListAsync(cancel);
            var doses = await span.DosesInDoubt(records).GroupBy(d => d.TankId).Select(g => new { g.Key, Count = g.Count() }).ToListAsync(cancel);
            var (ofReadings, ofDoses) = (readings.Sum(r => r.Count), doses.Sum(d => d.Count));
            if (ofReadings + ofDoses == 0)
                continue;
            var ids = readings.Select(r => r.Key).Concat(doses.Select(d => d.Key)).Distinct().ToList();
            var tanks = await records.Tanks.AsNoTracking().Where(t => ids.Contains(t.Id)).OrderBy(t => t.Name).Select(t => t.Name).ToListAsync(cancel);
            var check = span.Failures[^1];
            var parameter = await records.Checks.AsNoTracking().Where(c => c.Id == check.Check).Select(c => new { c.ParameterKey, c.OtherName, c.Form }).SingleAsync(cancel);
            var of = $" of {Words.Small(Measured.Of(parameter.ParameterKey, parameter.OtherName, parameter.Form).Name)} in {Words.List(tanks)}";
            var count = (ofReadings, ofDoses) switch
            {
                (0, _) => DoubtWords.Count(0, ofDoses) + of,
                (_, 0) => DoubtWords.Count(ofReadings, 0) + of,
                _ => $"{DoubtWords.Count(ofReadings, 0)}{of} and {DoubtWords.Count(0, ofDoses)}",
            };
            found.Add((Words.List(tanks), new DueItem(DueKind.InDoubt, DueWhen.Now, $"{Words.Capital(count)} {DoubtWords.Are(ofReadings, ofDoses)} in doubt, {span.SinceWords(bench)}.",
                $"The check of {Words.Day(bench.DayOf(check.At), bench.Today)} failed; clear what is believed after all, with the reason.", DueAct.LookBack, "Look back", Check: check.Check, Method: span.Method)));
        }
        items.AddRange(found.OrderBy(f => f.Tanks, StringComparer.OrdinalIgnoreCase).Select(f => f.Item));
    }

    private async Task Waters(List<DueItem> items, BenchSetting bench, CancellationToken cancel)
    {
        foreach (var age in await AgeToday.Read(records, bench, cancel))
            items.Add(new DueItem(DueKind.WaterPastUse, age.IsNow ? DueWhen.Now : DueWhen.Soon, age.Sentence, age.Reason, DueAct.OpenWater, "Open the water", Water: age.Water.Id));
        var today = bench.Today;
        foreach (var stock in (await records.Stocks.AsNoTracking().Where(s => s.UseBy != null && s.BottleId == null).ToListAsync(cancel)).Where(s => s.UseBy < today).OrderBy(s => s.UseBy))
        {
            items.Add(new DueItem(DueKind.StockPastUse, DueWhen.Now, $"{stock.Label} is past its date since {Words.Day(stock.UseBy!.Value, today)}. Open a fresh stock.",
                "Its value may have moved, and with it that of every water made from it.", DueAct.OpenStock, "Open the stock", Stock: stock.Id));
        }
    }
}

/// <summary>What is due.</summary>
/// <param name="Groups">What is out of the ordinary first, then by instrument, then what belongs to none.</param>
/// <param name="TodayWords">“Thursday 3 September 2026”.</param>
/// <param name="Summary">“Four things are due, two of them now.”, or “Nothing is due. …”.</param>
public sealed record DueList(IReadOnlyList<DueGroup> Groups, string TodayWords, string Summary)
{
    /// <summary>All of it, in the order of the groups.</summary>
    public IReadOnlyList<DueItem> Items { get; } = [.. Groups.SelectMany(g => g.Items)];
}

/// <summary>What is due in one place.</summary>
/// <param name="Heading">“Look at these first”, the name of an instrument, “On the shelf”.</param>
/// <param name="Items">Each with its reason, what is due now first.</param>
public sealed record DueGroup(string Heading, IReadOnlyList<DueItem> Items);

/// <summary>How soon.</summary>
public enum DueWhen
{
    /// <summary>Now.</summary>
    Now = 0,

    /// <summary>Within the next days.</summary>
    Soon = 1,
}

/// <summary>Why it is due.</summary>
public enum DueKind
{
    /// <summary>A check with readings missing.</summary>
    UnfinishedCheck = 0,

    /// <summary>A check that can't tell yet.</summary>
    CannotTell = 1,

    /// <summary>A method that reads high or low.</summary>
    ReadsWrong = 2,

    /// <summary>A method that was never checked.</summary>
    NeverChecked = 3,

    /// <summary>A method whose last check is old.</summary>
    CheckIsOld = 4,

    /// <summary>A lot opened since the last check.</summary>
    NewLot = 5,

    /// <summary>A lot at or past its date.</summary>
    LotExpires = 6,

    /// <summary>A known water at or past its date.</summary>
    WaterPastUse = 7,

    /// <summary>A quick verdict that was not kept yet.</summary>
    NotKept = 8,

    /// <summary>A round with checks that were not run.</summary>
    UnfinishedRound = 9,

    /// <summary>A stock at or past its date.</summary>
    StockPastUse = 10,

    /// <summary>Automatic dosing that was paused for a check and does not listen again yet.</summary>
    DosingPaused = 11,

    /// <summary>Readings or doses that a failed check put in doubt.</summary>
    InDoubt = 12,

    /// <summary>A setting or a part changed since the last check.</summary>
    ChangedSince = 13,

    /// <summary>A method that by its course may read wrong already.</summary>
    MayReadWrong = 14,

    /// <summary>An alarm that nobody closed and no event explains.</summary>
    Alarm = 15,
}

/// <summary>What to do about it; the page makes a link of it.</summary>
public enum DueAct
{
    /// <summary>Open the check to go on reading.</summary>
    GoOn = 0,

    /// <summary>Open the check.</summary>
    OpenCheck = 1,

    /// <summary>Plan a check on the method.</summary>
    PlanCheck = 2,

    /// <summary>Open the instrument of the lot.</summary>
    OpenInstrument = 3,

    /// <summary>Open the water.</summary>
    OpenWater = 4,

    /// <summary>Keep the check and describe it.</summary>
    Keep = 5,

    /// <summary>Open the round.</summary>
    OpenRound = 6,

    /// <summary>Open the stock.</summary>
    OpenStock = 7,

    /// <summary>Note that dosing listens again.</summary>
    OpenDosing = 8,

    /// <summary>Look back from the check.</summary>
    LookBack = 9,

    /// <summary>Open the course of the method.</summary>
    OpenCourse = 10,
}

/// <summary>One thing that is due.</summary>
/// <param name="Kind">Why.</param>
/// <param name="When">How soon.</param>
/// <param name="Sentence">What to do or what is so, in a sentence.</param>
/// <param name="Reason">Why, in a sentence.</param>
/// <param name="Act">What the page offers.</param>
/// <param name="ActWords">What the link says.</param>
/// <param name="Check">The check concerned.</param>
/// <param name="Method">The method concerned.</param>
/// <param name="Instrument">The instrument concerned.</param>
/// <param name="Lot">The lot concerned.</param>
/// <param name="Water">The water concerned.</param>
/// <param name="Verdict">The verdict concerned, for its symbol.</param>
/// <param name="Round">The round concerned.</param>
/// <param name="Stock">The stock concerned.</param>
public sealed record DueItem(DueKind Kind, DueWhen When, string Sentence, string Reason, DueAct Act, string ActWords, Guid? Check = null, Guid? Method = null, Guid? Instrument = null, Guid? Lot = null, Guid? Water = null, Verdict? Verdict = null, Guid? Round = null, Guid? Stock = null);
