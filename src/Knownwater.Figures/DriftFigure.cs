using System.Globalization;

namespace Knownwater.Figures;

/// <summary>A check in the picture of a method's history.</summary>
/// <param name="Day">When, in days from any fixed day; finite.</param>
/// <param name="DayLabel">The day as shown: “7 January”.</param>
/// <param name="Off">Distance from known water.</param>
/// <param name="OffLabel">It as shown, with sign and doubt: “+0.3 ± 0.8”.</param>
/// <param name="Low">Lower end of its interval; null with <paramref name="High"/> where there is none.</param>
/// <param name="High">Upper end of its interval.</param>
/// <param name="Address">Where its check is opened; empty for nowhere.</param>
public sealed record DriftPoint(double Day, string DayLabel, double Off, string OffLabel, double? Low, double? High, string Address)
{
    /// <summary>High or Low where the check is signalled; Plain where it is not.</summary>
    public FigureTone Signal { get; init; }

    /// <summary>The lot it was read with as shown; empty where none was said.</summary>
    public string Lot { get; init; } = "";
}

/// <summary>A span in which one lot was in use.</summary>
/// <param name="Name">Its name: “N-13”.</param>
/// <param name="From">First day.</param>
/// <param name="To">Last day; at or after <paramref name="From"/>.</param>
public sealed record DriftLot(string Name, double From, double To);

/// <summary>A dated event.</summary>
/// <param name="Day">When.</param>
/// <param name="Letter">The letter that stands in the picture: “S”.</param>
/// <param name="Words">What it was, for the key: “service, 27 May”.</param>
public sealed record DriftEvent(double Day, string Letter, string Words);

/// <summary>When a change began.</summary>
/// <param name="From">Lower end of the interval.</param>
/// <param name="To">Upper end of the interval.</param>
/// <param name="Words">It in words: “since 31 July”.</param>
/// <param name="Tone">High or Low.</param>
public sealed record DriftOnset(double From, double To, string Words, FigureTone Tone);

/// <summary>A mark of the time line.</summary>
/// <param name="Day">Where.</param>
/// <param name="Label">“Jan”.</param>
public sealed record DriftTick(double Day, string Label);

/// <summary>The picture of a method's history: distance from known water over time, each check with its interval, zero, tolerance and usual range, lots as alternating ground, events as upright lines, signalled checks as dome or bowl, and the span in which a change began.</summary>
/// <remarks>Where checks outnumber what can be told apart, ordinary ones thin out, the extremes of each narrow span staying; signalled ones never do. Above sixty checks a band stands for the intervals of ordinary ones.</remarks>
public sealed record DriftFigure : IFigure
{
    private const double Height = 22, NamesY = 1.5, Top = 2.4, Axis = 18.8, Bottom = 17.4, TicksY = 20.3, OnsetY = 21.75, Right = 99.5, Size = 1.35, NarrowestEm = 19;
    private const int MostIntervals = 60, Spans = 150, NarrowTicks = 5, WideTicks = 12, MostRows = 200;
    private const string Wide = " only-wide";
    private static readonly double[] Widths = [NarrowestEm, 21, 24, 27, 31, 36, 44, 56];

    /// <summary>The unit of every number.</summary>
    public required string Unit { get; init; }

    /// <summary>The checks; at least one, kept in order of time.</summary>
    public required IReadOnlyList<DriftPoint> Points
    {
        get;
        init
        {
            if (value is null || value.Count == 0)
                throw new ArgumentException("A picture of a history needs at least one check. Show words where there is none.", nameof(value));
            foreach (var point in value)
            {
                Guard.Finite(point.Day, nameof(point.Day));
                Guard.Finite(point.Off, nameof(point.Off));
                if (point.Low is null != point.High is null)
                    throw new ArgumentException($"The interval of {point.DayLabel} has one end only. Give both, or none.", nameof(value));
                if (point is { Low: { } low, High: { } high })
                    Guard.Ordered(Guard.Finite(low), Guard.Finite(high), nameof(point.Low), nameof(point.High));
            }
            field = [.. value.OrderBy(p => p.Day)];
        }
    }

    /// <summary>Tolerance, zero or more.</summary>
    public required double Tolerance { get; init => field = Guard.Finite(value) >= 0 ? value : throw new ArgumentOutOfRangeException(nameof(value), value, $"The tolerance is {value}; a figure shows zero or more."); }

    /// <summary>It as shown, without sign.</summary>
    public required string ToleranceLabel { get; init; }

    /// <summary>How far ordinary checks lie from <see cref="UsualMiddle"/>; null where it is not known yet.</summary>
    public double? Usual { get; init => field = value is { } v ? Guard.Finite(v) : null; }

