using System.Globalization;

namespace Knownwater.Figures;

/// <summary>The picture behind a verdict: readings of known water in order, their mean and its interval, against the known value, its doubt and the tolerance.</summary>
/// <remarks>
/// The figure is a value. It takes numbers in one unit and labels that are already rounded and written for their reader;
/// it computes places, never values. <see cref="Draw"/> lays it out, <see cref="Key"/> explains its marks, <see cref="Table"/> holds the same content.
/// </remarks>
public sealed record VerdictFigure : IFigure
{
    /// <summary>The unit of every number, for example <c>dKH</c> or <c>mg/L</c>.</summary>
    public required string Unit { get; init; }

    /// <summary>What the line stands for, in words.</summary>
    public string ReferenceName { get; init; } = "known water";

    /// <summary>The word beside its number.</summary>
    public string ReferenceWord { get; init; } = "known";

    /// <summary>What the readings are, in the plural.</summary>
    public string ReadingsName { get; init; } = "readings of known water";

    /// <summary>The known value.</summary>
    public required double Known { get; init => field = Guard.Finite(value); }

    /// <summary>The known value as shown.</summary>
    public required string KnownLabel { get; init; }

    /// <summary>The lower end of the known value's doubt; equal to the known value when there is none.</summary>
    public required double KnownLow { get; init => field = Guard.Finite(value); }

    /// <summary>The upper end of the known value's doubt.</summary>
    public required double KnownHigh { get; init => field = Guard.Finite(value); }

    /// <summary>The lower tolerance line.</summary>
    public required double ToleranceLow { get; init => field = Guard.Finite(value); }

    /// <summary>The upper tolerance line.</summary>
    public required double ToleranceHigh { get; init => field = Guard.Finite(value); }

    /// <summary>The lower tolerance line's number as shown.</summary>
    public required string ToleranceLowLabel { get; init; }

    /// <summary>The upper tolerance line's number as shown.</summary>
    public required string ToleranceHighLabel { get; init; }

    /// <summary>The readings in the order they were taken; at least one.</summary>
    public required IReadOnlyList<FigureReading> Readings
    {
        get;
        init => field = value is { Count: > 0 } ? [.. value] : throw new ArgumentException("A verdict's picture needs at least one reading.", nameof(value));
    }

    /// <summary>The mean of the readings that count.</summary>
    public required double Mean { get; init => field = Guard.Finite(value); }

    /// <summary>The mean as shown.</summary>
    public required string MeanLabel { get; init; }

    /// <summary>The lower end of the mean's interval, known value's doubt included; null when one reading alone gives none.</summary>
    public double? Low { get; init => field = value is { } v ? Guard.Finite(v, nameof(Low)) : null; }

    /// <summary>The upper end of the mean's interval; null together with <see cref="Low"/>.</summary>
    public double? High { get; init => field = value is { } v ? Guard.Finite(v, nameof(High)) : null; }

    /// <summary>The interval's lower end as shown.</summary>
    public string LowLabel { get; init; } = "";

    /// <summary>The interval's upper end as shown.</summary>
    public string HighLabel { get; init; } = "";

    /// <summary>The mean's signed distance from the known value as shown, for example "+0.84".</summary>
    public required string DistanceLabel { get; init; }

    /// <summary>What the mean's row of the table says of its distance, with its doubt; the distance alone when empty.</summary>
    public string DistanceWithDoubtLabel { get; init; } = "";

    /// <summary>The interval's coverage as shown, for example "95 %".</summary>
    public string CoverageLabel { get; init; } = "95\u202F%";

    /// <summary>The verdict, which gives the mean its shape and colour.</summary>
    public required FigureTone Tone { get; init; }

    /// <summary>True when the mean has an interval.</summary>
    public bool HasInterval => Low is not null && High is not null;

    private bool IsKnownWater => ReferenceName == "known water";

    /// <summary>Lays the figure out.</summary>
    /// <exception cref="InvalidOperationException">The interval has one end only.</exception>
    /// <exception cref="ArgumentOutOfRangeException">An interval, a band or the tolerance has its ends the wrong way round.</exception>
    public FigureDrawing Draw()
    {
        Check();
        return new VerdictFigureLayout(this).Draw();
    }

    /// <summary>The key below the figure: only what the figure shows.</summary>
    public IReadOnlyList<FigureKeyEntry> Key()
    {
        var key = new List<FigureKeyEntry>
        {
            new(KeySwatch.KnownWater, FigureTone.Plain, KnownLow < KnownHigh ? ReferenceName + " and its doubt" : ReferenceName),
            new(KeySwatch.Tolerance, FigureTone.Plain, "tolerance"),
            new(KeySwatch.Readings, FigureTone.Plain, Readings.Count == 1 ? "the reading" : "readings, in order"),
            HasInterval
                ? new(KeySwatch.MeanWithInterval, Tone, $"mean, {CoverageLabel} interval")
                : new(KeySwatch.Mean, Tone, Readings.Count == 1 ? "the one reading, without an interval" : "mean, without an interval"),
        };
        if (Readings.Any(r => r.IsExcluded))
            key.Add(new(KeySwatch.LeftOut, FigureTone.Plain, "left out, with a reason"));
        if (Readings.Any(r => r.Mark != ReadingMark.Measured))
            key.Add(new(KeySwatch.Limit, FigureTone.Plain, "known only to lie beyond the limit"));
        return key;
    }

