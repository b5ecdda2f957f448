namespace Knownwater.Figures;

/// <summary>One level in a picture of several: how far off it reads.</summary>
/// <param name="Known">Known value.</param>
/// <param name="KnownLabel">It as shown.</param>
/// <param name="Distance">Mean reading less known value.</param>
/// <param name="DistanceLabel">It as shown, with its sign.</param>
/// <param name="Low">Lower end of its interval; null with <paramref name="High"/> where there is none.</param>
/// <param name="High">Upper end of its interval.</param>
/// <param name="IntervalLabel">The interval as shown; empty where there is none.</param>
/// <param name="Tolerance">Tolerance at the known value; zero or more.</param>
/// <param name="ToleranceLabel">It as shown, without sign.</param>
/// <param name="Tone">The verdict on the level.</param>
public sealed record FigureLevel(double Known, string KnownLabel, double Distance, string DistanceLabel, double? Low, double? High, string IntervalLabel, double Tolerance, string ToleranceLabel, FigureTone Tone);

/// <summary>A place on the line between levels, with its band.</summary>
/// <param name="Known">Known value.</param>
/// <param name="Distance">Distance of the line from the known value there.</param>
/// <param name="Low">Lower end of its band.</param>
/// <param name="High">Upper end of its band.</param>
public sealed record FigureLinePlace(double Known, double Distance, double Low, double High);

/// <summary>The picture behind a verdict over levels: distance from the known value against the known value, each level with its interval, the tolerance as a wedge, the line between the levels with its band. Nothing is drawn beyond the levels but the tolerance.</summary>
public sealed record LevelsFigure : IFigure
{
    private const double Height = 18, Top = 1, Bottom = 15.2, NumbersY = 17, NarrowestEm = 19, Size = 1.3;
    private static readonly double[] Widths = [NarrowestEm, 21, 24, 27, 31, 36, 44, 56];

    /// <summary>The unit of every number.</summary>
    public required string Unit { get; init; }

    /// <summary>The levels; two or more, of which two differ in their known value, none below zero; kept ascending by known value.</summary>
    public required IReadOnlyList<FigureLevel> Levels
    {
        get;
        init
        {
            FigureLevel[] ascending = value is null ? [] : [.. value.OrderBy(l => l.Known)];
            if (ascending.Length < 2 || !(ascending[^1].Known > ascending[0].Known) || ascending[0].Known < 0)
                throw new ArgumentException("A picture of levels needs two different known values, none below zero. Show a single level by its own picture.", nameof(value));
            foreach (var level in ascending)
            {
                Guard.Finite(level.Known, nameof(level.Known));
                Guard.Finite(level.Distance, nameof(level.Distance));
                if (!(level.Tolerance >= 0 && double.IsFinite(level.Tolerance)))
                    throw new ArgumentOutOfRangeException(nameof(value), level.Tolerance, $"The tolerance at {level.KnownLabel} is {level.Tolerance}; a figure shows zero or more.");
                if (level.Low is null != level.High is null)
                    throw new ArgumentException($"The interval at {level.KnownLabel} has one end only. Give both, or none.", nameof(value));
                if (level is { Low: { } low, High: { } high })
                    Guard.Ordered(Guard.Finite(low), Guard.Finite(high), nameof(level.Low), nameof(level.High));
            }
            field = ascending;
        }
    }

    /// <summary>Places of the line from the lowest to the highest level, ascending; empty where no line is drawn.</summary>
    public IReadOnlyList<FigureLinePlace> Line { get; init; } = [];

    /// <summary>Tolerance at zero, the beginning of the wedge.</summary>
    public required double ToleranceAtZero { get; init => field = Guard.Finite(value); }

    /// <summary>The tolerance at zero as shown, without sign.</summary>
    public required string ToleranceAtZeroLabel { get; init; }

    /// <summary>The coverage of the levels' intervals as shown, for example "97.5 %".</summary>
    public string CoverageLabel { get; init; } = "95\u202F%";

    /// <summary>The verdict over levels.</summary>
    public required FigureTone Tone { get; init; }

    private double Greatest => Levels[^1].Known;