    /// <summary>The middle of the usual range.</summary>
    public double UsualMiddle { get; init => field = Guard.Finite(value); }

    /// <summary>Lots in order of time; may be empty.</summary>
    public IReadOnlyList<DriftLot> Lots { get; init; } = [];

    /// <summary>Events; may be empty.</summary>
    public IReadOnlyList<DriftEvent> Events { get; init; } = [];

    /// <summary>When a change began; null where none is seen.</summary>
    public DriftOnset? Onset { get; init; }

    /// <summary>Marks of the time line in order, as many as there are; those without room are left out.</summary>
    public IReadOnlyList<DriftTick> Ticks { get; init; } = [];

    /// <summary>The span of days that is shown; null for that of the checks.</summary>
    public (double From, double To)? Span { get; init; }

    private (double From, double To) Days
    {
        get
        {
            var (from, to) = Span ?? (Points[0].Day, Points[^1].Day);
            var room = Math.Max(0.03 * (to - from), 1);
            return (from - room, to + room);
        }
    }

    /// <inheritdoc/>
    public FigureDrawing Draw()
    {
        var (firstDay, lastDay) = Days;
        var gutter = Math.Clamp((0.4 + Math.Max(1.2, TextWidth.Estimate("+" + ToleranceLabel, strong: false))) / NarrowestEm * 100 + 2, 14, 34);
        bool Seen(double day) => day >= firstDay && day <= lastDay;
        var seen = Points.Where(p => Seen(p.Day)).ToList();
        var signalled = seen.Where(p => p.Signal != FigureTone.Plain).ToList();
        var ordinary = seen.Where(p => p.Signal == FigureTone.Plain).ToList();
        var dense = seen.Count > MostIntervals;

        List<double> all = [0, Tolerance, -Tolerance];
        if (Usual is { } usual)
            all.AddRange([UsualMiddle - usual, UsualMiddle + usual]);
        all.AddRange(seen.Select(p => p.Off));
        all.AddRange(seen.SelectMany(p => new[] { p.Low ?? p.Off, p.High ?? p.Off }));
        double low = all.Min(), high = all.Max(), span = high > low ? high - low : 1;
        (low, high) = (low - 0.08 * span, high + 0.08 * span);
        double X(double day) => gutter + (Math.Clamp(day, firstDay, lastDay) - firstDay) / (lastDay - firstDay) * (Right - gutter);
        double Y(double off) => Bottom - (off - low) / (high - low) * (Bottom - Top);

        List<FigureElement> drawn = [];
        var lots = Lots.Where(l => l.To >= firstDay && l.From <= lastDay).ToList();
        for (var i = 0; i < lots.Count; i++)
        {
            // the newest lot stands on shaded ground
            if ((lots.Count - i) % 2 == 1)
                drawn.Add(new FigureBand("lot", X(lots[i].From), 0, X(lots[i].To) - X(lots[i].From), Axis));
        }
        drawn.Add(new FigureBand("band-tol", gutter, Y(Tolerance), Right - gutter, Y(-Tolerance) - Y(Tolerance)));
        drawn.Add(new FigureLine("line-tol", gutter, Y(Tolerance), Right, Y(Tolerance)));
        drawn.Add(new FigureLine("line-tol", gutter, Y(-Tolerance), Right, Y(-Tolerance)));
        if (Usual is { } half)
        {
            drawn.Add(new FigureLine("line-limit", gutter, Y(UsualMiddle + half), Right, Y(UsualMiddle + half)));
            drawn.Add(new FigureLine("line-limit", gutter, Y(UsualMiddle - half), Right, Y(UsualMiddle - half)));
        }
        if (dense && Envelope(ordinary) is { Count: > 1 } band)
            drawn.Add(new FigureShape("zone", [.. band.Select(b => (X(b.Day), Y(b.High))), .. band.AsEnumerable().Reverse().Select(b => (X(b.Day), Y(b.Low)))], IsClosed: true));
        drawn.Add(new FigureLine("line-known", gutter, Y(0), Right, Y(0)));
        foreach (var lot in lots.Skip(1))
            drawn.Add(new FigureLine("line-event", X(lot.From), 0, X(lot.From), Axis));
        var events = Events.Where(e => Seen(e.Day)).ToList();
        foreach (var happened in events)
            drawn.Add(new FigureLine("line-event marked", X(happened.Day), Top, X(happened.Day), Axis - 1.3));

        List<FigureText> texts = [new("strong", gutter - 2, 0, Y(0) + 0.3, TextAnchor.End, "0")];
        Place(new("", gutter - 2, 0, Y(Tolerance) + 0.3, TextAnchor.End, "+" + ToleranceLabel));
        Place(new("", gutter - 2, 0, Y(-Tolerance) + 0.3, TextAnchor.End, "\u2212" + ToleranceLabel));
        for (var i = lots.Count - 1; i >= 0; i--)
            Place(new(i == lots.Count - 1 ? "strong" : "", (X(lots[i].From) + X(lots[i].To)) / 2, 0, NamesY, TextAnchor.Middle, lots[i].Name), room: (X(lots[i].To) - X(lots[i].From)) / 100);
        foreach (var happened in events)
            Place(new("strong sans-halo", X(happened.Day), 0, Axis - 0.5, TextAnchor.Middle, happened.Letter));

        foreach (var point in Thinned(ordinary))
            drawn.Add(Point(point, withInterval: !dense));
        foreach (var point in signalled)
            drawn.Add(Point(point, withInterval: true));

        drawn.Add(new FigureLine("axis", gutter, Axis, Right, Axis));
        var ticks = Ticks.Where(t => Seen(t.Day)).ToList();
        var wide = Math.Max(1, (ticks.Count + WideTicks - 1) / WideTicks);
        var narrow = wide * Math.Max(1, (ticks.Count / wide + NarrowTicks - 1) / NarrowTicks);
        for (var i = 0; i < ticks.Count; i += wide)
        {
            var x = X(ticks[i].Day);
            var style = i % narrow == 0 ? "" : Wide;
            drawn.Add(new FigureLine("axis" + style, x, Axis, x, Axis + 0.4));
            Place(new(style.Trim(), x, 0, TicksY, x > 94 ? TextAnchor.End : TextAnchor.Middle, ticks[i].Label));
        }
        if (Onset is { } onset && onset.To >= firstDay)
        {
            var (from, to) = (X(onset.From), X(onset.To));
            drawn.Add(new FigureLine($"mean-err {onset.Tone.ClassName()}", Math.Min(from, Right - 0.6), Axis, Math.Max(to, from + 0.6), Axis));
            var middle = (from + to) / 2;
            Place(new("strong", middle, 0, OnsetY, middle > 66 ? TextAnchor.End : middle < gutter + 20 ? TextAnchor.Start : TextAnchor.Middle, onset.Words));
        }
        return new FigureDrawing { HeightEm = Height, Description = Describe(), TimeLine = new FigureTimeLine(gutter, Right, firstDay, lastDay), Elements = [.. drawn, .. texts] };

        FigureElement Point(DriftPoint point, bool withInterval)
        {
            var (x, y) = (X(point.Day), Y(point.Off));
            var isSignalled = point.Signal != FigureTone.Plain;
            List<FigureElement> parts = [];
            var (top, bottom) = point is { Low: { } from, High: { } to } && withInterval ? (Y(to), Y(from)) : (y, y);
            if (point.Address.Length > 0)
                parts.Add(new FigureLine("hit", x, Math.Max(0, Math.Min(top, y - 0.75)), x, Math.Min(Axis, Math.Max(bottom, y + 0.75))));
            if (bottom > top)
                parts.Add(new FigureLine(isSignalled ? "sig-err" : "err", x, top, x, bottom));
            parts.Add(isSignalled ? new FigureMark("sig", point.Signal.MeanSymbol(), x, y, Size) : new FigurePoint("pt", x, y, dense ? 0.26 : 0.34));
            return new FigureLink(point.Signal.ClassName(), point.Address, string.Join(", ", Words(point)), parts) { Day = point.Day, Card = Card(point) };
        }

        void Place(FigureText text, double? room = null)
        {
            if (Array.TrueForAll(Widths, width => text.ClassName.Contains(Wide.Trim(), StringComparison.Ordinal) && width < 36 || Fits(text, width, room)))
                texts.Add(text);
        }

        bool Fits(FigureText text, double width, double? room)
        {
            var (left, right) = Sides(text, width);
            return left >= 0 && right <= width + 0.3 && (room is not { } share || text.WidthEm <= share * width)
                && !texts.Exists(t => Sides(t, width) is var (l, r) && left < r + 0.2 && l < right + 0.2 && Math.Abs(t.YEm - text.YEm) < 1.05 && (width >= 36 || !t.ClassName.Contains(Wide.Trim(), StringComparison.Ordinal)));
        }

        static (double Left, double Right) Sides(FigureText text, double width)
        {
            var anchor = text.XPercent / 100 * width + text.ShiftEm;
            var left = text.Anchor switch { TextAnchor.End => anchor - text.WidthEm, TextAnchor.Middle => anchor - text.WidthEm / 2, _ => anchor };
            return (left, left + text.WidthEm);
        }

        // of each narrow span the highest and the lowest stay
        IEnumerable<DriftPoint> Thinned(List<DriftPoint> points)
        {
            if (points.Count <= 2 * Spans)
                return points;
            return points.GroupBy(p => (int)((p.Day - firstDay) / (lastDay - firstDay) * Spans))
                .SelectMany(g => g.MinBy(p => p.Off) is var least && g.MaxBy(p => p.Off) is var most && ReferenceEquals(least, most) ? [least!] : new[] { least!, most! })
                .OrderBy(p => p.Day);
        }

        List<(double Day, double Low, double High)> Envelope(List<DriftPoint> points) =>
            [.. points.Where(p => p.Low is not null).GroupBy(p => (int)((p.Day - firstDay) / (lastDay - firstDay) * MostIntervals))
                .Select(g => (g.Average(p => p.Day), g.Average(p => p.Low!.Value), g.Average(p => p.High!.Value)))];
    }

