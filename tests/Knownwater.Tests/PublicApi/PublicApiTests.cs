using Knownwater.Quantities;
using PublicApiGenerator;

namespace Knownwater.Tests.PublicApi;

public class PublicApiTests
{
    private const string Accept = "KNOWNWATER_ACCEPT_API";

    /// <summary>
    /// The public surface is a text file, so that every change of it is seen in review. To accept a change:
    /// <c>KNOWNWATER_ACCEPT_API=1 dotnet test --project tests/Knownwater.Tests -- --filter-class "*PublicApiTests"</c>
    /// </summary>
    [Fact]
    public void The_public_surface_of_the_library_is_as_approved()
    {
        var approved = Path.Combine(Root(), "tests", "Knownwater.Tests", "PublicApi", "Knownwater.approved.txt");
        var surface = typeof(Quantity).Assembly.GeneratePublicApi(new ApiGeneratorOptions { IncludeAssemblyAttributes = false }).ReplaceLineEndings("\n").TrimEnd() + "\n";
        if (Environment.GetEnvironmentVariable(Accept) is "1")
            File.WriteAllText(approved, surface);
        var expected = File.Exists(approved) ? File.ReadAllText(approved).ReplaceLineEndings("\n") : "";
        if (string.Equals(expected, surface, StringComparison.Ordinal))
            return;
        var known = expected.Split('\n').ToHashSet(StringComparer.Ordinal);
        var now = surface.Split('\n').ToHashSet(StringComparer.Ordinal);
        Assert.Fail($"""
            The public surface of the library is not as approved. If that is meant, run this test again with {Accept}=1 and commit {Path.GetFileName(approved)}.
            {string.Join('\n', now.Except(known, StringComparer.Ordinal).Take(40).Select(line => "new:  " + line.Trim()))}
            {string.Join('\n', known.Except(now, StringComparer.Ordinal).Take(40).Select(line => "gone: " + line.Trim()))}
            """);
    }

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Knownwater.slnx")))
            folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("Knownwater.slnx is not above the test's folder.");
    }
}
