using System.Diagnostics;
using Knownwater.Checks;
using Knownwater.Records.Checks;
using Knownwater.Records.Drill;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.Data.Sqlite;

namespace Knownwater.Records.Tests.Storage;

/// <summary>
/// A process walks the path from an empty store to a described verdict and is killed (SIGKILL) between any two steps, and shortly
/// after; the next one walks it again with the same request keys. What was acknowledged is there each time, and nothing is doubled.
/// </summary>
internal static class KillDrill
{
    public static async Task Run(string where)
    {
        var last = DrillPath.Steps.Count;
        // The first is killed while it opens and migrates the new store.
        await Kill(where, after: 0, wait: 400);
        for (var step = 1; step <= last; step++)
        {
            // Every other one is killed at once, the rest in the midst of what follows.
            await Kill(where, step, wait: step % 2 == 0 ? 0 : 3 * step);
            await Verify(where, step);
        }
        var (history, _) = await Look(where);
        Assert.Equal(last, history.Count);
    }

    private static async Task Kill(string where, int after, int wait)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath is { } host && Path.GetFileNameWithoutExtension(host) == "dotnet" ? host : "dotnet")
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            RedirectStandardInput = true,
        };
        start.ArgumentList.Add(typeof(DrillPath).Assembly.Location);
        start.ArgumentList.Add(where);
        using var process = Process.Start(start)!;
        try
        {
            for (var acknowledged = 0; acknowledged < after; acknowledged++)
            {
                var line = await process.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken);
                if (line != $"done {acknowledged + 1}")
                    Assert.Fail($"Step {acknowledged + 1} was not acknowledged: {line} {await process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken)}");
            }
            if (wait > 0)
                await Task.Delay(wait, TestContext.Current.CancellationToken);
        }
        finally
        {
            process.Kill();
            await process.WaitForExitAsync(CancellationToken.None);
        }
    }

    private static async Task Verify(string where, int acknowledged)
    {
        var (history, check) = await Look(where);
        Assert.InRange(history.Count, acknowledged, DrillPath.Steps.Count);
        var done = history.Count;
        if (done < 5)
            return;
        var view = check!;
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

public sealed class SqliteKillDrillTests
{
    [Fact]
    public async Task Killed_between_any_two_steps_nothing_acknowledged_is_lost_and_nothing_is_doubled()
    {
        var folder = Directory.CreateTempSubdirectory("knownwater-drill-").FullName;
        await KillDrill.Run(Path.Combine(folder, "records.db"));
        SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
    }
}

public sealed class PostgresKillDrillTests(PostgresCluster cluster)
{
    [Fact]
    public async Task Killed_between_any_two_steps_nothing_acknowledged_is_lost_and_nothing_is_doubled() => await KillDrill.Run(await cluster.MissingDatabase());
}
