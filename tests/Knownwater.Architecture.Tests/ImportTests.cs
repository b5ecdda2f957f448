using System.Xml.Linq;

namespace Knownwater.Architecture.Tests;

/// <summary>Imports run one way: Cli → Web → Records → Figures and Knownwater.</summary>
public class ImportTests
{
    private static readonly Dictionary<string, string[]> Allowed = new()
    {
        ["Knownwater"] = [],
        ["Knownwater.Figures"] = [],
        ["Knownwater.Records"] = ["Knownwater", "Knownwater.Figures"],
        ["Knownwater.Records.Sqlite"] = ["Knownwater.Records"],
        ["Knownwater.Records.Postgres"] = ["Knownwater.Records"],
        ["Knownwater.Web"] = ["Knownwater.Records", "Knownwater.Records.Sqlite", "Knownwater.Records.Postgres", "Knownwater", "Knownwater.Figures"],
        ["Knownwater.Cli"] = ["Knownwater.Web", "Knownwater.Records", "Knownwater", "Knownwater.Figures"],
    };

    private static readonly Dictionary<string, string[]> LowerRooms = new()
    {
        ["Knownwater.Statistics"] = [],
        ["Knownwater.Seawater"] = ["Knownwater.Quantities", "Knownwater.Uncertainty", "Knownwater.Statistics"],
        ["Knownwater.Quantities"] = ["Knownwater.Uncertainty", "Knownwater.Statistics", "Knownwater.Seawater"],
        ["Knownwater.Uncertainty"] = ["Knownwater.Quantities", "Knownwater.Statistics"],
    };

    public static TheoryData<string> Projects => [.. Allowed.Keys];

    [Fact]
    public void Every_project_in_src_has_its_place_in_the_direction_of_imports() =>
        Repository.AssertNone(
            Directory.EnumerateFiles(Path.Combine(Repository.Root, "src"), "*.csproj", SearchOption.AllDirectories)
                .Select(Path.GetFileNameWithoutExtension).Where(project => !Allowed.ContainsKey(project!)).Select(project => $"{project} has no place yet")!,
            "add the project to the table in ImportTests.cs with the projects that it may know, and to docs/explanation/architecture.md.");

    [Theory, MemberData(nameof(Projects))]
    public void A_project_refers_only_to_projects_below_it(string project)
    {
        var file = XDocument.Load(Path.Combine(Repository.Root, "src", project, project + ".csproj"));
        var referred = file.Descendants("ProjectReference").Select(r => Path.GetFileNameWithoutExtension(r.Attribute("Include")!.Value.Replace('\\', '/')));
        AssertOnlyBelow(project, referred);
    }

    [Theory, MemberData(nameof(Projects))]
    public void A_compiled_project_uses_only_projects_below_it(string project) =>
        AssertOnlyBelow(project, CompiledCode.AssembliesBehind(project).Where(name => name.StartsWith("Knownwater", StringComparison.Ordinal)));

    [Fact]
    public void Lower_rooms_of_the_library_know_nothing_of_upper_ones()
    {
        var references = CompiledCode.Of("Knownwater");
        Assert.All(LowerRooms.Keys, room => Assert.Contains(references, r => r.Room == room));
        Repository.AssertNone(
            Upward(references),
            "move what the lower room needs into a lower room, or move the code that needs it up. Statistics stands at the bottom; Quantities, Uncertainty and Seawater stand on it and know one another; all other rooms stand above.");
    }

    [Fact]
    public void Everything_below_Web_knows_nothing_of_the_web() =>
        Repository.AssertNone(
            new[] { "Knownwater", "Knownwater.Figures", "Knownwater.Records", "Knownwater.Records.Sqlite", "Knownwater.Records.Postgres" }
                .SelectMany(CompiledCode.Of).Where(r => In(r.Namespace, "Microsoft.AspNetCore")).Select(r => r.ToString()),
            "hand the use case plain values; requests, responses and pages belong to Knownwater.Web.");

    [Fact]
    public void The_command_calls_the_web_for_serve_alone() =>
        Repository.AssertNone(
            CompiledCode.Of("Knownwater.Cli").Where(r => In(r.Namespace, "Knownwater.Web") && !r.User.Contains("Serve", StringComparison.Ordinal)).Select(r => r.ToString()),
            "call the use case in Knownwater.Records or the library. Only types whose name or folder says Serve may call Knownwater.Web.");

    [Fact]
    public void An_upward_reference_is_found()
    {
        var upward = new Reference("Knownwater.Statistics.Sample", "Knownwater.Statistics", "Knownwater.Checks.LevelCheck", "Knownwater.Checks", "Judge");
        Assert.Equal(["Knownwater.Statistics.Sample uses Knownwater.Checks.LevelCheck.Judge"], Upward([upward]));
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => AssertOnlyBelow("Knownwater.Figures", ["Knownwater"]));
    }

    private static void AssertOnlyBelow(string project, IEnumerable<string> referred) =>
        Repository.AssertNone(
            referred.Where(other => !Allowed[project].Contains(other)).Select(other => $"{project} refers to {other}"),
            $"{project} may know {(Allowed[project] is [] ? "no other project" : string.Join(", ", Allowed[project]))}. Move the code to the project that may know both, or pass in what it needs.");

    private static IEnumerable<string> Upward(IEnumerable<Reference> references) =>
        from r in references
        where In(r.Namespace, "Knownwater") && r.Namespace != r.Room
        let room = LowerRooms.Keys.FirstOrDefault(room => In(r.Room, room))
        where room is not null && !LowerRooms[room].Any(below => In(r.Namespace, below))
        select r.ToString();

    internal static bool In(string name, string room) => name == room || name.StartsWith(room + ".", StringComparison.Ordinal);
}
