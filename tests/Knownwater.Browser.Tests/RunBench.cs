using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Knownwater.Quantities;
using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Storage;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;

namespace Knownwater.Browser.Tests;

/// <summary>A bench with a check on an analyser, the program as a process of its own, and devices that each reach it by a wire.</summary>
public sealed class RunBench : IAsyncDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("knownwater-run-");
    private readonly List<IAsyncDisposable> _devices = [];
    private readonly int _port = FreePort();
    private ServiceProvider _services = null!;
    private Process? _program;

    public Guid Check { get; private set; }

    private string File => Path.Combine(_folder.FullName, "records.db");

    /// <summary>A bench with a check that is begun and a program that serves it.</summary>
    /// <param name="readings">Readings of the check.</param>
    /// <param name="minutes">Minutes that a reading takes: the timer of the step that waits for it.</param>
    public static async Task<RunBench> New(int readings = 2, string minutes = "12")
    {
        var bench = new RunBench();
        await Visit.NewRecords(bench.File);
        bench._services = new ServiceCollection().AddRecords(await RecordsStore.Open(bench.File, cancel: Cancel)).BuildServiceProvider();
        bench.Check = await AnalyserCheck(bench._services, readings, minutes);
        await bench.StartProgram();
        return bench;
    }

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>A device with a browser of its own at the sheet.</summary>
    public async Task<Device> Device(IBrowser browser)
    {
        var wire = new Wire(_port);
        var context = await browser.NewContextAsync(new BrowserNewContextOptions { BaseURL = wire.Address.ToString(), ViewportSize = new ViewportSize { Width = 360, Height = 640 }, IsMobile = true, HasTouch = true });
        _devices.Add(context);
        _devices.Add(wire);
        var device = new Device(this, wire, context);
        await device.Open();
        return device;
    }

    public async Task StartProgram()
    {
        var start = new ProcessStartInfo("dotnet") { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (var argument in new[] { Path.Combine(AppContext.BaseDirectory, "Knownwater.Web.dll"), "--records", File, "--urls", string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{_port}") })
            start.ArgumentList.Add(argument);
        _program = Process.Start(start)!;
        var said = await _program.StandardOutput.ReadLineAsync(Cancel) ?? await _program.StandardError.ReadToEndAsync(Cancel);
        Assert.StartsWith("Knownwater is open at", said, StringComparison.Ordinal);
    }

    /// <summary>Ends the program as a power cut would (SIGKILL).</summary>
    public async Task KillProgram()
    {
        _program!.Kill();
        await _program.WaitForExitAsync(CancellationToken.None);
        _program.Dispose();
        _program = null;
    }

    /// <summary>The run as the records have it, read past the program.</summary>
    public async Task<RunView> Run()
    {
        await using var scope = _services.CreateAsyncScope();
        return (await scope.ServiceProvider.GetRequiredService<ViewRun>().Handle(Check, Cancel))!;
    }

    /// <summary>The readings of the check as the records have them.</summary>
    public async Task<IReadOnlyList<string>> Readings()
    {
        await using var scope = _services.CreateAsyncScope();
        return [.. (await scope.ServiceProvider.GetRequiredService<ViewCheck>().Handle(Check, Cancel))!.Levels[0].Readings.Select(r => r.Typed)];
    }

    /// <summary>The events that a run has when each of its steps is done once, in order, with these readings.</summary>
    public static List<(RunEventKind Kind, int Step, string Text)> EachOnce(RunView run, params IEnumerable<string> readings)
    {
        var typed = new Queue<string>(readings);
        return [(RunEventKind.Begun, 0, ""), .. run.Steps.Select(s => s.Kind == RunStepKind.Read ? (RunEventKind.ReadingKept, s.Index, typed.Dequeue()) : (RunEventKind.Done, s.Index, ""))];
    }

    /// <summary>The events of a run as the records have them.</summary>
    public static List<(RunEventKind Kind, int Step, string Text)> Events(RunView run) => [.. run.Events.Select(e => (e.Kind, e.Step, e.Text))];

    /// <summary>An analyser with a method, and a check of it.</summary>
    public static async Task<Guid> AnalyserCheck(IServiceProvider services, int readings, string minutes = "12")
    {
        await using var scope = services.CreateAsyncScope();
        T Use<T>()
            where T : notnull => scope.ServiceProvider.GetRequiredService<T>();
        var added = await Use<AddInstrument>().Handle(new AddInstrument.Command { Name = "the harbour analyser", Kind = InstrumentKind.Analyser }, Cancel);
        var method = await Use<AddMethod>().Handle(new AddMethod.Command
        {
            Instrument = Assert.IsType<AddInstrument.Outcome.Added>(added).Instrument,
            Parameter = "alkalinity",
            Form = "dKH",
            Matrix = Matrix.Seawater,
            SampleVolume = "5",
            Resolution = "0.1",
            MinutesPerReading = minutes,
            ToleranceAbsolute = "0.3",
            TolerancePercent = "2",
        }, Cancel);
        var started = await Use<StartCheck>().Handle(new StartCheck.Command
        {
            Parameter = "alkalinity",
            Form = "dKH",
            Method = Assert.IsType<AddMethod.Outcome.Added>(method).Method,
            Levels = [new LevelEntry { Known = "7.90", Doubt = "0.08" }],
            ToleranceAbsolute = "0.3",
            TolerancePercent = "2",
            Replicates = string.Create(CultureInfo.InvariantCulture, $"{readings}"),
            Resolution = "0.1",
            MinutesPerReading = minutes,
        }, Cancel);
        var check = Assert.IsType<StartCheck.Outcome.Started>(started).Check;
        Assert.IsType<PassGuards.Outcome.Passed>(await Use<PassGuards>().Handle(new PassGuards.Command { Check = check, Confirmed = Enum.GetValues<GuardKind>() }, Cancel));
        return check;
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var device in _devices)
            await device.DisposeAsync();
        if (_program is not null)
            await KillProgram();
        await _services.DisposeAsync();
        SqliteConnection.ClearAllPools();
        _folder.Delete(recursive: true);
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
