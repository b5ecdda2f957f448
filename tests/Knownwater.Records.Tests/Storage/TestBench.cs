using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;

namespace Knownwater.Records.Tests.Storage;

/// <summary>The two stores that every test of a use case runs on.</summary>
public enum StoreKind
{
    Sqlite,
    Postgres,
}

/// <summary>Both stores, as data of a theory.</summary>
public sealed class BothStores : TheoryData<StoreKind>
{
    public BothStores()
    {
        Add(StoreKind.Sqlite);
        Add(StoreKind.Postgres);
    }
}

/// <summary>An empty bench in a store of its own, with a clock that stands until it is moved; goes in by the same door as the pages.</summary>
public sealed class TestBench : IAsyncDisposable
{
    /// <summary>The moment at which every bench is made and every test begins.</summary>
    public static readonly DateTimeOffset Morning = new(2026, 9, 3, 7, 40, 0, TimeSpan.Zero);

    private static readonly Lazy<Task<string>> SqliteTemplate = new(async () =>
    {
        var folder = Directory.CreateTempSubdirectory("knownwater-template-").FullName;
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(folder, recursive: true);
        var file = Path.Combine(folder, "records.db");
        await RecordsStore.Open(file, new FakeTimeProvider(Morning));
        SqliteConnection.ClearAllPools();
        return file;
    });

    private readonly string? _folder;
    private readonly ServiceProvider _services;

    private TestBench(StoreKind kind, string where, string? folder, RecordsStore store, FakeTimeProvider time)
    {
        (Kind, Where, _folder, Store, Time) = (kind, where, folder, store, time);
        _services = new ServiceCollection().AddRecords(store).BuildServiceProvider(validateScopes: true);
    }

    public StoreKind Kind { get; }

    /// <summary>File or connection of the store.</summary>
    public string Where { get; }

    public RecordsStore Store { get; }

    public FakeTimeProvider Time { get; }

    public static async Task<TestBench> New(StoreKind kind, PostgresCluster cluster)
    {
        var time = new FakeTimeProvider(Morning);
        string? folder = null;
        string where;
        if (kind == StoreKind.Sqlite)
        {
            folder = Directory.CreateTempSubdirectory("knownwater-").FullName;
            where = Path.Combine(folder, "records.db");
            File.Copy(await SqliteTemplate.Value, where);
        }
        else
        {
            where = await cluster.NewDatabase();
        }
        return new TestBench(kind, where, folder, await RecordsStore.Open(where, time), time);
    }

    /// <summary>Runs a use case in a unit of work of its own.</summary>
    public async Task<TResult> Do<TUseCase, TResult>(Func<TUseCase, Task<TResult>> act)
        where TUseCase : notnull
    {
        await using var scope = _services.CreateAsyncScope();
        return await act(scope.ServiceProvider.GetRequiredService<TUseCase>());
    }

    public Task<StartCheck.Outcome> Start(StartCheck.Command command) => Do<StartCheck, StartCheck.Outcome>(u => u.Handle(command, TestContext.Current.CancellationToken));

    public Task<KeepReading.Outcome> Keep(Guid check, string typed, int level = 1, bool confirmed = false, Guid? request = null) =>
        Do<KeepReading, KeepReading.Outcome>(u => u.Handle(new KeepReading.Command { Check = check, Level = level, Typed = typed, Confirmed = confirmed, Who = "MJ", RequestId = request }, TestContext.Current.CancellationToken));

    public Task<CheckView?> View(Guid check) => Do<ViewCheck, CheckView?>(u => u.Handle(check, TestContext.Current.CancellationToken));

    /// <summary>A started check of alkalinity, 7.90 ± 0.08 dKH, tolerance 0.3 dKH + 2 %.</summary>
    public async Task<Guid> Alkalinity(int readings = 5, bool extension = false, Guid? method = null, string resolution = "0.1", bool typical = false)
    {
        var outcome = await Start(Plans.Alkalinity with { Replicates = $"{readings}", ExtensionDeclared = extension, Method = method, Resolution = resolution, UseTypicalScatter = typical });
        return Assert.IsType<StartCheck.Outcome.Started>(outcome).Check;
    }

