using System.Globalization;
using Knownwater.Quantities;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tanks;

namespace Knownwater.Records.Demo;

/// <summary>One lot of the scenario, opened on a day counted from its start.</summary>
internal sealed record DemoLot(int Day, string Name);

/// <summary>One method of the scenario with what is true about it.</summary>
internal sealed record DemoMethod(string Key, string Instrument, string Parameter, Matrix Matrix, double Step, string Minutes, string SampleVolume, string RangeHigh)
{
    /// <summary>Known values with their expanded doubt (k = 2).</summary>
    public required IReadOnlyList<(double Known, string Doubt)> Levels { get; init; }

    /// <summary>Scatter: √(a² + (b · level)²).</summary>
    public required (double A, double B) Scatter { get; init; }

    /// <summary>What the method reads for a true value on a day.</summary>
    public Func<int, double, double> Reads { get; init; } = static (_, truth) => truth;

    public required IReadOnlyList<int> CheckDays { get; init; }

    public IReadOnlyList<DemoLot> Lots { get; init; } = [];

    public string Reagent { get; init; } = "";

    public int Replicates { get; init; } = 5;

    public bool Extends { get; init; }

    public Origin Origin { get; init; } = Origin.Certificate;

    public string OriginDetail { get; init; } = "";

    /// <summary>First part of the labels of its known waters.</summary>
    public required string Label { get; init; }

    public Func<int, string> NoteOn { get; init; } = static _ => "";

    public double Sd(double level) => Math.Sqrt(Scatter.A * Scatter.A + Scatter.B * Scatter.B * level * level);

    /// <summary>A number with the decimals of the display.</summary>
    public string Shown(double value)
    {
        var decimals = Math.Max(0, (int)Math.Ceiling(-Math.Log10(Step) - 1e-9));
        return value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }
}

/// <summary>One tank of the scenario.</summary>
internal sealed record DemoTank(string Name, TankKind Kind, string Volume, string Salinity, string Note);

/// <summary>Readings of a tank by a method on some days: its true level, with the scatter of the method and what is planted in it.</summary>
internal sealed record DemoTankReadings(string Tank, string Method, IReadOnlyList<int> Days, Func<int, double> Level);

/// <summary>Doses of a tank on some days.</summary>
internal sealed record DemoDoses(string Tank, string What, string Amount, string Parameter, IReadOnlyList<int> Days);

/// <summary>
/// The invented harbour school: three tanks (Kelp, Lagoon, Brook), one automatic analyser with eight methods, two hand kits, one mail-in laboratory.
/// The truth and the planted faults are described in docs/reference/demo.md.
/// </summary>
internal static class Scenario
{
    public const string Bench = "Harbour school";
    public const int Days = 546;
    public const int Seed = 640_280_180;

    private const string Analyser = "Harbour analyser";
    private const string SeaKit = "Hand kit, sea";
    private const string BrookKit = "Hand kit, Brook";
    private const string Laboratory = "Mail-in laboratory";

    /// <summary>Day on which the nitrate lot that reads low was opened, and on which it was replaced.</summary>
    public const int NitrateLotFrom = 212, NitrateLotTo = 330;

    /// <summary>Day of the phosphate check whose readings were entered as phosphorus.</summary>
    public const int PhosphateSlip = 292;

    /// <summary>Day from which the ammonia stock loses strength.</summary>
    public const int AmmoniaStockFrom = 340;

    public static IReadOnlyList<(string Name, InstrumentKind Kind, string Note)> Instruments { get; } =
    [
        (Analyser, InstrumentKind.Analyser, "On the shelf between Kelp and Lagoon."),
        (SeaKit, InstrumentKind.HandKit, "Titration by drops."),
        (BrookKit, InstrumentKind.HandKit, "Colour against a chart."),
        (Laboratory, InstrumentKind.Laboratory, "Samples go out by post, cold."),
    ];

    /// <summary>Day on which the doubt that the nitrate lot had raised was cleared.</summary>
    public const int NitrateCleared = 353;

    public static IReadOnlyList<DemoTank> Tanks { get; } =
    [
        new("Kelp", TankKind.FishOnlyMarine, "640", "35", "Cold water, 14 °C."),
        new("Lagoon", TankKind.Reef, "280", "35", ""),
        new("Brook", TankKind.PlantedFresh, "180", "", ""),
    ];

    /// <summary>Readings around the checks that fail: alkalinity at the end of the drift, nitrate in the time of the weak lot; and some that nothing is wrong with.</summary>
    public static IReadOnlyList<DemoTankReadings> TankReadings { get; } =
    [
        new("Lagoon", "alkalinity", On(490, 4, 14), static day => 7.9 - 0.012 * (day - 490)),
        new("Kelp", "alkalinity", On(492, 10, 6), static _ => 7.4),
        new("Lagoon", "nitrate-sea", On(205, 14, 10), static day => 8 + 0.01 * (day - 205)),
        new("Brook", "nitrate-fresh", On(500, 7, 7), static day => 14 + Math.Sin(day)),
        new("Brook", "phosphate-fresh", On(500, 14, 4), static _ => 0.4),
    ];

    /// <summary>A dose that stood before the drift was seen, and one that was cut since the readings were believed.</summary>
    public static IReadOnlyList<DemoDoses> Doses { get; } =
    [
        new("Lagoon", "bicarbonate solution", "38 mL a day", "alkalinity", [30, 120]),
        new("Lagoon", "bicarbonate solution", "31 mL a day", "alkalinity", [503, 524]),
        new("Brook", "potassium nitrate solution", "12 mL a day", "nitrate", [502, 530]),
    ];

    private static int[] On(int from, int every, int count) => [.. Enumerable.Range(0, count).Select(i => from + i * every)];

