using System.Diagnostics;
using System.Globalization;
using Knownwater.Checks;
using Knownwater.Records.Checks;
using Knownwater.Records.Drill;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.Data.Sqlite;

namespace Knownwater.Records.Tests.Storage;

/// <summary>
/// The path from an empty store to a described verdict, killed (SIGKILL) between any two of its steps: one process walks as many stores
/// as there are steps, each to another step, and dies with all of them waiting there. The next walks on with the same request keys and
/// dies in the midst of what follows; the last one ends the path. What was acknowledged is there each time, and nothing is doubled.
/// </summary>
internal static class KillDrill
{
    public static async Task Run(IReadOnlyList<string> stores)
    {
        var cancel = TestContext.Current.CancellationToken;
        var last = DrillPath.Steps.Count;
        Assert.Equal(last, stores.Count);
        int[] acknowledged;

        using (var process = Start(stores))
        {
            acknowledged = await Read(process, stores.Count, "waiting", cancel);
            await Kill(process);
        }
        Assert.Equal(Enumerable.Range(1, last), acknowledged);
        for (var i = 0; i < last; i++)
            Verify(await Look(stores[i]), atLeast: i + 1, atMost: i + 1);

        using (var process = Start(stores))
        {
            await Read(process, stores.Count, "waiting", cancel);
            await process.StandardInput.WriteLineAsync("go on");
            var rest = Read(process, stores.Count, "finished", CancellationToken.None);
            await Task.Delay(60, cancel);
            await Kill(process);
            // What was said before the kill counts as acknowledged.
            var more = await rest;
            for (var i = 0; i < last; i++)
                acknowledged[i] = Math.Max(acknowledged[i], more[i]);
        }
        for (var i = 0; i < last; i++)
            Verify(await Look(stores[i]), acknowledged[i], atMost: last);

        using (var process = Start(stores))
        {
            await Read(process, stores.Count, "waiting", cancel);
            await process.StandardInput.WriteLineAsync("go on");
            await Read(process, stores.Count, "finished", cancel);
            await Kill(process);
        }
        for (var i = 0; i < last; i++)
            Verify(await Look(stores[i]), last, last);
    }

    /// <summary>Kills a process while it makes and migrates a new store; the next opening must mend that.</summary>
    public static async Task KillAtBirth(string where)
    {
        foreach (var wait in new[] { 450, 900 })
        {
            using var process = Start([where]);
            await Task.Delay(wait, TestContext.Current.CancellationToken);
            await Kill(process);
        }
        var (history, check) = await Look(where);
        Assert.InRange(history.Count, 0, 1);
        Assert.Null(check);
    }

    private static Process Start(IReadOnlyList<string> stores)
    {
        var start = new ProcessStartInfo("dotnet") { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardInput = true };
        start.ArgumentList.Add(typeof(DrillPath).Assembly.Location);
        for (var i = 0; i < stores.Count; i++)
            start.ArgumentList.Add(string.Create(CultureInfo.InvariantCulture, $"{i + 1}={stores[i]}"));
        return Process.Start(start)!;
    }

    /// <summary>Reads acknowledgements until a word or the end of the process; the last step of each store.</summary>
    private static async Task<int[]> Read(Process process, int stores, string until, CancellationToken cancel)
    {
        var steps = new int[stores];
        while (await process.StandardOutput.ReadLineAsync(cancel) is { } line && line != until)
        {
            var words = line.Split(' ', 3);
            Assert.True(words[0] == "done", line);
            steps[int.Parse(words[1], CultureInfo.InvariantCulture)] = int.Parse(words[2], CultureInfo.InvariantCulture);
        }
        return steps;
    }

    private static async Task Kill(Process process)
    {
        process.Kill();
        await process.WaitForExitAsync(CancellationToken.None);
    }

    private static void Verify((IReadOnlyList<HistoryLine> History, CheckView? Check) found, int atLeast, int atMost)
    {
        var done = found.History.Count;
        Assert.InRange(done, atLeast, atMost);
        if (done < 5)
        {
            Assert.Null(found.Check);
            return;
        }
        var view = found.Check!;
        var readings = view.Levels[0].Readings;
        Assert.Equal(done >= 9 ? 3 : done >= 7 ? 2 : done >= 6 ? 1 : 0, readings.Count);
        if (done >= 7)
            Assert.Equal(done >= 8 ? "8.8" : "8.3", readings[1].Typed);
        Assert.Equal(done >= 9 ? CheckState.Closed : CheckState.Open, view.State);
        if (done >= 9)
            Assert.Equal(done == 11 ? 2 : 3, view.Levels[0].Judgement!.N);
        if (done >= 9 && done != 11)
            Assert.Equal(Verdict.ReadsHigh, view.Verdict);
        if (done >= 10)
            Assert.Equal("by hand", view.Notes);
        Assert.Equal("KW-36", view.Levels[0].Water!.Label);
        Assert.Equal("A-19", Assert.Single(view.Lots).Name);
    }

    private static async Task<(IReadOnlyList<HistoryLine> History, CheckView? Check)> Look(string where)
    {
        var cancel = TestContext.Current.CancellationToken;
        var store = await RecordsStore.Open(where, cancel: cancel);
        await using var records = store.NewContext();
        var history = (await new ListHistory(records, store.Clock).Handle(new ListHistory.Query(), cancel)).Items;
        var checks = (await new ListChecks(records, store.Clock).Handle(new ListChecks.Query(), cancel)).Items;
        Assert.InRange(checks.Count, 0, 1);
        return (history, checks.Count == 0 ? null : await new ViewCheck(records, store.Clock).Handle(checks[0].Id, cancel));
    }
}

public sealed class SqliteKillDrillTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("knownwater-drill-").FullName;

    [Fact]
    public async Task Killed_between_any_two_steps_nothing_acknowledged_is_lost_and_nothing_is_doubled() =>
        await KillDrill.Run(DrillPath.Steps.Select((_, i) => Path.Combine(_folder, $"records{i}.db")).ToList());

    [Fact]
    public async Task Killed_while_the_store_is_made_it_opens_the_next_time() => await KillDrill.KillAtBirth(Path.Combine(_folder, "born.db"));

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }
}

public sealed class PostgresKillDrillTests(PostgresCluster cluster)
{
    [Fact]
    public async Task Killed_between_any_two_steps_nothing_acknowledged_is_lost_and_nothing_is_doubled()
    {
        var stores = new List<string>();
        foreach (var _ in DrillPath.Steps)
            stores.Add(await cluster.NewDatabase());
        await KillDrill.Run(stores);
    }

    [Fact]
    public async Task Killed_while_the_store_is_made_it_opens_the_next_time() => await KillDrill.KillAtBirth(await cluster.MissingDatabase());
}
