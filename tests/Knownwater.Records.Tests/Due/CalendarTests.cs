using Knownwater.Records.Drift;
using Knownwater.Records.Due;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Tests.Storage;
using NodaTime;

namespace Knownwater.Records.Tests.Due;

public sealed class CalendarTests(PostgresCluster cluster)
{
    private static Task<IReadOnlyList<DatedItem>> Dates(TestBench bench) => bench.Do<ListDates, IReadOnlyList<DatedItem>>(u => u.Handle(default));

    private static async Task<string> Open(TestBench bench) =>
        Assert.IsType<OpenCalendarFeed.Outcome.Opened>(await bench.Do<OpenCalendarFeed, OpenCalendarFeed.Outcome>(u => u.Handle(new OpenCalendarFeed.Command { Who = "MJ" }, default))).Pass;

    private static Task<IReadOnlyList<DatedItem>?> Read(TestBench bench, string pass) => bench.Do<ReadCalendarFeed, IReadOnlyList<DatedItem>?>(u => u.Handle(pass, default));

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_method_has_its_date_once_it_was_checked_and_at_once_when_a_lot_is_opened(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        Assert.Empty(await Dates(bench));

        await bench.Alkalinity(Plans.Right, method: method);
        var course = (await bench.Do<ViewDrift, DriftView?>(u => u.Handle(method, null, null, default)))!;
        var next = Assert.Single(await Dates(bench));
        Assert.Equal((course.NextOn, $"check-{method:N}", DueAct.PlanCheck), ((LocalDate?)next.On, next.Key, next.Item.Act));
        Assert.Equal("Check alkalinity on the harbour analyser.", next.Item.Sentence);

        bench.Time.Advance(TimeSpan.FromDays(1));
        await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = "A-20", ExpiresOn = "2027-02-10" }, default));
        var dates = await Dates(bench);
        Assert.Equal([new LocalDate(2026, 9, 4), new LocalDate(2027, 2, 10)], dates.Select(d => d.On));
        Assert.Equal($"check-{method:N}", dates[0].Key);
        Assert.Contains("Lot A-20 was opened on 4\u00a0September, after the last check.", dates[0].Item.Reason, StringComparison.Ordinal);

        // a check that is being run has no date
        await bench.Alkalinity(5, method: method);
        Assert.DoesNotContain(await Dates(bench), d => d.Item.Kind == DueKind.CheckIsOld);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_calendar_is_read_under_its_secret_address_alone_until_it_is_closed(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var first = await Open(bench);
        Assert.NotNull(await Read(bench, first));
        Assert.Null(await Read(bench, ""));
        Assert.Null(await Read(bench, first + "A"));
        Assert.Null(await Read(bench, $"{first[..33]}{new string('A', 43)}"));

        // another address ends the former
        var second = await Open(bench);
        Assert.Null(await Read(bench, first));
        Assert.NotNull(await Read(bench, second));
        Assert.Equal("3\u00a0September", await bench.Do<ReadCalendarFeed, string?>(u => u.OpenSince(default)));

        var closed = Assert.IsType<CloseCalendarFeed.Outcome.Closed>(await bench.Do<CloseCalendarFeed, CloseCalendarFeed.Outcome>(u => u.Handle(new CloseCalendarFeed.Command(), default)));
        Assert.Null(await Read(bench, second));
        Assert.Null(await bench.Do<ReadCalendarFeed, string?>(u => u.OpenSince(default)));
        Assert.IsType<CloseCalendarFeed.Outcome.Missing>(await bench.Do<CloseCalendarFeed, CloseCalendarFeed.Outcome>(u => u.Handle(new CloseCalendarFeed.Command(), default)));
        await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = closed.HistoryEntry }, default));
        Assert.NotNull(await Read(bench, second));
    }
}
