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

    /// <summary>What a known water made on a day truly holds, for what it would hold if its stock were good.</summary>
    public Func<int, double, double> Holds { get; init; } = static (_, truth) => truth;

    /// <summary>What is typed into a check on a day, for what the display shows.</summary>
    public Func<int, double, double> Typed { get; init; } = static (_, shown) => shown;

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

    /// <summary>A value as the display rounds it; none is below zero.</summary>
    public double Rounded(double value) => Math.Max(0, Math.Round(value / Step) * Step);

    /// <summary>A number with the decimals of the display.</summary>
    public string Shown(double value)
    {
        var decimals = Math.Max(0, (int)Math.Ceiling(-Math.Log10(Step) - 1e-9));
        return value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }
}

/// <summary>One tank of the scenario.</summary>
internal sealed record DemoTank(string Name, TankKind Kind, string Volume, string Salinity, string Note);

/// <summary>The true level of a tank over the days: where it begins, what it swings by in a year, and from a day on what it rises or falls by in a day.</summary>
internal sealed record DemoLevel(double Start, double Swing = 0, int From = 0, double PerDay = 0)
{
    public double On(int day) => Start + Swing * Math.Sin(2 * Math.PI * day / 365) + PerDay * Math.Max(0, day - From);

    /// <summary>“7.9 ± 0.15 over the year, from day 490 on −0.012 a day”.</summary>
    public override string ToString()
    {
        var c = CultureInfo.InvariantCulture;
        var swing = Swing > 0 ? string.Create(c, $" ± {Swing} over the year") : "";
        return PerDay == 0 ? string.Create(c, $"{Start}{swing}") : string.Create(c, $"{Start}{swing}, from day {From} on {(PerDay < 0 ? "\u2212" : "+")}{Math.Abs(PerDay)} a day");
    }
}

/// <summary>Readings of a tank by a method on some days: its true level, with the scatter of the method and what it reads wrong.</summary>
internal sealed record DemoTankReadings(string Tank, string Method, int First, int Every, DemoLevel Level)
{
    public IReadOnlyList<int> Days { get; } = [.. Enumerable.Range(0, Scenario.Days).Select(i => First + i * Every).TakeWhile(d => d < Scenario.Days - 1)];
}

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

    /// <summary>What alkalinity reads too high by in the end, in dKH; it rises evenly from the first day on.</summary>
    public const double AlkalinityRise = 0.9;

    /// <summary>Day on which the nitrate lot that reads low was opened, and on which it was replaced.</summary>
    public const int NitrateLotFrom = 212, NitrateLotTo = 330;

    /// <summary>What that lot reads of a true value.</summary>
    public const double NitrateLotFactor = 0.75;

    /// <summary>Day of the phosphate check whose readings were entered as phosphorus.</summary>
    public const int PhosphateSlip = 292;

    /// <summary>mg/L PO₄ in one mg/L P.</summary>
    private const double PhosphorusFactor = 3.066;

    /// <summary>Day from which the ammonia stock loses strength.</summary>
    public const int AmmoniaStockFrom = 340;

    /// <summary>Share of its ammonium that the stock has lost in the end.</summary>
    public const double AmmoniaLoss = 0.7;

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

    /// <summary>What is read of the tanks all the while. The alkalinity of Lagoon falls from day 490 on, because its dose is cut for readings that have drifted up.</summary>
    public static IReadOnlyList<DemoTankReadings> TankReadings { get; } =
    [
        new("Lagoon", "alkalinity", 3, 7, new(7.9, 0.1, 490, -0.012)),
        new("Lagoon", "nitrate-sea", 3, 14, new(8, 2)),
        new("Lagoon", "phosphate-sea", 3, 14, new(0.06, 0.02)),
        new("Lagoon", "calcium", 3, 28, new(425, 8)),
        new("Lagoon", "magnesium", 3, 28, new(1320, 20)),
        new("Kelp", "alkalinity", 6, 28, new(7.4)),
        new("Kelp", "nitrate-sea", 6, 14, new(15, 3)),
        new("Kelp", "phosphate-sea", 6, 28, new(0.2, 0.04)),
        new("Kelp", "ammonia-sea", 6, 28, new(0.03)),
        new("Brook", "nitrate-fresh", 4, 7, new(14, 3)),
        new("Brook", "phosphate-fresh", 4, 14, new(0.4, 0.1)),
    ];

    /// <summary>A dose that stood before the drift was seen, and one that was cut since the readings were believed.</summary>
    public static IReadOnlyList<DemoDoses> Doses { get; } =
    [
        new("Lagoon", "bicarbonate solution", "38 mL a day", "alkalinity", [30, 120]),
        new("Lagoon", "bicarbonate solution", "31 mL a day", "alkalinity", [503, 524]),
        new("Brook", "potassium nitrate solution", "12 mL a day", "nitrate", [502, 530]),
    ];

    private static int[] Every(int days, int from) => [.. Enumerable.Range(0, 100).Select(i => from + i * days).TakeWhile(d => d < Days - 2)];

    public static IReadOnlyList<DemoMethod> Methods { get; } =
    [
        new("alkalinity", Analyser, "alkalinity", Matrix.Seawater, 0.1, "12", "10", "20")
        {
            Levels = [(7.9, "0.08")], Scatter = (0.08, 0.005), CheckDays = Every(28, 14), Label = "KW-A", Reagent = "titrant",
            Reads = static (day, truth) => truth + AlkalinityRise * day / Days,
            Lots = [new(0, "A-17"), new(180, "A-18"), new(365, "A-19")],
            Origin = Origin.OwnPreparation, OriginDetail = "sodium bicarbonate, own weighing; salt maker’s stated purity 99.7 %",
        },
        new("nitrate-sea", Analyser, "nitrate", Matrix.Seawater, 0.1, "14", "5", "50")
        {
            Levels = [(2.0, "0.1"), (10.0, "0.2")], Scatter = (0.12, 0.015), CheckDays = Every(28, 16), Label = "KW-N", Replicates = 4, Reagent = "reducer",
            Reads = static (day, truth) => day is >= NitrateLotFrom and < NitrateLotTo ? NitrateLotFactor * truth : truth,
            Lots = [new(0, "N-11"), new(104, "N-12"), new(NitrateLotFrom, "N-13"), new(NitrateLotTo, "N-14")],
            OriginDetail = "HS-4410, stock 1000 mg/L as NO3",
        },
        new("phosphate-sea", Analyser, "phosphate", Matrix.Seawater, 0.01, "12", "10", "2")
        {
            Levels = [(0.10, "0.006")], Scatter = (0.009, 0.03), CheckDays = Every(28, 12), Label = "KW-P", Reagent = "molybdate", Extends = true,
            Typed = static (day, shown) => day == PhosphateSlip ? shown / PhosphorusFactor : shown,
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
            Holds = static (day, truth) => day < AmmoniaStockFrom ? truth : truth * (1 - AmmoniaLoss * (day - AmmoniaStockFrom) / (Days - AmmoniaStockFrom)),
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