    /// <inheritdoc/>
    public FigureDrawing Draw()
    {
        var gutter = Math.Clamp((0.4 + Math.Max(1.2, TextWidth.Estimate("+" + ToleranceAtZeroLabel, strong: false))) / NarrowestEm * 100 + 2, 14, 34);
        var end = 1.1 * Greatest;
        // the tolerance is a straight line through zero and the highest level
        var slope = (Levels[^1].Tolerance - ToleranceAtZero) / Greatest;
        double Tolerance(double known) => Math.Max(0, ToleranceAtZero + slope * known);
        List<double> all = [0, Tolerance(end), -Tolerance(end), ToleranceAtZero, -ToleranceAtZero];
        all.AddRange(Levels.SelectMany(l => new[] { l.Distance, l.Low ?? l.Distance, l.High ?? l.Distance }));
        all.AddRange(Line.SelectMany(p => new[] { p.Low, p.High }));
        double low = all.Min(), high = all.Max(), span = high - low;
        if (span <= 0)
            span = 1;
        (low, high) = (low - 0.04 * span, high + 0.04 * span);
        double X(double known) => gutter + known / end * (99 - gutter);
        double Y(double distance) => Bottom - (distance - low) / (high - low) * (Bottom - Top);

        List<FigureElement> drawn =
        [
            new FigureShape("band-tol", [(gutter, Y(ToleranceAtZero)), (X(end), Y(Tolerance(end))), (X(end), Y(-Tolerance(end))), (gutter, Y(-ToleranceAtZero))], IsClosed: true),
            new FigureLine("line-tol", gutter, Y(ToleranceAtZero), X(end), Y(Tolerance(end))),
            new FigureLine("line-tol", gutter, Y(-ToleranceAtZero), X(end), Y(-Tolerance(end))),
        ];
        if (Line.Count > 1)
        {
            drawn.Add(new FigureShape("zone", [.. Line.Select(p => (X(p.Known), Y(p.High))), .. Line.Reverse().Select(p => (X(p.Known), Y(p.Low)))], IsClosed: true));
            drawn.Add(new FigureShape("path", [.. Line.Select(p => (X(p.Known), Y(p.Distance)))], IsClosed: false));
        }
        drawn.Add(new FigureLine("line-known", gutter, Y(0), X(end), Y(0)));
        foreach (var level in Levels)
        {
            if (level is { Low: { } from, High: { } to })
                drawn.Add(new FigureLine("mean-err", X(level.Known), Y(from), X(level.Known), Y(to)));
            drawn.Add(new FigureMark("sig", level.Tone.MeanSymbol(), X(level.Known), Y(level.Distance), Size));
        }
        drawn.Add(new FigureLine("axis", gutter, Bottom + 0.5, X(end), Bottom + 0.5));

        List<FigureText> texts = [new("strong", gutter - 2, 0, Y(0) + 0.3, TextAnchor.End, "0")];
        Place(new("", gutter - 2, 0, Y(ToleranceAtZero) + 0.3, TextAnchor.End, "+" + ToleranceAtZeroLabel));
        Place(new("", gutter - 2, 0, Y(-ToleranceAtZero) + 0.3, TextAnchor.End, "\u2212" + ToleranceAtZeroLabel));
        // the ends first: what lies between goes where there is no room, the table has it
        foreach (var level in Levels.OrderByDescending(l => l.Known == Greatest || l.Known == Levels[0].Known))
        {
            Place(new("", X(level.Known), 0, NumbersY, TextAnchor.Middle, level.KnownLabel));
            var beside = new FigureText("strong sans-halo", X(level.Known), 0.9, Math.Clamp(Y(level.Distance) + 0.35, 1, Bottom), TextAnchor.Start, level.DistanceLabel);
            if (!Fits(beside))
                beside = beside with { Anchor = TextAnchor.End, ShiftEm = -0.9 };
            Place(beside);
        }
        return new FigureDrawing { HeightEm = Height, Description = Describe(), Tone = Tone, Elements = [.. drawn, .. texts] };

        void Place(FigureText text)
        {
            if (Fits(text))
                texts.Add(text);
        }

        // a figure stretches: two labels may part at one width and meet at another
        bool Fits(FigureText text) => Array.TrueForAll(Widths, width =>
        {
            var (left, right) = Sides(text, width);
            return left >= 0 && right <= width + 0.3 && !texts.Exists(t => Sides(t, width) is var (l, r) && left < r + 0.2 && l < right + 0.2 && Math.Abs(t.YEm - text.YEm) < 1.05);
        });

        static (double Left, double Right) Sides(FigureText text, double width)
        {
            var anchor = text.XPercent / 100 * width + text.ShiftEm;
            var left = text.Anchor switch { TextAnchor.End => anchor - text.WidthEm, TextAnchor.Middle => anchor - text.WidthEm / 2, _ => anchor };
            return (left, left + text.WidthEm);
        }
    }

    /// <inheritdoc/>
    public IReadOnlyList<FigureKeyEntry> Key()
    {
        List<FigureKeyEntry> key = [new(KeySwatch.Zero, FigureTone.Plain, "known water"), new(KeySwatch.Tolerance, FigureTone.Plain, "tolerance")];
        foreach (var tone in Levels.Select(l => l.Tone).Distinct())
        {
            var word = tone switch { FigureTone.Right => "reads right", FigureTone.High => "reads high", FigureTone.Low => "reads low", _ => "can’t tell yet" };
            key.Add(new(Levels.Any(l => l.Tone == tone && l.Low is not null) ? KeySwatch.MeanWithInterval : KeySwatch.Mean, tone, $"a level that {word}, {CoverageLabel} interval"));
        }
        if (Line.Count > 1)
            key.Add(new(KeySwatch.Line, FigureTone.Plain, "line between the levels, 95\u202F% band"));
        return key;
    }

    /// <inheritdoc/>
    public FigureTable Table() => new($"Distance from known water in {Unit}, level by level", ["Known water", "From known water", $"{CoverageLabel} interval", "Tolerance"],
        [.. Levels.Select(l => new FigureTableRow(l.KnownLabel, [l.DistanceLabel, l.IntervalLabel, "±\u202F" + l.ToleranceLabel]))]);

    /// <summary>The text alternative: what the picture shows, in words.</summary>
    public string Describe()
    {
        var unit = Unit.Length > 0 ? "\u00A0" + Unit : "";
        var parts = Levels.Select(l =>
        {
            var size = l.DistanceLabel.TrimStart('+', '\u2212', '-');
            return $"{(l.Distance == 0 ? "no distance" : size + (l.Distance > 0 ? " high" : " low"))} at {l.KnownLabel}{unit}";
        });
        var inside = Levels.Count(l => Math.Abs(l.Distance) <= l.Tolerance);
        var where = inside == Levels.Count ? $"{(inside == 2 ? "both" : "all")} within tolerance" : inside == 0 ? $"{(Levels.Count == 2 ? "both" : "all")} beyond tolerance"
            : $"beyond tolerance at {string.Join(" and ", Levels.Where(l => Math.Abs(l.Distance) > l.Tolerance).Select(l => l.KnownLabel))}";
        return $"{string.Join(", ", parts)}; {where}.";
    }
}
