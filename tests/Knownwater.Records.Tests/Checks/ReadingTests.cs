using Knownwater.Checks;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Checks;

public sealed class ReadingTests(PostgresCluster cluster)
{
    [Theory, ClassData(typeof(BothStores))]
    public async Task Nothing_but_readings_and_scatter_shows_before_the_last_one_and_then_the_verdict(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity();
        for (var i = 0; i < 4; i++)
            Assert.Equal(i + 2, Assert.IsType<KeepReading.Outcome.Kept>(await bench.Keep(check, Plans.High[i])).Next);
        var before = (await bench.View(check))!;
        Assert.Null(before.Levels[0].Judgement);
        Assert.Null(before.Verdict);
        Assert.NotNull(before.Levels[0].ScatterSoFar);
        Assert.Equal(12, before.MinutesToGo);

        Assert.IsType<KeepReading.Outcome.CheckClosed>(await bench.Keep(check, Plans.High[4]));
        var after = (await bench.View(check))!;
        Assert.Equal(CheckState.Closed, after.State);
        Assert.Equal(Verdict.ReadsHigh, after.Verdict);
        var level = after.Levels[0];
        // look.md, sentence 3: mean 8.74 against 7.90 is 10.6 % high.
        Assert.StartsWith("Reads high by 10.6", level.Words!.Sentence, StringComparison.Ordinal);
        Assert.EndsWith("and that matters.", level.Words.Sentence, StringComparison.Ordinal);
        Assert.Equal(8.74, level.Judgement!.Mean, 1e-12);
        Assert.Contains(level.WhatToDo, s => s.Contains("second stock", StringComparison.Ordinal));
        Assert.Contains(level.Numbers, n => n.Term == "Mean of five readings");
        Assert.StartsWith("At 7.90", level.Statement!, StringComparison.Ordinal);
        var listed = Assert.Single((await bench.Do<ListChecks, CheckList>(u => u.Handle(new ListChecks.Query { Verdict = Verdict.ReadsHigh, Parameter = "alkalinity" }, default))).Items);
        Assert.Equal(level.Words.Sentence, listed.Sentence);
        Assert.Empty((await bench.Do<ListChecks, CheckList>(u => u.Handle(new ListChecks.Query { Verdict = Verdict.ReadsLow }, default))).Items);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_is_no_number_is_refused_and_a_reading_too_many_as_well(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(3);
        Plans.Only(Assert.IsType<KeepReading.Outcome.Refused>(await bench.Keep(check, "eight")).Faults, "Typed");
        Plans.Only(Assert.IsType<KeepReading.Outcome.Refused>(await bench.Keep(check, "")).Faults, "Typed");
        Plans.Only(Assert.IsType<KeepReading.Outcome.Refused>(await bench.Keep(check, "NaN")).Faults, "Typed");
        var negative = Plans.Only(Assert.IsType<KeepReading.Outcome.Refused>(await bench.Keep(check, "-8,6")).Faults, "Typed");
        Assert.Contains("below zero", negative.Sentence, StringComparison.Ordinal);
        Assert.Equal("8,6", Assert.Single(negative.Offers).Value);
        foreach (var reading in new[] { "7.9", "7.9", "8.0" })
            await bench.Keep(check, reading);
        Assert.Contains("fixed before the first", Plans.Only(Assert.IsType<KeepReading.Outcome.Refused>(await bench.Keep(check, "7.9")).Faults, "Typed").Sentence, StringComparison.Ordinal);
        Assert.Equal(3, (await bench.View(check))!.Levels[0].Taken);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_number_ten_times_its_fellows_is_asked_about_and_kept_when_confirmed(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity();
        await bench.Keep(check, "8,6");
        await bench.Keep(check, "8,8");
        var doubtful = Assert.IsType<KeepReading.Outcome.Doubtful>(await bench.Keep(check, "87"));
        Assert.StartsWith("87 dKH is ten times the readings before it.", doubtful.Sentence, StringComparison.Ordinal);
        Assert.Equal("8.7", Assert.Single(doubtful.Offers).Value);
        Assert.Equal(2, (await bench.View(check))!.Levels[0].Taken);
        Assert.Equal(4, Assert.IsType<KeepReading.Outcome.Kept>(await bench.Keep(check, "87", confirmed: true)).Next);
        Assert.Equal("87", (await bench.View(check))!.Levels[0].Readings[2].Typed);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_limit_is_kept_as_a_limit(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var started = await bench.Start(new StartCheck.Command { Parameter = "phosphate", Form = "mg/L PO4", Levels = [new LevelEntry { Known = "0", Doubt = "0.005" }], ToleranceAbsolute = "0.08", Replicates = "3" });
        var check = Assert.IsType<StartCheck.Outcome.Started>(started).Check;
        foreach (var reading in new[] { "<0.02", "<0,02", "<0.02" })
            await bench.Keep(check, reading);
        var level = (await bench.View(check))!.Levels[0];
        Assert.All(level.Readings, r => Assert.Equal(Quantities.Censoring.Below, r.Censoring));
        Assert.Equal(["<0.02", "<0,02", "<0.02"], level.Readings.Select(r => r.Typed));
        Assert.All(level.Readings, r => Assert.Equal("<0.02", r.Words));
        Assert.Equal(3, level.Judgement!.Censored);
        Assert.Equal(Verdict.ReadsRight, level.Judgement.Verdict);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_changed_reading_stays_in_the_history_and_needs_a_reason_once_the_verdict_stands(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(3);
        Task<ChangeReading.Outcome> Change(int reading, string typed, string reason = "") =>
            bench.Do<ChangeReading, ChangeReading.Outcome>(u => u.Handle(new ChangeReading.Command { Check = check, Level = 1, Reading = reading, Typed = typed, Reason = reason }, default));
        await bench.Keep(check, "8,6");
        await bench.Keep(check, "8,3");
        Assert.Equal("Reading 2 changed from 8,3 to 8,8.", Assert.IsType<ChangeReading.Outcome.Changed>(await Change(2, "8,8")).Sentence);
        Assert.Equal("Reading 2 changed from 8,3 to 8,8.", (await bench.View(check))!.LastAct);
        await bench.Keep(check, "8,7");
        var verdict = (await bench.View(check))!.Levels[0].Judgement!.Mean;
        Plans.Only(Assert.IsType<ChangeReading.Outcome.Refused>(await Change(3, "8,9")).Faults, "Reason");
        Assert.IsType<ChangeReading.Outcome.Changed>(await Change(3, "8,9", "misread the display"));
        Assert.Equal(verdict + 0.2 / 3, (await bench.View(check))!.Levels[0].Judgement!.Mean, 1e-12);
        var history = (await bench.Do<ListHistory, HistoryList>(u => u.Handle(new ListHistory.Query { Subject = check }, default))).Items;
        Assert.Contains(history, h => h.Sentence.Contains("from 8,7 to 8,9: misread the display", StringComparison.Ordinal));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_reading_is_left_out_only_for_a_cause_and_both_verdicts_show(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(["7.9", "8.0", "7.9", "9.6", "7.9"]);
        Task<ExcludeReading.Outcome> Exclude(int reading, string reason) =>
            bench.Do<ExcludeReading, ExcludeReading.Outcome>(u => u.Handle(new ExcludeReading.Command { Check = check, Level = 1, Reading = reading, Reason = reason }, default));
        var before = (await bench.View(check))!.Levels[0];
        Assert.NotNull(before.WithoutOutlierWords);
        Plans.Only(Assert.IsType<ExcludeReading.Outcome.Refused>(await Exclude(4, " ")).Faults, "Reason");
        Assert.IsType<ExcludeReading.Outcome.Excluded>(await Exclude(4, "bubble in the cell"));
        var level = (await bench.View(check))!.Levels[0];
        Assert.Equal("bubble in the cell", level.Readings[3].ExcludedReason);
        Assert.Equal(4, level.Judgement!.N);
        Assert.Equal(5, level.WithExcluded!.N);
        Assert.Equal(Verdict.ReadsRight, level.Judgement.Verdict);
        Assert.Equal(Verdict.CannotTell, level.WithExcluded.Verdict);
        Assert.NotNull(level.WithExcludedWords);
        Assert.IsType<IncludeReading.Outcome.Included>(await bench.Do<IncludeReading, IncludeReading.Outcome>(u => u.Handle(new IncludeReading.Command { Check = check, Level = 1, Reading = 4 }, default)));
        Assert.Equal(5, (await bench.View(check))!.Levels[0].Judgement!.N);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_check_of_several_levels_goes_level_by_level(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var started = await bench.Start(Plans.Alkalinity with { Replicates = "3", Levels = [new LevelEntry { Known = "4", Doubt = "0.05" }, new LevelEntry { Known = "10", Doubt = "0.1", Replicates = "4" }] });
        var check = Assert.IsType<StartCheck.Outcome.Started>(started).Check;
        await bench.Keep(check, "4.0");
        await bench.Keep(check, "4.1");
        Assert.Equal(2, Assert.IsType<KeepReading.Outcome.LevelDone>(await bench.Keep(check, "4.0")).NextLevel);
        var between = (await bench.View(check))!;
        Assert.Equal(2, between.CurrentLevel);
        Assert.Null(between.Verdict);
        foreach (var reading in new[] { "10.1", "10.0", "10.0" })
            await bench.Keep(check, reading, 2);
        Assert.IsType<KeepReading.Outcome.CheckClosed>(await bench.Keep(check, "10.1", 2));
        var after = (await bench.View(check))!;
        Assert.Equal("Reads right between 4 and 10\u00a0dKH. Nothing is said about readings outside.", after.OverLevels);
        Assert.Equal(Verdict.ReadsRight, after.Verdict);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Two_readings_posted_at_once_take_two_places(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(8);
        var outcomes = await Task.WhenAll(Enumerable.Range(0, 4).Select(i => Task.Run(() => bench.Keep(check, $"8.{i}"))));
        Assert.All(outcomes, o => Assert.IsType<KeepReading.Outcome.Kept>(o));
        var readings = (await bench.View(check))!.Levels[0].Readings;
        Assert.Equal([1, 2, 3, 4], readings.Select(r => r.Ordinal));
        Assert.Equal(["8.0", "8.1", "8.2", "8.3"], readings.Select(r => r.Typed).Order(StringComparer.Ordinal));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_repeated_reading_is_kept_once(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity();
        var request = Guid.NewGuid();
        var first = await bench.Keep(check, "8.6", request: request);
        Assert.Equal(first, await bench.Keep(check, "8.6", request: request));
        Assert.Equal(1, (await bench.View(check))!.Levels[0].Taken);
    }
}
