using System.Text.RegularExpressions;

namespace Knownwater.Architecture.Tests;

/// <summary>What the files of the repository may not say.</summary>
public partial class TextTests
{
    private static readonly HashSet<string> Pictures = new(StringComparer.OrdinalIgnoreCase) { ".png", ".jpg", ".ico", ".woff2", ".gz", ".zip", ".db", ".xlsx" };

    [Fact]
    public void No_file_names_a_folder_of_somebody_s_machine() =>
        Repository.AssertNone(
            Lines(MachinePath()),
            "write the path relative to the repository; what differs between machines comes from an option or an environment variable.");

    [Fact]
    public void No_file_puts_work_off_with_a_mark() =>
        Repository.AssertNone(
            Lines(Mark()),
            "do the work, or write it down where work is planned; the sources say what is.");

    [Fact]
    public void Such_texts_are_found()
    {
        Assert.Matches(MachinePath(), "cp /ro" + "ot/a.txt .");
        Assert.Matches(MachinePath(), "see \"/wo" + "rk/a.txt\"");
        Assert.Matches(MachinePath(), "/ho" + "me/someone/a.txt");
        Assert.Matches(MachinePath(), "C:\\Us" + "ers\\someone");
        Assert.DoesNotMatch(MachinePath(), "https://example.org/work/1");
        Assert.Matches(Mark(), "// TO" + "DO: later");
        Assert.Matches(Mark(), "// FIX" + "ME");
        Assert.DoesNotMatch(Mark(), "Todo is no mark");
    }

    private static IEnumerable<string> Lines(Regex unwanted)
    {
        var files = Repository.TrackedFiles();
        Assert.SkipWhen(files is null, "This is no git checkout, so there is no list of its files.");
        foreach (var file in files!.Where(file => !Pictures.Contains(Path.GetExtension(file))))
        {
            var number = 0;
            foreach (var line in File.ReadLines(Path.Combine(Repository.Root, file)))
            {
                number++;
                if (unwanted.Match(line) is { Success: true } found)
                    yield return $"{file}:{number} holds \"{found.Value}\"";
            }
        }
    }

    [GeneratedRegex(@"(?<![\w.\-])(/(root|work)/|/(home|Users)/\w)|\b[A-Z]:\\Users\\", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex MachinePath();

    [GeneratedRegex(@"\b(TO" + "DO|FIX" + @"ME|HA" + @"CK)\b", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Mark();
}
