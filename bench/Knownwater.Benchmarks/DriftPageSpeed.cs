using System.Diagnostics;
using System.Globalization;
using System.Text;
using Knownwater.Records.Checks;
using Knownwater.Records.Demo;
using Knownwater.Records.Storage;
using Knownwater.Records.Uncertainty;
using Knownwater.Web;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Knownwater.Benchmarks;

/// <summary>The page of a method with 10,000 checks beside the one with 100, asked in turns from the application itself: whole, and moved to another span.</summary>
internal static class DriftPageSpeed
{
    private const int Few = 100, Many = 10_000;

    private static readonly CultureInfo Plain = CultureInfo.InvariantCulture;

    public static int Run(string[] args) => RunAsync(args).GetAwaiter().GetResult();

    private static async Task<int> RunAsync(string[] args)
    {
        var (rounds, folder) = (15, "docs/reference");
        for (var i = 0; i + 1 < args.Length; i += 2)
        {
            if (args[i] == "--rounds")
                rounds = int.Parse(args[i + 1], Plain);
            else if (args[i] == "--out")
                folder = args[i + 1];
        }
        var room = Directory.CreateTempSubdirectory("knownwater-page-").FullName;
        try
        {
            await using var few = await Served.Begin(Path.Combine(room, "few.db"), Few);
            await using var many = await Served.Begin(Path.Combine(room, "many.db"), Many);
            (string Name, Func<Served, string> Address)[] asked = [("the whole course", s => s.Whole), ("the last half of it", s => s.Half), ("ninety days in its middle", s => s.Middle), ("its picture as SVG", s => s.Picture)];
            var lines = new List<string>();
            var load = double.Parse((await File.ReadAllTextAsync("/proc/loadavg")).Split(' ')[0], Plain);
            foreach (var (name, address) in asked)
            {
                List<double> one = [], other = [];
                long oneBytes = 0, otherBytes = 0;
                for (var round = -2; round < rounds; round++)
                {
                    var (a, aBytes) = await few.Ask(address(few));
                    var (b, bBytes) = await many.Ask(address(many));
                    if (round < 0)
                        continue;
                    one.Add(a);
                    other.Add(b);
                    (oneBytes, otherBytes) = (aBytes, bBytes);
                }
                var ratios = other.Zip(one, (b, a) => b / a).Order().ToList();
                lines.Add(string.Create(Plain, $"| {name} | {Middle(one):0} | {Middle(other):0} | {Middle(ratios):0.00} ({ratios[0]:0.00} to {ratios[^1]:0.00}) | {oneBytes / 1000.0:0.0} | {otherBytes / 1000.0:0.0} | {(double)otherBytes / oneBytes:0.00} |"));
                Console.WriteLine(lines[^1]);
            }
            var text = new StringBuilder("# The page of a method with thousands of checks\n\n");
            text.Append(Plain, $"Written by `bench/Knownwater.Benchmarks drift-page --rounds {rounds}`. A method of the demo has its newest check copied back in time, one every twelve hours, until it has {Few} checks in one store and {Many:N0} in another. Both are served by the application over loopback and asked in turns; times are to the last byte, the middle one of {rounds}, and the ratio is the middle one of those within a turn, with the least and the largest. Bytes are those of the page itself, without compression; style and script are asked once and kept by the browser.\n");
            text.Append(Plain, $"Load of the machine {load:0.0} on {Environment.ProcessorCount} processors, .NET {Environment.Version}.\n\n| asked | {Few} checks, ms | {Many:N0} checks, ms | times | {Few} checks, kB | {Many:N0} checks, kB | times |\n| --- | --- | --- | --- | --- | --- | --- |\n");
            foreach (var line in lines)
                text.Append(line).Append('\n');
            Directory.CreateDirectory(folder);
            await File.WriteAllTextAsync(Path.Combine(folder, "drift-page-speed.md"), text.ToString());
            return 0;
        }
        finally
        {
            SqliteConnection.ClearAllPools();
            Directory.Delete(room, recursive: true);
        }
    }

    private static double Middle(List<double> values) => values.Order().ElementAt(values.Count / 2);

    /// <summary>The application on a store with a method of so many checks.</summary>
    private sealed class Served(Microsoft.AspNetCore.Builder.WebApplication app, HttpClient client, Guid method, LocalDate first, LocalDate last) : IAsyncDisposable
    {
        public string Whole => $"/drift/{method}";

        public string Half => Span(first.PlusDays(Period.DaysBetween(first, last) / 2), last);

