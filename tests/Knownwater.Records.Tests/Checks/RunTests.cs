using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Tests.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Tests.Checks;

public sealed class RunTests(PostgresCluster cluster)
{
    [Theory, ClassData(typeof(BothStores))]
    public async Task A_run_from_its_first_step_to_the_verdict_keeps_each_reading_once(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, 3);
        await Begin(bench, check);
        var device = Guid.NewGuid();
        var typed = new Queue<string>(["8.6", "8,8", "8.7"]);
        for (var view = await View(bench, check); view.Current is { } step; view = await View(bench, check))
        {
            var sent = step.Kind == RunStepKind.Read ? Event(RunEventKind.ReadingKept, step.Index, typed.Dequeue()) : Event(RunEventKind.Done, step.Index);
            Assert.Equal(RunEventFate.Kept, (await Send(bench, check, device, sent)).Single().Fate);
            // told again, as after an answer that was lost
            Assert.Equal(RunEventFate.Kept, (await Send(bench, check, device, sent)).Single().Fate);
        }
        var done = (await bench.View(check))!;
        Assert.Equal(CheckState.Closed, done.State);
        Assert.Equal(["8.6", "8,8", "8.7"], done.Levels[0].Readings.Select(r => r.Typed));
        var run = await View(bench, check);
        Assert.Equal(run.Steps.Count + 1, run.Events.Count);
        Assert.Equal(Enumerable.Range(1, run.Events.Count), run.Events.Select(e => e.Ordinal));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Two_devices_at_once_are_put_in_one_order_and_nothing_is_doubled(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, 3);
        await Begin(bench, check);
        var steps = (await View(bench, check)).Steps;
        SentRunEvent[] Own(string digit)
        {
            var n = 0;
            return [.. steps.Select(s => s.Kind == RunStepKind.Read ? Event(RunEventKind.ReadingKept, s.Index, $"8.{++n}{digit}") : Event(RunEventKind.Done, s.Index))];
        }
        async Task Device(SentRunEvent[] events)
        {
            var device = Guid.NewGuid();
            foreach (var sent in events)
                Assert.Equal(RunEventFate.Kept, (await Send(bench, check, device, sent)).Single().Fate);
        }
        await Task.WhenAll(Task.Run(() => Device(Own("1")), TestContext.Current.CancellationToken), Task.Run(() => Device(Own("2")), TestContext.Current.CancellationToken));
        var run = await View(bench, check);
        Assert.Equal(steps.Count, run.Step);
        Assert.Equal(2 * steps.Count + 1, run.Events.Count);
        Assert.Equal(Enumerable.Range(1, run.Events.Count), run.Events.Select(e => e.Ordinal));
        var readings = (await bench.View(check))!.Levels[0].Readings;
        Assert.Equal(["8.1", "8.2", "8.3"], readings.Select(r => r.Typed[..3]));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_reading_that_is_no_number_is_asked_again_and_what_follows_waits(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, 2);
        await Begin(bench, check);
        var read = (await View(bench, check)).Steps.First(s => s.Kind == RunStepKind.Read).Index;
        var before = Enumerable.Range(0, read).Select(i => Event(RunEventKind.Done, i));
        var answers = await Send(bench, check, Guid.NewGuid(), [.. before, Event(RunEventKind.ReadingKept, read, "8,o"), Event(RunEventKind.Done, read + 1)]);
        Assert.Equal(RunEventFate.Refused, answers[read].Fate);
        Assert.Contains("8,o", answers[read].Sentence, StringComparison.Ordinal);
        Assert.Equal(RunEventFate.Waits, answers[read + 1].Fate);
        var run = await View(bench, check);
        Assert.Equal(read, run.Step);
        Assert.Equal(read + 1, run.Events.Count);
        Assert.Empty((await bench.View(check))!.Levels[0].Readings);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_reading_of_two_meanings_is_answered_with_both_and_a_far_one_kept_when_confirmed(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, 2);
        await Begin(bench, check);
        var read = await ToReading(bench, check);
        var answer = (await Send(bench, check, Guid.Empty, Event(RunEventKind.ReadingKept, read, "1,234"))).Single();
        Assert.Equal(RunEventFate.Refused, answer.Fate);
        Assert.Equal(2, answer.Offers.Count);
        answer = (await Send(bench, check, Guid.Empty, Event(RunEventKind.ReadingKept, read, "79"))).Single();
        Assert.True(answer.Doubtful);
        Assert.Contains("7.9", answer.Offers.Single().Value, StringComparison.Ordinal);
        answer = (await Send(bench, check, Guid.Empty, Event(RunEventKind.ReadingKept, read, "79") with { Confirmed = true })).Single();
        Assert.Equal(RunEventFate.Kept, answer.Fate);
        Assert.Equal("79", (await bench.View(check))!.Levels[0].Readings.Single().Typed);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_second_device_s_reading_of_one_replicate_does_not_replace_the_first(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, 2);
        await Begin(bench, check);
        var read = await ToReading(bench, check);
        await Send(bench, check, Guid.NewGuid(), Event(RunEventKind.ReadingKept, read, "7.9"));
        var second = (await Send(bench, check, Guid.NewGuid(), Event(RunEventKind.ReadingKept, read, "8.0"))).Single();
        Assert.Equal(RunEventFate.Kept, second.Fate);
        Assert.StartsWith("Reading 1 was in already, as 7.9; it stands.", second.Sentence, StringComparison.Ordinal);
        Assert.Equal("7.9", (await bench.View(check))!.Levels[0].Readings.Single().Typed);
        Assert.Contains((await View(bench, check)).Events, e => e is { Kind: RunEventKind.ReadingKept, Text: "8.0" });
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Back_and_typed_anew_changes_the_reading_and_keeps_its_place(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, 2);
        await Begin(bench, check);
        var read = await ToReading(bench, check);
        await Send(bench, check, Guid.Empty, Event(RunEventKind.ReadingKept, read, "7.9"));
        await Send(bench, check, Guid.Empty, Event(RunEventKind.Back, read + 1));
        Assert.Equal(read, (await View(bench, check)).Step);
        var again = Event(RunEventKind.ReadingKept, read, "8.1") with { Again = true };
        await Send(bench, check, Guid.Empty, again);
        await Send(bench, check, Guid.Empty, again);
        Assert.Equal("8.1", (await bench.View(check))!.Levels[0].Readings.Single().Typed);
        Assert.Equal(read + 1, (await View(bench, check)).Step);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_reading_undone_elsewhere_is_asked_for_again_and_the_run_then_goes_on_where_it_was(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, 3);
        await Begin(bench, check);
        var read = await ToReading(bench, check);
        await Send(bench, check, Guid.Empty, Event(RunEventKind.ReadingKept, read, "7.9"), Event(RunEventKind.Done, read + 1));
        Assert.Equal(read + 2, (await View(bench, check)).Step);
        await bench.Do<Records.History.Undo, Records.History.Undo.Outcome>(u => u.Handle(new Records.History.Undo.Command { LastActOfCheck = check }, TestContext.Current.CancellationToken));
        Assert.Equal(read, (await View(bench, check)).Step);
        await Send(bench, check, Guid.Empty, Event(RunEventKind.ReadingKept, read, "7.8"));
        Assert.Equal(read + 2, (await View(bench, check)).Step);
        Assert.Equal("7.8", (await bench.View(check))!.Levels[0].Readings.Single().Typed);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Readings_that_are_in_when_a_run_begins_are_not_asked_for(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, 3);
        await bench.Keep(check, "7.9");
        await Begin(bench, check);
        var run = await View(bench, check);
        Assert.Equal([2, 3], run.Steps.Where(s => s.Kind == RunStepKind.Read).Select(s => s.Replicate!.Value));
        Assert.Equal(Enumerable.Range(0, run.Steps.Count), run.Steps.Select(s => s.Index));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Conditioning_runs_are_led_through_like_replicates_and_never_count(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var started = await bench.Start(Plans.Alkalinity with { Method = (await bench.Analyser()).Method, Replicates = "2", ConditioningRuns = "2" });
        var check = Assert.IsType<StartCheck.Outcome.Started>(started).Check;
        await Begin(bench, check);
        var run = await View(bench, check);
        var reads = run.Steps.Where(s => s.Kind == RunStepKind.Read).ToList();
        Assert.Equal([(1, null), (2, null), (null, 1), (null, (int?)2)], reads.Select(s => (s.Conditioning, s.Replicate)));
        Assert.Equal("level-1/conditioning-1/reading", reads[0].Key);
        Assert.Equal("Type what it reads. This is conditioning run 1 of 2; it does not count.", reads[0].Act);
        Assert.Equal("Alkalinity · conditioning run 1", run.Where(reads[0]));
        // the bottle is opened once, before the first of them
        Assert.Single(run.Steps, s => s.Key.EndsWith("/bottle", StringComparison.Ordinal));
        var typed = new Queue<string>(["8.1", "8.2", "8.6", "8.8"]);
        for (; run.Current is { } step; run = await View(bench, check))
        {
            var sent = step.Kind == RunStepKind.Read ? Event(RunEventKind.ReadingKept, step.Index, typed.Dequeue()) : Event(RunEventKind.Done, step.Index);
            Assert.Equal(RunEventFate.Kept, (await Send(bench, check, Guid.Empty, sent)).Single().Fate);
            if (step.Conditioning != 2 || step.Kind != RunStepKind.Read)
                continue;
            // its place is filled: another device's number for it does not become a reading
            var late = (await Send(bench, check, Guid.NewGuid(), Event(RunEventKind.ReadingKept, step.Index, "8.3"))).Single();
            Assert.Equal("Conditioning run 2 is in as 8.2, and stays so; it does not count.", late.Sentence);
        }
        var level = (await bench.View(check))!.Levels[0];
        Assert.Equal(["8.1", "8.2"], level.Conditioning.Select(r => r.Typed));
        Assert.Equal(["8.6", "8.8"], level.Readings.Select(r => r.Typed));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Drops_of_a_kit_are_typed_as_counted(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var added = await bench.Do<AddInstrument, AddInstrument.Outcome>(u => u.Handle(new AddInstrument.Command { Name = "the drop kit", Kind = InstrumentKind.HandKit }, TestContext.Current.CancellationToken));
        var method = await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(Plans.AlkalinityMethod(Assert.IsType<AddInstrument.Outcome.Added>(added).Instrument) with { Scale = ReadingScale.Drops, ValuePerDrop = "0.5", Resolution = "" }, TestContext.Current.CancellationToken));
        var started = await bench.Start(Plans.Alkalinity with { Method = Assert.IsType<AddMethod.Outcome.Added>(method).Method, Replicates = "2", Resolution = "" });
        var check = Assert.IsType<StartCheck.Outcome.Started>(started).Check;
        await Begin(bench, check);
        Assert.StartsWith("Count the drops", (await View(bench, check)).ScaleHint, StringComparison.Ordinal);
        var read = await ToReading(bench, check);
        var refused = (await Send(bench, check, Guid.Empty, Event(RunEventKind.ReadingKept, read, "16.3"))).Single();
        Assert.Contains("not a whole number of drops", refused.Sentence, StringComparison.Ordinal);
        Assert.Equal(RunEventFate.Kept, (await Send(bench, check, Guid.Empty, Event(RunEventKind.ReadingKept, read, "16 drops"))).Single().Fate);
        Assert.Equal("16 drops", (await View(bench, check)).Levels[0].Readings.Single());
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Begun_twice_at_once_there_is_one_run(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, 2);
        var begun = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => Task.Run(() => Begin(bench, check), TestContext.Current.CancellationToken)));
        Assert.Single(begun.Distinct());
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_moment_of_an_event_is_its_receipt_less_its_age_whatever_the_device_s_clock_says(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, 2);
        await Begin(bench, check);
        var timed = (await View(bench, check)).Steps.First(s => s.Seconds is not null).Index;
        await Send(bench, check, Guid.NewGuid(), [.. Enumerable.Range(0, timed - 1).Select(i => Event(RunEventKind.Done, i))]);
        bench.Time.Advance(TimeSpan.FromMinutes(10));
        await Send(bench, check, Guid.NewGuid(), Event(RunEventKind.Done, timed - 1) with { At = Instant.FromUtc(1999, 1, 1, 0, 0), Age = Duration.FromMinutes(4) });
        var run = await View(bench, check);
        Assert.Equal(Instant.FromDateTimeOffset(TestBench.Morning) + Duration.FromMinutes(6), run.Starts[timed]);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_photo_is_told_by_its_bytes_kept_once_and_shown_with_its_event(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, 2);
        await Begin(bench, check);
        byte[] jpeg = [0xFF, 0xD8, 0xFF, 0xE0, 1, 2, 3];
        var sent = Event(RunEventKind.Photo, 0, "cloudy");
        Assert.IsType<KeepRunPhoto.Outcome.Kept>(await Photo(bench, check, sent, jpeg));
        Assert.IsType<KeepRunPhoto.Outcome.Kept>(await Photo(bench, check, sent, jpeg));
        var line = Assert.Single((await View(bench, check)).Events, e => e.Kind == RunEventKind.Photo);
        Assert.Equal("Photo: cloudy", line.Sentence);
        var picture = await bench.Do<ViewRunPhoto, RunPicture?>(u => u.Handle(check, line.Photo!.Value, TestContext.Current.CancellationToken));
        Assert.Equal("image/jpeg", picture!.ContentType);
        Assert.Equal(jpeg, picture.Content.ToArray());
        var other = await bench.Alkalinity(2);
        Assert.Null(await bench.Do<ViewRunPhoto, RunPicture?>(u => u.Handle(other, line.Photo!.Value, TestContext.Current.CancellationToken)));
        Assert.Contains("JPEG, PNG or WebP", Refused(await Photo(bench, check, Event(RunEventKind.Photo, 0), "<svg onload=alert(1)>"u8.ToArray())), StringComparison.Ordinal);
        Assert.Contains("2.0", Refused(await Photo(bench, check, Event(RunEventKind.Photo, 0), [.. jpeg, .. new byte[KeepRunPhoto.Largest]])), StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_is_too_much_or_senseless_is_refused_with_a_sentence(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, 2);
        await Begin(bench, check);
        Assert.IsType<KeepRunEvents.Outcome.Refused>(await Try(bench, check, []));
        Assert.IsType<KeepRunEvents.Outcome.Refused>(await Try(bench, check, [.. Enumerable.Range(0, 51).Select(i => Event(RunEventKind.Done, i))]));
        Assert.IsType<KeepRunEvents.Outcome.Refused>(await Try(bench, Guid.NewGuid(), [Event(RunEventKind.Done, 0)]));
        Assert.Contains("1000 fit", (await Send(bench, check, Guid.Empty, Event(RunEventKind.Slip, 0, new string('x', 1001)))).Single().Sentence, StringComparison.Ordinal);
        Assert.Contains("takes no reading", (await Send(bench, check, Guid.Empty, Event(RunEventKind.ReadingKept, 0, "8.1"))).Single().Sentence, StringComparison.Ordinal);
        Assert.Equal(RunEventFate.Refused, (await Send(bench, check, Guid.Empty, Event((RunEventKind)77, 0))).Single().Fate);
        Assert.Single((await View(bench, check)).Events);
        await using var records = bench.Store.NewContext();
        Assert.Empty(await records.RunPhotos.ToListAsync(TestContext.Current.CancellationToken));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_check_that_takes_its_extension_gets_a_second_run_for_it(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(["8.5", "7.9", "8.3"], extension: true, (await bench.Analyser()).Method);
        Assert.Contains("nothing left to run", Assert.IsType<BeginRun.Outcome.Refused>(await TryBegin(bench, check)).Faults[0].Sentence, StringComparison.Ordinal);
        var extended = await bench.Do<ExtendCheck, ExtendCheck.Outcome>(u => u.Handle(new ExtendCheck.Command { Check = check }, TestContext.Current.CancellationToken));
        Assert.IsNotType<ExtendCheck.Outcome.Refused>(extended);
        await Begin(bench, check);
        Assert.Equal(4, (await View(bench, check)).Steps.First(s => s.Kind == RunStepKind.Read).Replicate);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_run_begins_only_after_what_must_hold_is_seen_to(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var method = (await bench.Analyser()).Method;
        var check = await bench.Alkalinity(2, method: method);
        Assert.IsType<BeginRun.Outcome.Before>(await TryBegin(bench, check));
        Assert.IsType<PassGuards.Outcome.NotYet>(await Pass(bench, new PassGuards.Command { Check = check, Confirmed = [GuardKind.Temperature] }));
        Assert.IsType<BeginRun.Outcome.Before>(await TryBegin(bench, check));
        Assert.Null(await bench.Do<ViewRun, RunView?>(u => u.Handle(check, TestContext.Current.CancellationToken)));
        Assert.IsType<PassGuards.Outcome.Passed>(await Pass(bench, new PassGuards.Command { Check = check, Confirmed = Enum.GetValues<GuardKind>() }));
        Assert.IsType<BeginRun.Outcome.UnderWay>(await TryBegin(bench, check));

        // readings that were typed without the sheet are in: there is nothing before the first one any more
        var typed = await bench.Alkalinity(2, method: method);
        await bench.Keep(typed, "7.9");
        Assert.IsType<BeginRun.Outcome.UnderWay>(await TryBegin(bench, typed));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_last_step_notes_that_dosing_listens_again_once(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await ByHand(bench, readings: 2);
        Assert.IsType<PassGuards.Outcome.Passed>(await Pass(bench, new PassGuards.Command { Check = check, DosingPaused = true, Confirmed = Enum.GetValues<GuardKind>() }));
        Assert.IsType<BeginRun.Outcome.UnderWay>(await TryBegin(bench, check));
        Task<DosingView?> Dosing() => bench.Do<ReadDosing, DosingView?>(u => u.Handle(check, TestContext.Current.CancellationToken));
        var last = (await View(bench, check)).Steps.Single(s => s.Key == "end/dosing-resumed").Index;
        await Send(bench, check, Guid.Empty, Event(RunEventKind.Done, last - 1));
        Assert.Empty((await Dosing())!.ResumedWords);
        var done = Event(RunEventKind.Done, last) with { Age = Duration.FromMinutes(10) };
        await Send(bench, check, Guid.Empty, done);
        await Send(bench, check, Guid.Empty, done);
        Assert.NotEmpty((await Dosing())!.ResumedWords);
        var history = await bench.Do<ListHistory, HistoryList>(u => u.Handle(new ListHistory.Query(), TestContext.Current.CancellationToken));
        Assert.Single(history.Items, e => e.Sentence.Contains("listens again", StringComparison.Ordinal));
    }

    /// <summary>A check on an analyser, which has a procedure.</summary>
    private static async Task<Guid> ByHand(TestBench bench, int readings) => await bench.Alkalinity(readings, method: (await bench.Analyser()).Method);

    private static SentRunEvent Event(RunEventKind kind, int step, string text = "") => new() { Key = Guid.NewGuid(), Kind = kind, Step = step, Text = text };

    private static Task<BeginRun.Outcome> TryBegin(TestBench bench, Guid check) =>
        bench.Do<BeginRun, BeginRun.Outcome>(u => u.Handle(new BeginRun.Command { Check = check }, TestContext.Current.CancellationToken));

    private static async Task<Guid> Begin(TestBench bench, Guid check)
    {
        if ((await bench.View(check))!.AsksBefore)
            Assert.IsType<PassGuards.Outcome.Passed>(await Pass(bench, new PassGuards.Command { Check = check, Confirmed = Enum.GetValues<GuardKind>() }));
        return Assert.IsType<BeginRun.Outcome.UnderWay>(await TryBegin(bench, check)).Run;
    }

    private static Task<PassGuards.Outcome> Pass(TestBench bench, PassGuards.Command command) => bench.Do<PassGuards, PassGuards.Outcome>(u => u.Handle(command, TestContext.Current.CancellationToken));

    private static Task<KeepRunEvents.Outcome> Try(TestBench bench, Guid check, IReadOnlyList<SentRunEvent> events, Guid device = default) =>
        bench.Do<KeepRunEvents, KeepRunEvents.Outcome>(u => u.Handle(new KeepRunEvents.Command { Check = check, Client = device, Events = events, Who = "MJ" }, TestContext.Current.CancellationToken));

    private static async Task<IReadOnlyList<RunAnswer>> Send(TestBench bench, Guid check, Guid device, params SentRunEvent[] events) =>
        Assert.IsType<KeepRunEvents.Outcome.Answered>(await Try(bench, check, events, device)).Answers;

    private static async Task<RunView> View(TestBench bench, Guid check) =>
        (await bench.Do<ViewRun, RunView?>(u => u.Handle(check, TestContext.Current.CancellationToken)))!;

    /// <summary>Does every step before the first reading; answers that reading's step.</summary>
    private static async Task<int> ToReading(TestBench bench, Guid check)
    {
        var read = (await View(bench, check)).Steps.First(s => s.Kind == RunStepKind.Read).Index;
        await Send(bench, check, Guid.Empty, [.. Enumerable.Range(0, read).Select(i => Event(RunEventKind.Done, i))]);
        return read;
    }

    private static Task<KeepRunPhoto.Outcome> Photo(TestBench bench, Guid check, SentRunEvent sent, byte[] content) =>
        bench.Do<KeepRunPhoto, KeepRunPhoto.Outcome>(u => u.Handle(new KeepRunPhoto.Command { Check = check, Event = sent, Content = content }, TestContext.Current.CancellationToken));

    private static string Refused(KeepRunPhoto.Outcome outcome) => Assert.IsType<KeepRunPhoto.Outcome.Refused>(outcome).Faults.Single().Sentence;
}
