using Knownwater.Drift;
using Knownwater.Quantities;
using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Cli.Drift;

/// <summary>The table that <c>drift</c> reads, as rows in the order of time and as the history of its newest checks.</summary>
/// <remarks>
/// A row is a level of a check. Rows of one time and one lot, each with another known value, are the levels of one check; every other row is a check of its own. What waters share in error follows from their names: the part of
/// reference_u that is not fresh is common to all rows of a stock, or of a reference where no stock is named, or of all rows that name neither.
/// </remarks>
internal sealed class DriftFile
{
    /// <summary>The newest checks that the model takes in, whose cost grows with the third power of their number.</summary>
    public const int MostChecks = 60;

    private const double InScatters = 3;

    /// <summary>What stands between two checks of one time, in days, so that they keep their order.</summary>
    private const double Moment = 1e-7;

    /// <summary>Median of the distance of two values from one normal distribution, by its standard deviation: √2·Φ⁻¹(¾).</summary>
    private static readonly double MedianDistance = Math.Sqrt(2) * Normal.Quantile(0.75);

    private static readonly string[] Known = ["time", "reference", "reference_u", "value", "n", "sd", "lot", "reference_id", "stock_id", "preparation_u"];

    private readonly Dictionary<string, ErrorSource> _sources = new(StringComparer.Ordinal);

    private DriftFile(TimeColumn times, IReadOnlyList<Row> rows, Tolerance? tolerance, double? resolution, double step, IReadOnlyList<string> unused)
    {
        (Times, Rows, Unused, IsToleranceGiven) = (times, rows, unused, tolerance is not null);
        Checks = rows[^1].Check + 1;
        First = Math.Max(0, Checks - MostChecks);
        var newest = rows.Where(r => r.Check >= First).ToList();
        tolerance ??= new Tolerance(InScatters * Scatter(newest, resolution ?? step), 0);
        List<DriftCheck> checks = [];
        foreach (var levels in newest.GroupBy(r => r.Check))
        {
            var check = Check([.. levels], resolution ?? 0);
            checks.Add(checks.Count > 0 && check.Day <= checks[^1].Day ? check with { Day = checks[^1].Day + Moment } : check);
        }
        History = new DriftHistory(tolerance, checks, Openings(checks));
    }

    public TimeColumn Times { get; }

    /// <summary>All rows in the order of time.</summary>
    public IReadOnlyList<Row> Rows { get; }

    /// <summary>Number of checks in the table.</summary>
    public int Checks { get; }

    /// <summary>The first check that the history has.</summary>
    public int First { get; }

    public DriftHistory History { get; }

    public bool IsToleranceGiven { get; }

    /// <summary>Columns that say nothing here.</summary>
    public IReadOnlyList<string> Unused { get; }

    /// <summary>One row of the table.</summary>
    public sealed record Row
    {
        /// <summary>Number of its check, from 0 for the oldest.</summary>
        public required int Check { get; init; }

        public required double Day { get; init; }

        public required double Reference { get; init; }

        public required double ReferenceU { get; init; }

        public required double Value { get; init; }

        public required int N { get; init; }

        public required double? Sd { get; init; }

        /// <summary>Lot in use; empty where none is named in this row or before it.</summary>
        public required string Lot { get; init; }

        /// <summary>Name of the known water; may be empty, as may that of its stock.</summary>
        public required string Water { get; init; }

        public required string Stock { get; init; }

        /// <summary>Part of <see cref="ReferenceU"/> that is fresh in its preparation.</summary>
        public required double PreparationU { get; init; }

        /// <summary>Its place in the table, a name for what it shares with no other row.</summary>
        public required int Place { get; init; }

        public double Deviation => Value - Reference;

        /// <summary>Part of the doubt of the known value that its stock has in common.</summary>
        public double CommonU => Math.Sqrt(Math.Max(0, ReferenceU * ReferenceU - PreparationU * PreparationU));
    }

