using System.Diagnostics;

namespace Knownwater.Architecture.Tests;

/// <summary>The checkout that these tests look at.</summary>
internal static class Repository
{
    public static string Root { get; } = FindRoot();

    /// <summary>Folders below src that hold sources, relative to src, with forward slashes.</summary>
    public static IReadOnlyList<string> SourceFolders() =>
        [.. SourceFiles().Select(file => Path.GetDirectoryName(file)!.Replace('\\', '/')).Distinct().Order(StringComparer.Ordinal)];

    /// <summary>C# and Razor sources below src, relative to src, with forward slashes.</summary>
    public static IReadOnlyList<string> SourceFiles()
    {
        var src = Path.Combine(Root, "src");
        return
        [
            .. Directory.EnumerateFiles(src, "*", SearchOption.AllDirectories)
                .Where(file => Path.GetExtension(file) is ".cs" or ".razor")
                .Select(file => Path.GetRelativePath(src, file).Replace('\\', '/'))
                .Where(file => !file.Split('/').Any(part => part is "bin" or "obj"))
                .Order(StringComparer.Ordinal),
        ];
    }

    /// <summary>Files under version control, or null where this is no git checkout.</summary>
    public static IReadOnlyList<string>? TrackedFiles()
    {
        if (!Path.Exists(Path.Combine(Root, ".git")))
            return null;
        try
        {
            using var git = Process.Start(new ProcessStartInfo("git", ["ls-files", "-z"]) { WorkingDirectory = Root, UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true })!;
            var listed = git.StandardOutput.ReadToEnd();
            git.WaitForExit();
            return git.ExitCode == 0 ? [.. listed.Split('\0', StringSplitOptions.RemoveEmptyEntries).Where(file => File.Exists(Path.Combine(Root, file)))] : null;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
    }

    public static void AssertNone(IEnumerable<string> findings, string remedy)
    {
        var found = findings.Distinct().ToList();
        Assert.True(found.Count == 0, $"{string.Join("\n", found)}\n\nWhat to do: {remedy}");
    }

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Knownwater.slnx")))
                return folder.FullName;
        }
        throw new InvalidOperationException($"No folder above {AppContext.BaseDirectory} holds Knownwater.slnx. Run the tests from a checkout.");
    }
}