    /// <summary>The same with all its readings.</summary>
    public async Task<Guid> Alkalinity(string[] readings, bool extension = false, Guid? method = null, bool typical = false)
    {
        var check = await Alkalinity(readings.Length, extension, method, typical: typical);
        foreach (var reading in readings)
        {
            Time.Advance(TimeSpan.FromMinutes(12));
            await Keep(check, reading);
        }
        return check;
    }

    /// <summary>An analyser with a method for alkalinity in seawater.</summary>
    public async Task<(Guid Instrument, Guid Method)> Analyser(string name = "the harbour analyser")
    {
        var added = await Do<AddInstrument, AddInstrument.Outcome>(u => u.Handle(new AddInstrument.Command { Name = name, Kind = InstrumentKind.Analyser }, TestContext.Current.CancellationToken));
        var instrument = Assert.IsType<AddInstrument.Outcome.Added>(added).Instrument;
        var method = await Do<AddMethod, AddMethod.Outcome>(u => u.Handle(Plans.AlkalinityMethod(instrument), TestContext.Current.CancellationToken));
        return (instrument, Assert.IsType<AddMethod.Outcome.Added>(method).Method);
    }

    /// <summary>A known water for alkalinity on the shelf.</summary>
    public async Task<Guid> Water(AddReferenceWater.Command? command = null)
    {
        var added = await Do<AddReferenceWater, AddReferenceWater.Outcome>(u => u.Handle(command ?? Plans.AlkalinityWater, TestContext.Current.CancellationToken));
        return Assert.IsType<AddReferenceWater.Outcome.Added>(added).Water;
    }

    public async ValueTask DisposeAsync()
    {
        await _services.DisposeAsync();
        if (_folder is not null)
        {
            SqliteConnection.ClearAllPools();
            Directory.Delete(_folder, recursive: true);
        }
    }
}

/// <summary>Plans that many tests start from.</summary>
public static class Plans
{
    public static StartCheck.Command Alkalinity { get; } = new()
    {
        Parameter = "alkalinity",
        Form = "dKH",
        Levels = [new LevelEntry { Known = "7.90", Doubt = "0.08" }],
        ToleranceAbsolute = "0.3",
        TolerancePercent = "2",
        Replicates = "5",
        Resolution = "0.1",
        MinutesPerReading = "12",
        Who = "MJ",
    };

    public static AddReferenceWater.Command AlkalinityWater { get; } = new()
    {
        Label = "KW-36",
        Parameter = "alkalinity",
        Form = "dKH",
        Matrix = Quantities.Matrix.Seawater,
        Salinity = "35",
        Known = "7.90",
        Doubt = "0.08",
        Origin = Origin.Certificate,
        OriginDetail = "26-0417",
        MadeOn = "2026-09-02",
        UseBy = "2026-09-16",
    };

    public static AddMethod.Command AlkalinityMethod(Guid instrument) => new()
    {
        Instrument = instrument,
        Parameter = "alkalinity",
        Form = "dKH",
        Matrix = Quantities.Matrix.Seawater,
        SalinityLow = "30",
        SalinityHigh = "38",
        SampleVolume = "5",
        RangeLow = "1",
        RangeHigh = "15",
        Resolution = "0.1",
        MinutesPerReading = "12",
        ToleranceAbsolute = "0.3",
        TolerancePercent = "2",
    };

    /// <summary>Five readings that read high by about a tenth: the mean is 8.74.</summary>
    public static string[] High { get; } = ["8.6", "8.8", "8.7", "8.9", "8.7"];

    /// <summary>Five readings that read right.</summary>
    public static string[] Right { get; } = ["7.9", "8.0", "7.8", "7.9", "7.9"];

    /// <summary>The sentences of the faults of an outcome, for asserting.</summary>
    public static FieldFault Only(IReadOnlyList<FieldFault> faults, string field)
    {
        var fault = Assert.Single(faults);
        Assert.Equal(field, fault.Field);
        return fault;
    }
}
