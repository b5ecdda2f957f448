using Knownwater.Records.Instruments;
using Knownwater.Records.Storage;
using Microsoft.Data.Sqlite;

namespace Knownwater.Cli.Tests.Demo;

public class DemoVerbTests
{
    [Fact]
    public async Task Without_load_it_tells_what_it_would_do_and_touches_no_store()
    {
        var folder = Directory.CreateTempSubdirectory("knownwater-cli-");
        try
        {
            var file = Path.Combine(folder.FullName, "records.db");
            var called = await Called.With("demo", "--records", file);

            Assert.Equal(0, called.Exit);
            Assert.Contains("invented", called.Output, StringComparison.Ordinal);
            Assert.Equal(["counts"], Called.Keys((await Called.With("demo", "--json", "--records", file)).Json));
            Assert.False(File.Exists(file));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public async Task Somebody_s_own_records_are_not_mixed_with_invented_ones()
    {
        var folder = Directory.CreateTempSubdirectory("knownwater-cli-");
        try
        {
            var file = Path.Combine(folder.FullName, "records.db");
            var store = await RecordsStore.Open(file, cancel: TestContext.Current.CancellationToken);
            await using (var records = store.NewContext())
                await new AddInstrument(records, store.Clock).Handle(new AddInstrument.Command { Name = "Bench analyser" }, TestContext.Current.CancellationToken);

            Assert.Contains("somebody's own", (await Called.With("demo", "--load", "--records", file)).Refused().Error, StringComparison.Ordinal);
        }
        finally
        {
            SqliteConnection.ClearAllPools();
            folder.Delete(recursive: true);
        }
    }
}