    /// <inheritdoc/>
    public IReadOnlyList<FigureKeyEntry> Key()
    {
        List<FigureKeyEntry> key = [new(KeySwatch.Check, FigureTone.Plain, "a check, 95\u202F% interval")];
        foreach (var tone in Points.Select(p => p.Signal).Where(t => t != FigureTone.Plain).Distinct())
            key.Add(new(KeySwatch.MeanWithInterval, tone, tone == FigureTone.High ? "signalled high" : "signalled low"));
        key.Add(new(KeySwatch.Zero, FigureTone.Plain, "known water (0)"));
        key.Add(new(KeySwatch.Tolerance, FigureTone.Plain, "tolerance"));
        if (Usual is not null)
            key.Add(new(KeySwatch.UsualRange, FigureTone.Plain, "usual range"));
        if (Lots.Count > 1)
            key.Add(new(KeySwatch.Event, FigureTone.Plain, "new lot"));
        key.AddRange(Events.Select(e => new FigureKeyEntry(KeySwatch.Letter, FigureTone.Plain, e.Words) { Letter = e.Letter }));
        return key;
    }

    /// <inheritdoc/>
    public FigureTable Table()
    {
        var rows = Points.Reverse().Take(MostRows).Select(p => new FigureTableRow(p.DayLabel, [p.OffLabel, p.Lot, Signalled(p)])).ToList();
        var part = Points.Count > MostRows ? string.Create(CultureInfo.InvariantCulture, $", the newest {MostRows} of {Points.Count}") : "";
        return new FigureTable($"Distance from known water in {Unit}{part}", ["Day", "Off by", "Lot", "Signal"], rows);
    }

