using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Knownwater.Records.Demo;
using Knownwater.Records.Storage;
using Spectre.Console;

namespace Knownwater.Cli.Demo;

/// <summary><c>demo</c>: the invented scenario.</summary>
internal static class DemoVerb
{
    public static Command Create(CommandLine line)
    {
        var load = new Option<bool>("--load") { Description = "Fill the store, which must be empty, with the invented records." };
        var verb = new Command("demo", "An invented harbour school with eighteen months of checks, to look around in.") { load };
        verb.SetAction(async (parsed, cancel) =>
        {
            if (!parsed.GetValue(load))
            {
                return line.Answer(parsed, new JsonObject { ["counts"] = new JsonObject() }, text => text.WriteLine(
                    "A harbour school keeps three tanks: Kelp, Lagoon and Brook. All of it is invented. Load it into a file of its own: knownwater demo --load --records demo.db, then knownwater serve --records demo.db."));
            }
            var store = await RecordsStore.Open(parsed.GetValue(line.Records), cancel: cancel);
            var outcome = await Loaded(line, parsed, store, cancel);
            if (outcome is not LoadDemo.Outcome.Loaded loaded)
                throw new ArgumentException(((LoadDemo.Outcome.Refused)outcome).Sentence);
            var counts = new JsonObject(loaded.Counts.Select(c => KeyValuePair.Create(c.Key, (JsonNode?)c.Value)));
            return line.Answer(parsed, new JsonObject { ["counts"] = counts }, text =>
            {
                text.WriteLine($"The demo is in {store.Name}. Everything in it is invented.");
                foreach (var (what, count) in loaded.Counts)
                    text.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {count,5} {what.Replace('_', ' ')}"));
            });
        });
        return verb;
    }

    private static async Task<LoadDemo.Outcome> Loaded(CommandLine line, ParseResult parsed, RecordsStore store, CancellationToken cancel)
    {
        var demo = new LoadDemo(store);
        if (parsed.GetValue(line.Json) || !line.ShowsProgress)
            return await demo.Handle(null, cancel);
        return await AnsiConsole.Progress().StartAsync(async progress =>
        {
            var task = progress.AddTask("Eighteen months", maxValue: 1);
            return await demo.Handle(new Shown(task), cancel);
        });
    }

    private sealed class Shown(ProgressTask task) : IProgress<double>
    {
        public void Report(double value) => task.Value = value;
    }
}