    private static int[] Every(int days, int from) => [.. Enumerable.Range(0, 100).Select(i => from + i * days).TakeWhile(d => d < Days - 2)];

    public static IReadOnlyList<DemoMethod> Methods { get; } =
    [
        new("alkalinity", Analyser, "alkalinity", Matrix.Seawater, 0.1, "12", "10", "20")
        {
            Levels = [(7.9, "0.08")], Scatter = (0.08, 0.005), CheckDays = Every(28, 14), Label = "KW-A", Reagent = "titrant",
            // a slow upward drift, 0.9 dKH over the eighteen months
            Reads = static (day, truth) => truth + 0.9 * day / Days,
            Lots = [new(0, "A-17"), new(180, "A-18"), new(365, "A-19")],
            Origin = Origin.OwnPreparation, OriginDetail = "sodium bicarbonate, own weighing; salt maker’s stated purity 99.7 %",
        },
        new("nitrate-sea", Analyser, "nitrate", Matrix.Seawater, 0.1, "14", "5", "50")
        {
            Levels = [(2.0, "0.1"), (10.0, "0.2")], Scatter = (0.12, 0.015), CheckDays = Every(28, 16), Label = "KW-N", Replicates = 4, Reagent = "reducer",
            Reads = static (day, truth) => day is >= NitrateLotFrom and < NitrateLotTo ? 0.75 * truth : truth,
            Lots = [new(0, "N-11"), new(104, "N-12"), new(NitrateLotFrom, "N-13"), new(NitrateLotTo, "N-14")],
            OriginDetail = "HS-4410, stock 1000 mg/L as NO3",
        },
        new("phosphate-sea", Analyser, "phosphate", Matrix.Seawater, 0.01, "12", "10", "2")
        {
            Levels = [(0.10, "0.006")], Scatter = (0.009, 0.03), CheckDays = Every(28, 12), Label = "KW-P", Reagent = "molybdate", Extends = true,
            Reads = static (day, truth) => day == PhosphateSlip ? truth / 3.066 : truth,
            Lots = [new(0, "P-07"), new(240, "P-08"), new(470, "P-09")],
            OriginDetail = "HS-4411, stock 1000 mg/L as PO4",
        },
        new("calcium", Analyser, "calcium", Matrix.Seawater, 1, "15", "5", "600")
        {
            Levels = [(420, "3")], Scatter = (5, 0.005), CheckDays = Every(84, 30), Label = "KW-C", Reagent = "titrant", Lots = [new(0, "C-03"), new(290, "C-04")],
            Reads = static (_, truth) => truth + 3, OriginDetail = "HS-4415, built in matched ions",
        },
        new("magnesium", Analyser, "magnesium", Matrix.Seawater, 5, "15", "5", "1800")
        {
            Levels = [(1300, "10")], Scatter = (14, 0.008), CheckDays = Every(84, 33), Label = "KW-M", Reagent = "titrant", Lots = [new(0, "M-03"), new(290, "M-04")],
            OriginDetail = "HS-4416, built in matched ions",
        },
        new("ammonia-sea", Analyser, "ammonia", Matrix.Seawater, 0.01, "18", "5", "3")
        {
            Levels = [(0.25, "0.01")], Scatter = (0.012, 0.03), CheckDays = Every(56, 24), Label = "KW-H", Reagent = "salicylate", Lots = [new(0, "H-05"), new(260, "H-06")],
            // the stock is past its best: its water holds less than its label says, up to 70 % in the end
            Reads = static (day, truth) => day < AmmoniaStockFrom ? truth : truth * (1 - 0.7 * (day - AmmoniaStockFrom) / (Days - AmmoniaStockFrom)),
            OriginDetail = "HS-4402, stock 100 mg/L as N",
        },
        new("nitrate-fresh", Analyser, "nitrate", Matrix.FreshWater, 0.5, "14", "5", "100")
        {
            Levels = [(15, "0.3")], Scatter = (0.4, 0.02), CheckDays = Every(84, 40), Label = "KW-B", Reagent = "reducer", Lots = [new(0, "NF-02"), new(300, "NF-03")],
            OriginDetail = "HS-4410, stock 1000 mg/L as NO3",
        },
        new("phosphate-fresh", Analyser, "phosphate", Matrix.FreshWater, 0.01, "12", "10", "5")
        {
            Levels = [(0.50, "0.02")], Scatter = (0.015, 0.03), CheckDays = Every(84, 44), Label = "KW-F", Reagent = "molybdate", Lots = [new(0, "PF-02")],
            OriginDetail = "HS-4411, stock 1000 mg/L as PO4",
        },
        new("alkalinity-kit", SeaKit, "alkalinity", Matrix.Seawater, 0.5, "5", "5", "20")
        {
            Levels = [(7.9, "0.08")], Scatter = (0.25, 0), CheckDays = [60, 240, 420], Label = "KW-AK", Replicates = 3,
            Origin = Origin.OwnPreparation, OriginDetail = "sodium bicarbonate, own weighing; salt maker’s stated purity 99.7 %",
        },
        new("nitrate-kit", BrookKit, "nitrate", Matrix.FreshWater, 5, "8", "5", "100")
        {
            Levels = [(15, "0.3")], Scatter = (3, 0), CheckDays = [70, 250, 430], Label = "KW-BK", Replicates = 3,
            OriginDetail = "HS-4410, stock 1000 mg/L as NO3",
        },
        new("phosphate-lab", Laboratory, "phosphate", Matrix.Seawater, 0.001, "1", "50", "1")
        {
            Levels = [(0.100, "0.006")], Scatter = (0.003, 0.01), CheckDays = [90, 380], Label = "KW-PL", Replicates = 3,
            OriginDetail = "HS-4411, stock 1000 mg/L as PO4",
        },
    ];
}
