using System.Text.RegularExpressions;

namespace Knownwater.Architecture.Tests;

/// <summary>A folder is a word that a keeper or a metrologist says, the same in every layer.</summary>
public partial class FolderTests
{
    private static readonly HashSet<string> Words = new(StringComparer.Ordinal)
    {
        // of the trade, in every layer
        "Quantities", "Uncertainty", "Statistics", "Seawater", "Preparation", "Checks", "Drift", "Comparison", "Calibration", "Tanks",
        "Benches", "Instruments", "Shelf", "Due", "History", "Files", "Demo",
        // of the program: the store, its migrations, what all pages share, files sent to the browser, pages of later features, the server
        "Storage", "Migrations", "Sheet", "Assets", "Later", "Serve",
    };

    [Fact]
    public void Folders_are_words_of_the_house() =>
        Repository.AssertNone(
            Strangers(Repository.SourceFolders()),
            "name the folder after what it holds with a word of the house, the same in every layer; never Helpers, Common, Utils, Models or Services. A word that is truly new is added to FolderTests.cs.");

    [Fact]
    public void A_namespace_is_its_folder() =>
        Repository.AssertNone(
            from file in Repository.SourceFiles()
            where file.EndsWith(".cs", StringComparison.Ordinal)
            let declared = Namespace().Match(File.ReadAllText(Path.Combine(Repository.Root, "src", file)))
            let expected = Path.GetDirectoryName(file)!.Replace('\\', '/').Replace('/', '.')
            where declared.Success && declared.Groups["name"].Value != expected
            select $"src/{file} is in namespace {declared.Groups["name"].Value}, its folder says {expected}",
            "move the file, or change its namespace: a thing is found by its word.");

    [Fact]
    public void A_folder_for_odds_and_ends_is_found() =>
        Assert.Equal(["src/Knownwater.Web/Checks/Helpers: Helpers is no word of the house"], Strangers(["Knownwater.Web", "Knownwater.Web/Checks", "Knownwater.Web/Checks/Helpers"]));

    private static IEnumerable<string> Strangers(IEnumerable<string> folders) =>
        from folder in folders
        from word in folder.Split('/').Skip(1)
        where !Words.Contains(word)
        select $"src/{folder}: {word} is no word of the house";

    [GeneratedRegex(@"^namespace (?<name>[\w.]+)", RegexOptions.Multiline | RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Namespace();
}
