using System.Security.Cryptography;

namespace Knownwater.Architecture.Tests;

/// <summary>The library and the figures compute: no clock, no files, no network, no console, no chance but from a seed.</summary>
public class PurityTests
{
    private static readonly string[] Clock = ["System.DateTime.Now", "System.DateTime.UtcNow", "System.DateTime.Today", "System.DateTimeOffset.Now", "System.DateTimeOffset.UtcNow", "NodaTime.SystemClock.Instance"];

    /// <summary>Constructors and calls that draw chance without a seed.</summary>
    private static readonly string[] Chance = ["System.Random.new(0)", "System.Random.Shared", "System.Guid.NewGuid", "System.Guid.CreateVersion7"];

    private static readonly string[] OutsideTypes =
    [
        "System.Console", "System.AppContext", "System.TimeProvider", "System.Diagnostics.Stopwatch", "System.Diagnostics.Process", "System.Threading.Timer",
        "System.IO.File", "System.IO.FileInfo", "System.IO.FileStream", "System.IO.Directory", "System.IO.DirectoryInfo", "System.IO.DriveInfo", "System.IO.FileSystemWatcher", "System.IO.RandomAccess",
        "System.Security.Cryptography.RandomNumberGenerator",
    ];

    private static readonly string[] OutsideRooms = ["System.Net", "System.Data", "Microsoft.EntityFrameworkCore", "Microsoft.Data", "Microsoft.Extensions", "Npgsql"];

    /// <summary>Pure members of types and rooms that are otherwise outside: escaping of text, and what the compiler writes into iterators.</summary>
    private static readonly string[] Pure = ["System.Net.WebUtility", "System.Environment.CurrentManagedThreadId"];

    /// <summary>Where a new error source gets its identity when none is given.</summary>
    private static readonly string[] MayName = ["Knownwater.Uncertainty.ErrorSource", "Knownwater.Uncertainty.Estimate"];

    [Theory, InlineData("Knownwater"), InlineData("Knownwater.Figures")]
    public void The_library_and_the_figures_hold_no_clock_and_no_input_or_output(string assembly) =>
        Repository.AssertNone(
            Impure(CompiledCode.Of(assembly)),
            "pass the time, the text or the numbers in as an argument; the caller in Records, Web or Cli fetches them.");

    [Theory, InlineData("Knownwater"), InlineData("Knownwater.Figures")]
    public void Chance_comes_in_as_a_seed(string assembly) =>
        Repository.AssertNone(
            Unseeded(CompiledCode.Of(assembly)),
            "take a seed as an argument and write new Random(seed), so that a result can be had again. An identity is made in ErrorSource alone, when the caller gives none.");

    [Theory, InlineData("Knownwater.Records"), InlineData("Knownwater.Web"), InlineData("Knownwater.Cli")]
    public void Time_comes_from_the_one_clock_of_the_records(string assembly) =>
        Repository.AssertNone(
            CompiledCode.Of(assembly).Where(r => Clock.Contains($"{r.Type}.{r.Member}")).Select(r => r.ToString()),
            "take Knownwater.Records.Storage.Clock as a constructor argument and ask it; a test can then set the time.");

    [Fact]
    public void A_clock_a_file_and_chance_without_seed_are_found()
    {
        var here = CompiledCode.Of("Knownwater.Architecture.Tests").Where(r => r.User == typeof(Offender).FullName).ToList();
        Assert.Contains($"{typeof(Offender).FullName} uses System.DateTime.UtcNow", Impure(here));
        Assert.Contains($"{typeof(Offender).FullName} uses System.IO.File", Impure(here));
        Assert.Contains($"{typeof(Offender).FullName} uses System.Environment.MachineName", Impure(here));
        Assert.Contains($"{typeof(Offender).FullName} uses System.Net.Http.HttpClient", Impure(here));
        Assert.Contains($"{typeof(Offender).FullName} uses System.Security.Cryptography.RandomNumberGenerator", Impure(here));
        Assert.Contains($"{typeof(Offender).FullName} uses System.Random.new(0)", Unseeded(here));
        Assert.Contains($"{typeof(Offender).FullName} uses System.Guid.NewGuid", Unseeded(here));
        Assert.DoesNotContain(Unseeded(here), found => found.EndsWith("new(1)", StringComparison.Ordinal));
    }

    private static List<string> Impure(IEnumerable<Reference> references) =>
    [
        .. references
            .Where(r => !Pure.Contains(r.Type) && !Pure.Contains($"{r.Type}.{r.Member}"))
            .Where(r => Clock.Contains($"{r.Type}.{r.Member}")
                || (r.Type == "System.Environment" && r.Member is not null)
                || (r.Member is null && (OutsideTypes.Contains(r.Type) || OutsideRooms.Any(room => ImportTests.In(r.Namespace, room)))))
            .Select(r => r.ToString()).Distinct(),
    ];

    private static List<string> Unseeded(IEnumerable<Reference> references) =>
    [
        .. references
            .Where(r => Chance.Contains($"{r.Type}.{r.Member}") && !(r.Type == "System.Guid" && MayName.Contains(r.User)))
            .Select(r => r.ToString()).Distinct(),
    ];
}

/// <summary>Breaks the rules of <see cref="PurityTests"/>, so that they can be seen to find it. It never runs.</summary>
internal static class Offender
{
    public static async Task<string> Break()
    {
        using var client = new HttpClient();
        var text = await File.ReadAllTextAsync(await client.GetStringAsync(new Uri("http://localhost/")));
        return $"{text} {Environment.MachineName} {DateTime.UtcNow} {Guid.NewGuid()} {new Random().Next()} {new Random(1).Next()} {RandomNumberGenerator.GetInt32(2)}";
    }
}
