using System.Globalization;

namespace Knownwater.Figures;

/// <summary>A point of a control chart.</summary>
/// <param name="Day">When, in days from any fixed day; finite.</param>
/// <param name="DayLabel">The day as shown: “7 January”.</param>
/// <param name="Value">Where it stands.</param>
/// <param name="ValueLabel">It as shown, with sign and unit.</param>
/// <param name="Address">Where its check is opened.</param>
public sealed record ChartPoint(double Day, string DayLabel, double Value, string ValueLabel, string Address)
{
    /// <summary>High or Low where it lies beyond a limit of this chart; Plain where it does not.</summary>
    public FigureTone Signal { get; init; }

    /// <summary>What it breaks, in words: “beyond the upper limit”; empty where it breaks nothing.</summary>
    public string Note { get; init; } = "";

    /// <summary>Its own lower limit; null where the chart has one for all.</summary>
    public double? Low { get; init; }

    /// <summary>Its own upper limit; null where the chart has one for all.</summary>
    public double? High { get; init; }
}

/// <summary>A line across a control chart.</summary>
/// <param name="Value">Where it stands.</param>
/// <param name="Label">It as shown at the left.</param>
/// <param name="IsLimit">Whether it is a limit of the chart; else a line to count by.</param>
public sealed record ChartLine(double Value, string Label, bool IsLimit);

/// <summary>The picture of a control chart: points in order of time, joined by a hair line, between limits. Points beyond a limit are dome or bowl.</summary>
public sealed record ChartFigure : IFigure
{
    private const double Height = 15, Top = 0.9, Axis = 12.8, Bottom = 11.9, TicksY = 14.3, Right = 99.5, Size = 1.35, NarrowestEm = 19;
    private const int NarrowTicks = 5, WideTicks = 12, DenseFrom = 60;

    /// <summary>What the points are, with their unit: “Score of each check”.</summary>
    public required string What { get; init; }

    /// <summary>The points; at least one, kept in order of time. Two on one day, an upper and a lower sum, stand in two lists.</summary>
    public required IReadOnlyList<ChartPoint> Points
    {
        get;
        init
        {
            if (value is null || value.Count == 0)
                throw new ArgumentException("A chart needs at least one point. Show words where there is none.", nameof(value));
            foreach (var point in value)
            {
                Guard.Finite(point.Day, nameof(point.Day));
                Guard.Finite(point.Value, nameof(point.Value));
            }
            field = [.. value.OrderBy(p => p.Day)];
        }
    }

    /// <summary>A second list of points over the same days; may be empty.</summary>
    public IReadOnlyList<ChartPoint> SecondPoints { get; init; } = [];

    /// <summary>Where the points lie where nothing has changed, and its label.</summary>
    public required ChartLine Centre { get; init; }

    /// <summary>Limits and lines to count by; may be empty where each point has its own.</summary>
    public IReadOnlyList<ChartLine> Lines { get; init; } = [];

    /// <summary>Marks of the time line in order.</summary>
    public IReadOnlyList<DriftTick> Ticks { get; init; } = [];

    private IEnumerable<ChartPoint> All => Points.Concat(SecondPoints);

