using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Checks;
using Knownwater.Records.Drift;
using Knownwater.Records.Due;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Tests.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Tests.Due;

public sealed class DueTests(PostgresCluster cluster)
{
    private static Task<DueList> List(TestBench bench) => bench.Do<ListDue, DueList>(u => u.Handle(default));

    [Theory, ClassData(typeof(BothStores))]
    public async Task Nothing_is_due_on_an_empty_bench(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var due = await List(bench);
        Assert.Empty(due.Items);
        Assert.StartsWith("Nothing is due.", due.Summary, StringComparison.Ordinal);
        Assert.StartsWith("Thursday 3", due.TodayWords, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Each_thing_stands_with_its_reason_and_goes_when_it_is_done(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        Assert.Equal(DueKind.NeverChecked, Assert.Single((await List(bench)).Items).Kind);

        // An unfinished check says how far it has come, and the method no longer counts as never checked.
        var check = await bench.Alkalinity(5, method: method);
        await bench.Keep(check, "7.9");
        await bench.Keep(check, "8.0");
        var unfinished = Assert.Single((await List(bench)).Items);
        Assert.Equal((DueKind.UnfinishedCheck, DueWhen.Now, DueAct.GoOn), (unfinished.Kind, unfinished.When, unfinished.Act));
        Assert.Equal("Alkalinity on the harbour analyser: 2 of 5 readings.", unfinished.Sentence);
        foreach (var reading in new[] { "7.8", "7.9", "7.9" })
            await bench.Keep(check, reading);
        var none = await List(bench);
        Assert.Empty(none.Items);
        var by = (await bench.Do<ViewDrift, DriftView?>(u => u.Handle(method, null, null, default)))!.NextOn!.Value;
        Assert.True(by > new LocalDate(2026, 9, 3));
        Assert.Equal($"Nothing is due. The next check is alkalinity, on {Words.Day(by, new LocalDate(2026, 9, 3))}.", none.Summary);

        // A lot opened after the check, and one near its date.
        bench.Time.Advance(TimeSpan.FromDays(1));
        await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = "A-20", ExpiresOn = "2026-09-10" }, default));
        Assert.Equal([DueKind.NewLot, DueKind.LotExpires], (await List(bench)).Items.Select(i => i.Kind));
        Assert.Equal("Two things are due, one of them now.", (await List(bench)).Summary);

        // It reads high: that is what is due then.
        await bench.Alkalinity(Plans.High, method: method);
        var high = (await List(bench)).Items[0];
        Assert.Equal((DueKind.ReadsWrong, Verdict.ReadsHigh), (high.Kind, high.Verdict));
        Assert.Contains("Reads high by 10.6", high.Sentence, StringComparison.Ordinal);