        public string Middle => first.PlusDays(Period.DaysBetween(first, last) / 2) is var day ? Span(day.PlusDays(-45), day.PlusDays(45)) : "";

        public string Picture => $"/drift/{method}/picture.svg";

        private string Span(LocalDate from, LocalDate to) => $"/drift/{method}?from={from:uuuu-MM-dd}&to={to:uuuu-MM-dd}";

        public static async Task<Served> Begin(string file, int checks)
        {
            var store = await RecordsStore.Open(file);
            if (await new LoadDemo(store).Handle(null, CancellationToken.None) is not LoadDemo.Outcome.Loaded)
                throw new InvalidOperationException("The demo was not loaded.");
            var (method, first, last) = await Copies(store, checks);
            var app = await WebEntry.CreateApp(["--records", file, "--urls", "http://127.0.0.1:0"]);
            await app.StartAsync();
            var address = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();
            return new Served(app, new HttpClient { BaseAddress = new Uri(address) }, method, first, last);
        }

        private static async Task<(Guid, LocalDate, LocalDate)> Copies(RecordsStore store, int checks)
        {
            await using var records = store.NewContext();
            var newest = await records.Checks.AsNoTracking().Where(c => c.ParameterKey == "alkalinity" && c.Kind == null && c.Verdict != null).OrderByDescending(c => c.StartedAt).FirstAsync();
            var method = newest.MethodId!.Value;
            var there = await records.Checks.Where(c => c.MethodId == method).ToListAsync();
            var level = await records.CheckLevels.AsNoTracking().SingleAsync(l => l.CheckId == newest.Id);
            var estimate = await records.EstimateRows.AsNoTracking().SingleAsync(e => e.Id == level.EstimateId);
            var parts = await records.EstimateParts.AsNoTracking().Where(p => p.EstimateId == estimate.Id).ToListAsync();
            var replicates = await records.Replicates.AsNoTracking().Where(r => r.LevelId == level.Id).ToListAsync();
            var random = new Xoshiro256StarStar(1);
            var at = there.Min(c => c.StartedAt);
            var last = there.Max(c => c.StartedAt);
            for (var i = there.Count; i < checks; i++)
            {
                at -= Duration.FromHours(12);
                var shift = Normal.Sample(random, 0, 0.1);
                var check = Copy(new Check(records.BenchId, Guid.CreateVersion7()), newest);
                (check.StartedAt, check.ClosedAt, check.TouchedAt) = (at, at, at);
                var known = Copy(new EstimateRow(records.BenchId, Guid.CreateVersion7()), estimate);
                var run = Copy(new CheckLevel(records.BenchId, Guid.CreateVersion7()), level);
                (run.CheckId, run.EstimateId) = (check.Id, known.Id);
                (run.Bias, run.BiasLow, run.BiasHigh, run.Mean) = (level.Bias + shift, level.BiasLow + shift, level.BiasHigh + shift, level.Mean + shift);
                records.AddRange(check, known, run);
                foreach (var part in parts)
                    records.Add(Copy(new EstimatePart(records.BenchId, Guid.CreateVersion7()), part, p => p.EstimateId = known.Id));
                foreach (var replicate in replicates)
                    records.Add(Copy(new Replicate(records.BenchId, Guid.CreateVersion7()), replicate, r => r.LevelId = run.Id));
                if (i % 500 == 0)
                {
                    await records.SaveChangesAsync();
                    records.ChangeTracker.Clear();
                }
            }
            await records.SaveChangesAsync();
            return (method, at.InUtc().Date, last.InUtc().Date);

            T Copy<T>(T made, T of, Action<T>? further = null)
                where T : class
            {
                var (to, from) = (records.Entry(made), records.Entry(of));
                foreach (var property in to.Metadata.GetProperties().Where(p => !p.IsPrimaryKey() && p.Name != "BenchId"))
                    to.Property(property).CurrentValue = from.Property(property).CurrentValue;
                further?.Invoke(made);
                return made;
            }
        }

        public async Task<(double Milliseconds, long Bytes)> Ask(string address)
        {
            var clock = Stopwatch.StartNew();
            using var answer = await client.GetAsync(new Uri(address, UriKind.Relative));
            var body = await answer.EnsureSuccessStatusCode().Content.ReadAsByteArrayAsync();
            return (clock.Elapsed.TotalMilliseconds, body.LongLength);
        }

        public async ValueTask DisposeAsync()
        {
            client.Dispose();
            await app.DisposeAsync();
        }
    }
}