    /// <summary>The same content as a table.</summary>
    public FigureTable Table()
    {
        var anyExcluded = Readings.Any(r => r.IsExcluded);
        List<string> columns = ["Reading", Unit, IsKnownWater ? "From known water" : $"From the {ReferenceName}"];
        if (anyExcluded)
            columns.Add("Left out because");
        var rows = new List<FigureTableRow>();
        for (var i = 0; i < Readings.Count; i++)
        {
            var reading = Readings[i];
            rows.Add(Row((i + 1).ToString(CultureInfo.InvariantCulture), reading.Label, reading.DistanceLabel, reading.ExcludedBecause ?? ""));
        }

        rows.Add(Row("Mean", MeanLabel, DistanceWithDoubtLabel.Length > 0 ? DistanceWithDoubtLabel : DistanceLabel, ""));
        if (HasInterval)
            rows.Add(Row($"{CoverageLabel} interval", $"{LowLabel} to {HighLabel}", "", ""));
        rows.Add(Row(char.ToUpperInvariant(ReferenceName[0]) + ReferenceName[1..], KnownLabel, "", ""));
        rows.Add(Row("Tolerance", $"{ToleranceLowLabel} to {ToleranceHighLabel}", "", ""));
        return new FigureTable($"Readings in {Unit}, in order", columns, rows);

        FigureTableRow Row(string head, params string[] cells) => new(head, anyExcluded ? cells : cells[..2]);
    }

    /// <summary>The text alternative: what the picture shows, in words.</summary>
    public string Describe()
    {
        var unit = Unit.Length > 0 ? "\u00A0" + Unit : "";
        var n = Readings.Count;
        var readings = string.Join(", ", Readings.Select(r => r.IsExcluded ? $"{r.Label} (left out)" : r.Label));
        var first = !IsKnownWater
            ? $"{CountWord(n)} {ReadingsName}, against the {ReferenceName}, {KnownLabel}{unit}, in order: {readings}."
            : n == 1
            ? $"One reading of known water of {KnownLabel}{unit}: {readings}."
            : $"{CountWord(n)} readings of known water of {KnownLabel}{unit}, in order: {readings}.";
        var line = IsKnownWater ? "the known value" : "it";
        var distance = DistanceLabel.TrimStart('+', '\u2212', '-', '\u202F', ' ');
        var place = Mean > Known ? $"lies {distance} above {line}" : Mean < Known ? $"lies {distance} below {line}" : $"lies on {line}";
        var whose = n == 1 ? "It" : $"Their mean, {MeanLabel},";
        if (!HasInterval)
            return $"{first} {whose} {place}; one reading alone has no interval.";
        return $"{first} {whose} {place}; its {CoverageLabel} interval, {LowLabel} to {HighLabel}, {IntervalPlace()}.";
    }

    private string IntervalPlace()
    {
        if (Low > ToleranceHigh)
            return $"lies wholly above the upper tolerance line at {ToleranceHighLabel}";
        if (High < ToleranceLow)
            return $"lies wholly below the lower tolerance line at {ToleranceLowLabel}";
        if (Low >= ToleranceLow && High <= ToleranceHigh)
            return $"lies wholly within the tolerance from {ToleranceLowLabel} to {ToleranceHighLabel}";
        if (Low < ToleranceLow && High > ToleranceHigh)
            return $"reaches beyond both tolerance lines, {ToleranceLowLabel} and {ToleranceHighLabel}";
        return High > ToleranceHigh
            ? $"reaches from inside the tolerance to beyond its upper line at {ToleranceHighLabel}"
            : $"reaches from inside the tolerance to beyond its lower line at {ToleranceLowLabel}";
    }

    private void Check()
    {
        Guard.Ordered(KnownLow, Known, nameof(KnownLow), nameof(Known));
        Guard.Ordered(Known, KnownHigh, nameof(Known), nameof(KnownHigh));
        Guard.Ordered(ToleranceLow, ToleranceHigh, nameof(ToleranceLow), nameof(ToleranceHigh));
        if (Low is null != High is null)
            throw new InvalidOperationException($"The interval has one end only: {nameof(Low)} is {Low}, {nameof(High)} is {High}. Give both, or none.");
        if (Low is { } low && High is { } high)
            Guard.Ordered(low, high, nameof(Low), nameof(High));
    }

    private static string CountWord(int n) => n switch
    {
        2 => "Two", 3 => "Three", 4 => "Four", 5 => "Five", 6 => "Six", 7 => "Seven", 8 => "Eight", 9 => "Nine", 10 => "Ten", 11 => "Eleven", 12 => "Twelve",
        _ => n.ToString(CultureInfo.InvariantCulture),
    };
}