    /// <summary>Reads a table.</summary>
    /// <param name="table">The table.</param>
    /// <param name="tolerance">How wrong a reading may be; null takes three times what the rows scatter by.</param>
    /// <param name="resolution">Step of the display; null where it is not known.</param>
    /// <exception cref="ArgumentException">A row cannot be understood; the message names its line.</exception>
    public static DriftFile Read(CsvTable table, Tolerance? tolerance, double? resolution)
    {
        var times = TimeColumn.Read(table, "time");
        double[] reference = table.Numbers("reference"), referenceU = table.Numbers("reference_u"), value = table.Numbers("value");
        double?[] n = table.NumbersIfAny("n"), sd = table.NumbersIfAny("sd"), preparationU = table.NumbersIfAny("preparation_u");
        string[] lot = table.TextsIfAny("lot"), water = table.TextsIfAny("reference_id"), stock = table.TextsIfAny("stock_id");
        List<Row> rows = [];
        HashSet<double> levels = [];
        foreach (var at in Enumerable.Range(0, value.Length).OrderBy(i => times.Days[i]))
        {
            string Says(string column, string fault) => $"{table.Where(at)}, column {column}: {fault}";
            if (reference[at] < 0)
                throw new ArgumentException(Says("reference", $"the known value is {reference[at]}, but it is zero or above. Write values on a scale that begins at zero."));
            if (referenceU[at] < 0)
                throw new ArgumentException(Says("reference_u", $"the standard uncertainty is {referenceU[at]}, but it is zero or above. Write 0 for a known value that counts as exact."));
            var count = n[at] ?? 1;
            if (!(count >= 1 && count <= int.MaxValue && count == Math.Floor(count)))
                throw new ArgumentException(Says("n", $"{count} is no number of readings. Write a whole number from 1 on, or leave the cell empty for one reading."));
            if (sd[at] is < 0)
                throw new ArgumentException(Says("sd", $"the standard deviation is {sd[at]}, but it is zero or above. Leave the cell empty where it is not known."));
            if (sd[at] is > 0 && count == 1)
                throw new ArgumentException(Says("sd", $"the standard deviation is {sd[at]}, but n says one reading, which has none. Write in n how many readings it comes from, or leave the cell empty."));
            var fresh = preparationU[at] ?? 0;
            if (fresh < 0 || fresh > referenceU[at])
                throw new ArgumentException(Says("preparation_u", $"{fresh} is no part of reference_u, which is {referenceU[at]} with everything in it. Write a value from 0 to that."));
            // where the cell is empty the lot before is still in use
            var last = rows.Count > 0 ? rows[^1] : null;
            var used = lot[at].Length > 0 ? lot[at] : last?.Lot ?? "";
            var joins = last is not null && last.Day == times.Days[at] && last.Lot == used && !levels.Contains(reference[at]);
            if (!joins)
                levels.Clear();
            levels.Add(reference[at]);
            rows.Add(new Row
            {
                Check = last is null ? 0 : joins ? last.Check : last.Check + 1,
                Day = times.Days[at],
                Reference = reference[at],
                ReferenceU = referenceU[at],
                Value = value[at],
                N = (int)count,
                Sd = count > 1 ? sd[at] : null,
                Lot = used,
                Water = water[at],
                Stock = stock[at],
                PreparationU = fresh,
                Place = at,
            });
        }
        return new DriftFile(times, rows, tolerance, resolution, Step(table.Texts("value")), [.. table.Columns.Where(c => !Known.Contains(c, StringComparer.OrdinalIgnoreCase))]);
    }

    /// <summary>The last place that any value is written to.</summary>
    private static double Step(string[] values) => Math.Pow(10, -values.Max(text => text.LastIndexOfAny(['.', ',']) is >= 0 and var mark ? text.Length - mark - 1 : 0));

    /// <summary>What the rows scatter by, whichever is more: readings within a row, or neighbouring rows, of which a step or a drift moves the median distance little. Never less than the rounding.</summary>
    private static double Scatter(List<Row> rows, double step)
    {
        var repeated = rows.Where(r => r.Sd is not null).ToList();
        var within = repeated.Count == 0 ? 0 : Math.Sqrt(repeated.Sum(r => (r.N - 1) * r.Sd!.Value * r.Sd.Value) / repeated.Sum(r => r.N - 1));
        var distances = rows.Zip(rows.Skip(1), (a, b) => Math.Abs(b.Deviation - a.Deviation)).Order().ToArray();
        var neighbours = distances.Length == 0 ? 0 : 0.5 * (distances[(distances.Length - 1) / 2] + distances[distances.Length / 2]) / MedianDistance;
        return Math.Max(Math.Max(within, neighbours), step / Math.Sqrt(12));
    }

    private DriftCheck Check(List<Row> rows, double resolution)
    {
        var water = rows.MaxBy(r => r.Reference)!;
        return new DriftCheck
        {
            Day = water.Day,
            Levels = [.. rows.Select(r => new DriftLevel { Known = r.Reference, Bias = r.Value - KnownValue(r), Replicates = r.N, Sd = r.Sd, Resolution = resolution })],
            Lots = water.Lot.Length > 0 ? [water.Lot] : [],
            Stock = water.Stock.Length > 0 ? water.Stock : water.Water.Length > 0 ? water.Water : null,
            Preparation = water.Water.Length > 0 ? water.Water : null,
        };
    }

    private Estimate KnownValue(Row row)
    {
        List<(ErrorSource, double)> parts = [];
        if (row.CommonU > 0)
            parts.Add((Source(row.Stock.Length > 0 ? $"stock {row.Stock}" : row.Water.Length > 0 ? $"known water {row.Water}" : "known water"), row.CommonU));
        if (row.PreparationU > 0)
            parts.Add((Source(row.Water.Length > 0 ? $"preparation of {row.Water}" : $"preparation, row {row.Place}"), row.PreparationU));
        return Estimate.FromRows(row.Reference, parts);
    }

    // the same identities in each run, so that sums are taken in the same order
    private ErrorSource Source(string name) =>
        _sources.TryGetValue(name, out var source) ? source : _sources[name] = ErrorSource.Normal(name, 1, id: new Guid(_sources.Count + 1, 0, 0, new byte[8]));

    private static List<DriftEvent> Openings(List<DriftCheck> checks) =>
        [.. checks.Zip(checks.Skip(1)).Where(pair => !pair.First.Lots.SequenceEqual(pair.Second.Lots))
            .Select(pair => new DriftEvent(pair.Second.Day, DriftEventKind.LotOpened, $"lot {pair.Second.Lots[0]}") { Lots = pair.Second.Lots })];
}