    /// <inheritdoc/>
    public FigureDrawing Draw()
    {
        var room = Math.Max(0.03 * (Points[^1].Day - Points[0].Day), 1);
        var (firstDay, lastDay) = (Points[0].Day - room, Points[^1].Day + room);
        List<double> values = [Centre.Value, .. Lines.Select(l => l.Value), .. All.Select(p => p.Value), .. All.Select(p => p.Low ?? p.Value), .. All.Select(p => p.High ?? p.Value)];
        double low = values.Min(), high = values.Max(), span = high > low ? high - low : 1;
        (low, high) = (low - 0.06 * span, high + 0.06 * span);
        var gutter = Math.Clamp((0.4 + Lines.Append(Centre).Max(l => TextWidth.Estimate(l.Label, strong: true))) / NarrowestEm * 100 + 2, 14, 34);
        double X(double day) => gutter + (day - firstDay) / (lastDay - firstDay) * (Right - gutter);
        double Y(double value) => Bottom - (value - low) / (high - low) * (Bottom - Top);

        List<FigureElement> drawn = [];
        foreach (var line in Lines)
            drawn.Add(new FigureLine(line.IsLimit ? "line-tol" : "line-limit", gutter, Y(line.Value), Right, Y(line.Value)));
        drawn.Add(new FigureLine("line-known", gutter, Y(Centre.Value), Right, Y(Centre.Value)));
        List<FigureText> texts = [];
        // the centre, then the limits, then what is left
        foreach (var line in Lines.OrderByDescending(l => l.IsLimit).Prepend(Centre))
        {
            if (line.Label.Length > 0 && texts.TrueForAll(t => Math.Abs(t.YEm - Y(line.Value) - 0.3) >= 1.05))
                texts.Add(new FigureText(ReferenceEquals(line, Centre) ? "strong" : "", gutter - 2, 0, Y(line.Value) + 0.3, TextAnchor.End, line.Label));
        }
        var half = Math.Min(1.2, 0.4 * (Right - gutter) / Points.Count);
        foreach (var point in All)
        {
            foreach (var limit in (double?[])[point.Low, point.High])
            {
                if (limit is { } own)
                    drawn.Add(new FigureLine("line-tol", X(point.Day) - half, Y(own), Math.Min(X(point.Day) + half, 100), Y(own)));
            }
        }
        foreach (var points in (IReadOnlyList<ChartPoint>[])[Points, SecondPoints])
        {
            for (var i = 1; i < points.Count; i++)
                drawn.Add(new FigureLine("pt-join", X(points[i - 1].Day), Y(points[i - 1].Value), X(points[i].Day), Y(points[i].Value)));
        }
        foreach (var point in All.OrderBy(p => p.Signal != FigureTone.Plain))
        {
            var (x, y) = (X(point.Day), Y(point.Value));
            drawn.Add(new FigureLink(point.Signal.ClassName(), point.Address, Words(point),
            [
                new FigureLine("hit", x, Math.Max(0, y - 0.75), x, Math.Min(Axis, y + 0.75)),
                point.Signal == FigureTone.Plain ? new FigurePoint("pt", x, y, Points.Count > DenseFrom ? 0.26 : 0.34) : new FigureMark("sig", point.Signal.MeanSymbol(), x, y, Size),
            ]) { Day = point.Day, Card = Card(point) });
        }
        drawn.Add(new FigureLine("axis", gutter, Axis, Right, Axis));
        var ticks = Ticks.Where(t => t.Day >= firstDay && t.Day <= lastDay).ToList();
        var wide = Math.Max(1, (ticks.Count + WideTicks - 1) / WideTicks);
        var narrow = wide * Math.Max(1, (ticks.Count / wide + NarrowTicks - 1) / NarrowTicks);
        var until = gutter;
        for (var i = 0; i < ticks.Count; i += wide)
        {
            var x = X(ticks[i].Day);
            var style = i % narrow == 0 ? "" : "only-wide";
            drawn.Add(new FigureLine(("axis " + style).Trim(), x, Axis, x, Axis + 0.4));
            var width = TextWidth.Estimate(ticks[i].Label, strong: false) / (style.Length > 0 ? 36 : NarrowestEm) * 100;
            var anchor = x > 94 ? TextAnchor.End : TextAnchor.Middle;
            if ((anchor == TextAnchor.End ? x - width : x - width / 2) < until)
                continue;
            texts.Add(new FigureText(style, x, 0, TicksY, anchor, ticks[i].Label));
            until = (anchor == TextAnchor.End ? x : x + width / 2) + 1;
        }
        return new FigureDrawing { HeightEm = Height, Description = Describe(), Elements = [.. drawn, .. texts] };
    }

    /// <inheritdoc/>
    public IReadOnlyList<FigureKeyEntry> Key()
    {
        List<FigureKeyEntry> key = [new(KeySwatch.Readings, FigureTone.Plain, What.ToLowerInvariant()[..1] + What[1..]), new(KeySwatch.Zero, FigureTone.Plain, "where it lies where nothing has changed")];
        if (Lines.Any(l => l.IsLimit) || All.Any(p => p.High is not null))
            key.Add(new(KeySwatch.ChartLimits, FigureTone.Plain, "limits of this chart"));
        if (Lines.Any(l => !l.IsLimit))
            key.Add(new(KeySwatch.UsualRange, FigureTone.Plain, "lines that the rules count by"));
        foreach (var tone in All.Select(p => p.Signal).Where(t => t != FigureTone.Plain).Distinct())
            key.Add(new(KeySwatch.Mean, tone, tone == FigureTone.High ? "beyond, high" : "beyond, low"));
        return key;
    }

    /// <inheritdoc/>
    public FigureTable Table() => new(What, ["Day", "Value", "Beyond"],
        [.. All.OrderByDescending(p => p.Day).Select(p => new FigureTableRow(p.DayLabel, [p.ValueLabel, p.Note]))]);

    /// <summary>The text alternative: what the picture shows, in words.</summary>
    public string Describe()
    {
        var beyond = All.Where(p => p.Signal != FigureTone.Plain).OrderBy(p => p.Day).ToList();
        var points = Points.Count == 1 ? $"one point, {Points[0].DayLabel}" : string.Create(CultureInfo.InvariantCulture, $"{Points.Count} points from {Points[0].DayLabel} to {Points[^1].DayLabel}");
        return $"{What}, {points}: {(beyond.Count == 0 ? "none beyond the limits" : string.Create(CultureInfo.InvariantCulture, $"{beyond.Count} beyond the limits, the first on {beyond[0].DayLabel}"))}.";
    }

    private static List<string> Card(ChartPoint point) => point.Note.Length > 0 ? [point.DayLabel, point.ValueLabel, char.ToUpperInvariant(point.Note[0]) + point.Note[1..]] : [point.DayLabel, point.ValueLabel];

    private static string Words(ChartPoint point) => $"{point.DayLabel}: {point.ValueLabel}{(point.Note.Length > 0 ? ", " + point.Note : "")}";
}