    /// <summary>The text alternative: what the picture shows, in words.</summary>
    public string Describe()
    {
        var c = CultureInfo.InvariantCulture;
        var inside = Points.Count(p => Math.Abs(p.Off) <= Tolerance);
        var checks = Points.Count == 1 ? "One check" : string.Create(c, $"{Points.Count} checks");
        var when = Points.Count == 1 ? $", {Points[0].DayLabel}" : $" from {Points[0].DayLabel} to {Points[^1].DayLabel}";
        var within = inside == Points.Count ? Points.Count == 1 ? "within tolerance" : "all within tolerance" : inside == 0 ? Points.Count == 1 ? "beyond tolerance" : "all beyond tolerance" : string.Create(c, $"{inside} within tolerance");
        string Signalled(FigureTone tone, string word) => Points.Count(p => p.Signal == tone) is > 0 and var n ? string.Create(c, $"; {n} signalled {word}") : "";
        return $"{checks}{when}: {within}{Signalled(FigureTone.High, "high")}{Signalled(FigureTone.Low, "low")}{(Onset is { } onset ? $", {onset.Words}" : "")}.";
    }

    private string Off(DriftPoint point) => point.OffLabel + (Unit.Length > 0 ? "\u00A0" + Unit : "");

    private IEnumerable<string> Words(DriftPoint point) => [$"{point.DayLabel}: {Off(point)}", .. Rest(point)];

    private List<string> Card(DriftPoint point) => [point.DayLabel, $"Off by {Off(point)}", .. Rest(point).Select(line => char.ToUpperInvariant(line[0]) + line[1..])];

    private static IEnumerable<string> Rest(DriftPoint point) => new[] { point.Lot.Length > 0 ? $"lot {point.Lot}" : "", Signalled(point) }.Where(words => words.Length > 0);

    private static string Signalled(DriftPoint point) => point.Signal switch { FigureTone.High => "signalled high", FigureTone.Low => "signalled low", _ => "" };
}