        // Weeks later the lot is past its date; that the method is to be checked is said once.
        bench.Time.Advance(TimeSpan.FromDays(60));
        var later = (await List(bench)).Items;
        Assert.Single(later, i => i.Method == method && i.Kind is DueKind.ReadsWrong or DueKind.CheckIsOld or DueKind.MayReadWrong);
        Assert.Contains(later, i => i.Kind == DueKind.LotExpires && i.When == DueWhen.Now && i.Sentence.Contains("past its date", StringComparison.Ordinal));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_is_out_of_the_ordinary_stands_first_and_the_rest_by_instrument(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser("Harbour analyser");
        var other = ((AddInstrument.Outcome.Added)await bench.Do<AddInstrument, AddInstrument.Outcome>(u => u.Handle(new AddInstrument.Command { Name = "Attic kit", Kind = InstrumentKind.HandKit }, default))).Instrument;
        await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(new AddMethod.Command { Instrument = other, Parameter = "nitrate", Form = "mg/L NO3", Matrix = Matrix.Seawater, Resolution = "1" }, default));
        await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = "A-19", ExpiresOn = "2026-09-05" }, default));
        var water = await bench.Water();
        await bench.Alkalinity(Plans.Right);
        await bench.Alkalinity(Plans.High, method: method);

        var soon = await List(bench);
        Assert.Equal(["Look at this first", "Attic kit", "Harbour analyser", "Checks without an instrument"], soon.Groups.Select(g => g.Heading));
        Assert.Equal(DueKind.ReadsWrong, Assert.Single(soon.Groups[0].Items).Kind);
        Assert.Equal([DueKind.NeverChecked, DueKind.LotExpires, DueKind.NotKept], soon.Groups.Skip(1).Select(g => Assert.Single(g.Items).Kind));
        Assert.All(soon.Groups.Skip(1), g => Assert.Equal(DueWhen.Soon, g.Items[0].When));

        // what is past its day is due now, wherever it stands
        bench.Time.Advance(TimeSpan.FromDays(70));
        var late = await List(bench);
        Assert.Equal(["Attic kit", "Harbour analyser", "On the shelf"], late.Groups.Select(g => g.Heading).Where(h => !h.StartsWith("Look at", StringComparison.Ordinal) && !h.StartsWith("Checks", StringComparison.Ordinal)));
        Assert.All(late.Items.Where(i => i.Kind is DueKind.LotExpires or DueKind.WaterPastUse), i => Assert.Equal(DueWhen.Now, i.When));
        Assert.Contains(late.Items, i => i.Water == water);
        Assert.Equal(late.Groups.SelectMany(g => g.Items), late.Items);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_quick_verdict_wants_to_be_kept_and_old_water_to_be_made_fresh(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(Plans.Right);
        var keep = Assert.Single((await List(bench)).Items);
        Assert.Equal((DueKind.NotKept, DueAct.Keep, check), (keep.Kind, keep.Act, keep.Check));
        await bench.Do<DescribeCheck, DescribeCheck.Outcome>(u => u.Handle(new DescribeCheck.Command { Check = check }, default));
        Assert.Empty((await List(bench)).Items);
        var water = await bench.Water();
        bench.Time.Advance(TimeSpan.FromDays(14));
        var old = Assert.Single((await List(bench)).Items);
        Assert.Equal((DueKind.WaterPastUse, water), (old.Kind, old.Water));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_is_due_is_what_the_course_says(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        Task<DriftView?> Course() => bench.Do<ViewDrift, DriftView?>(u => u.Handle(method, null, null, default));
        async Task<DatedItem> Same()
        {
            var (course, dated) = ((await Course())!, (await bench.Do<ListDates, IReadOnlyList<DatedItem>>(u => u.Handle(default))).Single(d => d.Key == $"check-{method:N}"));
            Assert.Equal(course.NextOn, dated.On);
            // “Check by 2 November: by then the chance …” and “By 2 November the chance …”: one chance, one reason
            Assert.EndsWith(course.Next[course.Next.LastIndexOf("chance", StringComparison.Ordinal)..], dated.Item.Reason, StringComparison.Ordinal);
            return dated;
        }

        for (var fortnight = 0; fortnight < 9; fortnight++)
        {
            await bench.Alkalinity(fortnight % 2 == 0 ? Plans.Right : ["8.0", "7.9", "7.9", "8.0", "7.9"], method: method);
            var dated = await Same();
            Assert.Equal(fortnight < 7, dated.Item.Reason.Contains("Until eight checks", StringComparison.Ordinal));
            bench.Time.Advance(TimeSpan.FromDays(14));
        }
        var by = (await Same()).On;

        // a reading of the last check is taken out: the day moves with the page, or stays with it
        var last = (await bench.Do<ListChecks, CheckList>(u => u.Handle(new ListChecks.Query(), default))).Items[0].Id;
        Assert.IsType<ExcludeReading.Outcome.Excluded>(await bench.Do<ExcludeReading, ExcludeReading.Outcome>(u => u.Handle(new ExcludeReading.Command { Check = last, Level = 1, Reading = 1, Reason = "a bubble" }, default)));
        await Same();
        await bench.Do<ChangeDriftWatch, ChangeDriftWatch.Outcome>(u => u.Handle(new ChangeDriftWatch.Command { FalseAlarms = "1", Risk = "1" }, default));
        Assert.NotEqual(by, (await Same()).On);
        await bench.Do<ChangeDriftWatch, ChangeDriftWatch.Outcome>(u => u.Handle(new ChangeDriftWatch.Command { FalseAlarms = "1", Risk = "10" }, default));

        // a changed setting, and then a new lot, makes it due at once
        Assert.DoesNotContain((await List(bench)).Items, i => i.Kind is DueKind.NewLot or DueKind.ChangedSince);
        await bench.Do<RecordSetting, RecordSetting.Outcome>(u => u.Handle(new RecordSetting.Command { Instrument = instrument, What = "Factor", Old = "1.00", New = "1.02" }, default));
        var changed = Assert.Single((await List(bench)).Items, i => i.Kind == DueKind.ChangedSince);
        Assert.Equal("Check alkalinity on the harbour analyser: factor from 1.00 to 1.02 was set on 7\u00a0January 2027.", changed.Sentence.Replace("7\u00a0January.", "7\u00a0January 2027.", StringComparison.Ordinal));
        Assert.StartsWith("Check now: factor from 1.00 to 1.02 was set on", (await Course())!.Next, StringComparison.Ordinal);
        await bench.Alkalinity(Plans.Right, method: method);
        bench.Time.Advance(TimeSpan.FromDays(1));
        await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = "A-20" }, default));
        var lot = Assert.Single((await List(bench)).Items, i => i.Kind == DueKind.NewLot);
        Assert.Equal((DueWhen.Now, DueAct.PlanCheck), (lot.When, lot.Act));
        Assert.StartsWith("Check now: lot A-20 was opened on", (await Course())!.Next, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_a_course_came_to_is_kept_until_its_records_move_on(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        await bench.Alkalinity(Plans.Right, method: method);
        async Task<string> Reason() => (await bench.Do<ListDates, IReadOnlyList<DatedItem>>(u => u.Handle(default))).Single(d => d.Key == $"check-{method:N}").Item.Reason;
        var first = await Reason();

        // what stands there is read and not reckoned: a figure put there by hand is shown
        await using (var records = bench.Store.NewContext())
            await records.KeptCourses.ExecuteUpdateAsync(k => k.SetProperty(c => c.NextChance, 0.77), TestContext.Current.CancellationToken);
        Assert.Contains("77\u202f%", await Reason(), StringComparison.Ordinal);
        // a tank is nothing that a course depends on
        await bench.Do<Records.Tanks.AddTank, Records.Tanks.AddTank.Outcome>(u => u.Handle(new() { Name = "Kelp", Volume = "640" }, default));
        Assert.Contains("77\u202f%", await Reason(), StringComparison.Ordinal);

        // another check, and its undoing
        await bench.Alkalinity(Plans.Right, method: method);
        var second = await Reason();
        Assert.DoesNotContain("77\u202f%", second, StringComparison.Ordinal);
        await bench.Do<Undo, Undo.Outcome>(async u => await u.Handle(new Undo.Command { LastActOfCheck = (await bench.Do<ListChecks, CheckList>(c => c.Handle(new ListChecks.Query(), default))).Items[0].Id }, default));
        await bench.Do<DiscardCheck, DiscardCheck.Outcome>(async u => await u.Handle(new DiscardCheck.Command { Check = (await bench.Do<ListChecks, CheckList>(c => c.Handle(new ListChecks.Query(), default))).Items[0].Id, Reason = "spilt" }, default));
        Assert.Equal(first, await Reason());
    }
}
