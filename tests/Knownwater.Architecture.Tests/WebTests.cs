using System.Text.RegularExpressions;

namespace Knownwater.Architecture.Tests;

/// <summary>Web turns text into commands and outcomes into pages: no database, no computing.</summary>
public partial class WebTests
{
    private static readonly string[] Database = ["Microsoft.EntityFrameworkCore", "Microsoft.Data", "System.Data", "Npgsql"];

    /// <summary>Where the parts are put together: the store is opened and the use cases are registered.</summary>
    private static readonly string[] Composition = ["Knownwater.Web.WebEntry", "Program"];

    [Fact]
    public void Pages_use_no_database() =>
        Repository.AssertNone(
            DatabaseUses(CompiledCode.Of("Knownwater.Web")),
            "add or extend a use case in Knownwater.Records that answers what the page shows, and call that.");

    [Fact]
    public void Pages_and_commands_hold_no_SQL() =>
        Repository.AssertNone(
            new[] { "Knownwater.Web", "Knownwater.Cli" }.SelectMany(CompiledCode.Texts).Where(t => Sql().IsMatch(t.Text)).Select(t => $"{t.User} holds \"{t.Text}\""),
            "put the query into a use case of Knownwater.Records.");

    [Fact]
    public void Pages_judge_plan_and_reckon_nothing_themselves() =>
        Repository.AssertNone(
            Computing(CompiledCode.Of("Knownwater.Web")),
            "let the use case compute, and show what it answers; the same numbers must come out of the command.");

    [Fact]
    public void A_page_that_queries_or_computes_is_found()
    {
        Reference Page(string type, string room, string? member = null) => new("Knownwater.Web.Checks.ChecksPage", "Knownwater.Web.Checks", type, room, member);
        Assert.Single(DatabaseUses([Page("Microsoft.EntityFrameworkCore.DbContext", "Microsoft.EntityFrameworkCore")]));
        Assert.Single(DatabaseUses([Page("Knownwater.Records.Storage.RecordsContext", "Knownwater.Records.Storage")]));
        Assert.Single(Computing([Page("Knownwater.Statistics.StudentT", "Knownwater.Statistics")]));
        Assert.Single(Computing([Page("Knownwater.Checks.LevelCheck", "Knownwater.Checks", "Judge")]));
        Assert.Matches(Sql(), "SELECT value FROM readings");
        Assert.DoesNotMatch(Sql(), "Select a water from the shelf.");
    }

    private static List<string> DatabaseUses(IEnumerable<Reference> references) =>
    [
        .. references
            .Where(r => !Composition.Contains(r.User) && (Database.Any(room => ImportTests.In(r.Namespace, room)) || r.Type == "Knownwater.Records.Storage.RecordsContext"))
            .Select(r => r.ToString()),
    ];

    private static List<string> Computing(IEnumerable<Reference> references) =>
    [
        .. references
            .Where(r => ImportTests.In(r.Namespace, "Knownwater.Statistics") || r.Type is "Knownwater.Checks.LevelCheck" or "Knownwater.Checks.ReplicatePlanning")
            .Select(r => r.ToString()),
    ];

    [GeneratedRegex(@"\b(SELECT\s.+\sFROM|INSERT\s+INTO|DELETE\s+FROM|UPDATE\s.+\sSET)\b", RegexOptions.Singleline | RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Sql();
}
