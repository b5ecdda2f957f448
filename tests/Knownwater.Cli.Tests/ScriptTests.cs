using System.Diagnostics;

namespace Knownwater.Cli.Tests;

/// <summary>
/// The script <c>knownwater</c> at the root: when it builds, what it prints, what it hands on. A stand-in for the SDK that “builds” by
/// writing a file keeps these tests short; the folder has spaces in its name, and the calls come from elsewhere.
/// </summary>
public sealed class ScriptTests : IDisposable
{
    private const string StandIn = """
        #!/usr/bin/env bash
        if [ "$1" = build ]; then
            echo "build" >>"$HOUSE/calls"
            echo "noise of the build"
            [ ! -e "$HOUSE/broken" ] || { echo "error: broken"; exit 1; }
            sleep "${BUILD_SECONDS:-0}"
            [ -z "${STAYS:-}" ] || { sleep "$STAYS" & }
            mkdir -p "$HOUSE/src/Knownwater.Cli/bin/Release/net10.0" "$HOUSE/src/Knownwater.Cli/obj"
            touch "$HOUSE/src/Knownwater.Cli/bin/Release/net10.0/Knownwater.Cli.dll"
            exit 0
        fi
        [ -f "$1" ] || { echo "no program at $1"; exit 9; }
        shift
        printf '%s\n' "in $PWD" "$@"
        cat
        exit "${PROGRAM_EXIT:-0}"
        """;

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("knownwater script ");

    public ScriptTests()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "The script is for bash.");
        Directory.CreateDirectory(In("house", "src", "Knownwater.Cli"));
        Directory.CreateDirectory(In("sdk"));
        File.Copy(Path.Combine(Root(), "knownwater"), In("house", "knownwater"));
        foreach (var file in new[] { "Directory.Build.props", "Directory.Packages.props", "global.json", Path.Combine("src", "Knownwater.Cli", "Program.cs") })
            File.WriteAllText(In("house", file), "");
        File.WriteAllText(In("sdk", "dotnet"), StandIn.ReplaceLineEndings("\n"));
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(In("sdk", "dotnet"), UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }

    private int Builds => File.Exists(In("house", "calls")) ? File.ReadAllLines(In("house", "calls")).Length : 0;

    public void Dispose() => folder.Delete(recursive: true);

    [Fact]
    public async Task First_call_builds_silently_and_hands_on_every_word_the_folder_and_the_input()
    {
        var (exit, output, error) = await Call("a \"b\" c", "", "-0.01");

        Assert.Equal(0, exit);
        Assert.Equal($"in {Path.GetFullPath(Path.GetTempPath()).TrimEnd('/')}\na \"b\" c\n\n-0.01\ntyped\n", output);
        Assert.Equal("", error);
        Assert.Equal(1, Builds);
    }

    [Fact]
    public async Task Second_call_does_not_build_although_the_first_made_folders_beside_the_sources()
    {
        await Call();
        await Call();

        Assert.Equal(1, Builds);
    }

    [Theory, InlineData("changed"), InlineData("added with an old date"), InlineData("taken away"), InlineData("versions")]
    public async Task Sources_that_are_not_those_of_the_last_build_are_built(string what)
    {
        var source = In("house", "src", "Knownwater.Cli", "Old.cs");
        if (what == "taken away")
            await File.WriteAllTextAsync(source, "", TestContext.Current.CancellationToken);
        await Call();
        switch (what)
        {
            case "changed":
                File.SetLastWriteTimeUtc(In("house", "src", "Knownwater.Cli", "Program.cs"), DateTime.UnixEpoch.AddYears(200));
                break;
            case "versions":
                File.SetLastWriteTimeUtc(In("house", "Directory.Packages.props"), DateTime.UnixEpoch.AddYears(200));
                break;
            case "taken away":
                File.Delete(source);
                break;
            default:
                await File.WriteAllTextAsync(source, "", TestContext.Current.CancellationToken);
                File.SetLastWriteTimeUtc(source, DateTime.UnixEpoch.AddYears(30));
                break;
        }
        await Call();

        Assert.Equal(2, Builds);
    }

    [Fact]
    public async Task Parallel_calls_build_once_and_both_run()
    {
        var both = await Task.WhenAll(CallWith(new() { ["BUILD_SECONDS"] = "0.5" }, "one"), CallWith(new() { ["BUILD_SECONDS"] = "0.5" }, "two"));

        Assert.All(both, call => Assert.Equal(0, call.Exit));
        Assert.Equal(1, Builds);
    }

    [Fact]
    public async Task Server_that_a_build_leaves_behind_does_not_hold_the_next_build_up()
    {
        await CallWith(new() { ["STAYS"] = "30" });
        File.SetLastWriteTimeUtc(In("house", "global.json"), DateTime.UnixEpoch.AddYears(200));
        var watch = Stopwatch.StartNew();
        await Call();

        Assert.Equal(2, Builds);
        Assert.InRange(watch.Elapsed.TotalSeconds, 0, 25);
    }

    [Fact]
    public async Task Build_that_fails_says_so_on_the_error_stream_alone_and_is_tried_again()
    {
        await File.WriteAllTextAsync(In("house", "broken"), "", TestContext.Current.CancellationToken);
        var (exit, output, error) = await Call();
        Assert.Equal(1, exit);
        Assert.Equal("", output);
        Assert.Contains("error: broken", error, StringComparison.Ordinal);
        Assert.Contains("The build failed", error, StringComparison.Ordinal);

        File.Delete(In("house", "broken"));
        Assert.Equal(0, (await Call()).Exit);
        Assert.Equal(2, Builds);
        Assert.Equal(["build.lock", "built"], Directory.GetFileSystemEntries(In("house", "artifacts")).Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Exit_code_of_the_program_is_that_of_the_call() =>
        Assert.Equal(2, (await CallWith(new() { ["PROGRAM_EXIT"] = "2" })).Exit);

    private string In(params string[] parts) => Path.Combine([folder.FullName, .. parts]);

    private Task<(int Exit, string Output, string Error)> Call(params string[] args) => CallWith([], args);

    private async Task<(int Exit, string Output, string Error)> CallWith(Dictionary<string, string> settings, params string[] args)
    {
        var start = new ProcessStartInfo("bash", [In("house", "knownwater"), .. args])
        {
            WorkingDirectory = Path.GetTempPath(),
            UseShellExecute = false,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["PATH"] = $"{In("sdk")}:{Environment.GetEnvironmentVariable("PATH")}";
        start.Environment["HOUSE"] = In("house");
        foreach (var (name, value) in settings)
            start.Environment[name] = value;
        using var process = Process.Start(start)!;
        await process.StandardInput.WriteAsync("typed\n");
        process.StandardInput.Close();
        var output = process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        var error = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return (process.ExitCode, await output, await error);
    }

    private static string Root()
    {
        for (var above = new DirectoryInfo(AppContext.BaseDirectory); above is not null; above = above.Parent)
        {
            if (File.Exists(Path.Combine(above.FullName, "Knownwater.slnx")))
                return above.FullName;
        }
        throw new InvalidOperationException($"No folder above {AppContext.BaseDirectory} holds Knownwater.slnx. Run the tests from a checkout.");
    }
}
