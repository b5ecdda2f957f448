using System.Globalization;

namespace Knownwater.Figures;

/// <summary>Places of a verdict's picture. Widths are checked against the narrowest figure, 19 em wide.</summary>
internal sealed class VerdictFigureLayout
{
    private const double Height = 20, Top = 0.9, Bottom = 17.3, AxisY = 18.1, NumbersY = 19.5;
    private const double NarrowestEm = 19;
    private const double Ascent = 0.82, Descent = 0.24, LineStep = 1.15;
    private readonly VerdictFigure figure;
    private readonly double low, high, gutter, meanX, firstX, lastX;

    public VerdictFigureLayout(VerdictFigure figure)
    {
        this.figure = figure;
        (low, high) = Range(figure);
        gutter = Gutter(figure);
        meanX = MeanX(figure);
        firstX = Math.Min(gutter + 6, meanX - 20);
        lastX = meanX - 14;
    }

    public FigureDrawing Draw()
    {
        List<FigureElement> elements = [.. Ground(), .. LineLabels(), .. Readings(), .. Mean(), .. Foot()];
        return new FigureDrawing { HeightEm = Height, Description = figure.Describe(), Tone = figure.Tone, Elements = elements };
    }

    /// <summary>From the lowest to the highest of tolerance, doubt, readings that count and interval, plus 8 %.</summary>
    private static (double Low, double High) Range(VerdictFigure f)
    {
        List<double> all = [f.Known, f.KnownLow, f.KnownHigh, f.ToleranceLow, f.ToleranceHigh, f.Mean, f.Low ?? f.Mean, f.High ?? f.Mean];
        all.AddRange(f.Readings.Where(r => !r.IsExcluded).Select(r => r.Value));
        double from = all.Min(), to = all.Max();
        var span = to - from;
        if (span <= Math.Abs(from) * 1e-12)
            span = from == 0 ? 1 : Math.Abs(from) * 0.1;
        return (from - 0.04 * span, to + 0.04 * span);
    }

    private static double Gutter(VerdictFigure f)
    {
        var widest = Math.Max(
            TextWidth.Estimate(f.KnownLabel, strong: true),
            Math.Max(TextWidth.Estimate(f.ToleranceLowLabel, false), TextWidth.Estimate(f.ToleranceHighLabel, false)));
        return Math.Clamp((widest + 0.1) / NarrowestEm * 100 + 3, 20, 34);
    }

    private static double MeanX(VerdictFigure f)
    {
        var reserve = Math.Max(1.5 + TextWidth.Estimate(f.MeanLabel, strong: true), 0.5 + TextWidth.Estimate(f.DistanceLabel, false));
        return Math.Clamp(100 - reserve / NarrowestEm * 100, 66, 82);
    }

    private double Y(double value) => Bottom - (value - low) / (high - low) * (Bottom - Top);

    private IEnumerable<FigureElement> Ground()
    {
        double width = 100 - gutter, yHigh = Y(figure.ToleranceHigh), yLow = Y(figure.ToleranceLow);
        var height = Math.Max(yLow - yHigh, 0.2);       // about 3 px, so that a narrow tolerance still shows
        var middle = (yLow + yHigh) / 2;
        yield return new FigureBand("band-tol", gutter, middle - height / 2, width, height);
        double bandTop = Y(figure.KnownHigh), bandBottom = Y(figure.KnownLow);
        if (bandBottom > bandTop)
            yield return new FigureBand("band-known", gutter, bandTop, width, bandBottom - bandTop);
        yield return new FigureLine("line-tol", gutter, middle - height / 2, 100, middle - height / 2);
        yield return new FigureLine("line-tol", gutter, middle + height / 2, 100, middle + height / 2);
        yield return new FigureLine("line-known", gutter, Y(figure.Known), 100, Y(figure.Known));
    }

    /// <summary>The three numbers at the left. Words go first, then labels move apart and a hair line leads to where they belong.</summary>
    private IEnumerable<FigureElement> LineLabels()
    {
        double yKnown = Y(figure.Known), yHigh = Y(figure.ToleranceHigh), yLow = Y(figure.ToleranceLow);
        var roomy = Math.Min(yKnown - yHigh, yLow - yKnown) >= 2.7;
        var upper = new Label(figure.ToleranceHighLabel, roomy ? "upper" : null, false, yHigh);
        var known = new Label(figure.KnownLabel, figure.ReferenceWord, true, yKnown);
        var lower = new Label(figure.ToleranceLowLabel, roomy ? "lower" : null, false, yLow);

        known.Base = Math.Clamp(known.Base, Top + Ascent, Bottom + 0.4 - known.Below);
        upper.Base = Math.Max(upper.Base, Ascent);
        lower.Base = Math.Min(lower.Base, Bottom + 0.4 - lower.Below);
        upper.Base = Math.Min(upper.Base, known.Base - Ascent - 0.1 - upper.Below);
        lower.Base = Math.Max(lower.Base, known.Base + known.Below + 0.1 + Ascent);
        if (upper.Base < Ascent)                                                  // no room above: all three move down
        {
            upper.Base = Ascent;
            known.Base = Math.Max(known.Base, upper.Base + upper.Below + 0.1 + Ascent);
            lower.Base = Math.Max(lower.Base, known.Base + known.Below + 0.1 + Ascent);
        }

        if (lower.Base > Bottom + 0.4 - lower.Below)                              // no room below: all three move up
        {
            lower.Base = Bottom + 0.4 - lower.Below;
            known.Base = Math.Min(known.Base, lower.Base - Ascent - 0.1 - known.Below);
            upper.Base = Math.Min(upper.Base, known.Base - Ascent - 0.1 - upper.Below);
        }

        foreach (var label in (Label[])[upper, known, lower])
        {
            yield return new FigureText(label.Strong ? "strong" : "", gutter - 3, 0, label.Base, TextAnchor.End, label.Number);
            if (label.Word is { } word)
                yield return new FigureText("", gutter - 3, 0, label.Base + LineStep, TextAnchor.End, word);
            if (Math.Abs(label.Base - label.Wanted) > 0.5)
                yield return new FigureLine("pt-join", gutter - 2.4, label.Base - 0.3, gutter, label.LineY);
        }
    }

    private IEnumerable<FigureElement> Readings()
    {
        var readings = figure.Readings;
        var places = readings.Select((r, i) => (X: ReadingX(i), Y: Math.Clamp(Y(r.Value), Top, Bottom))).ToList();
        int? before = null;
        for (var i = 0; i < readings.Count; i++)
        {
            if (readings[i].IsExcluded)
                continue;
            if (before is { } b)
                yield return new FigureLine("pt-join", places[b].X, places[b].Y, places[i].X, places[i].Y);
            before = i;
        }

        var size = readings.Count <= 12 ? 1.0 : 0.8;
        for (var i = 0; i < readings.Count; i++)
        {
            var (x, y) = places[i];
            if (readings[i].IsExcluded)
            {
                var beyond = readings[i].Value > high ? FigureSymbols.LeftOutUp : readings[i].Value < low ? FigureSymbols.LeftOutDown : FigureSymbols.LeftOut;
                yield return new FigureMark("out", beyond, x, y, 1.1 * size);
            }
            else if (readings[i].Mark == ReadingMark.Measured)
            {
                yield return new FigurePoint("pt", x, y, 0.38 * size);
            }
            else
            {
                yield return new FigureMark("out", readings[i].Mark == ReadingMark.Below ? FigureSymbols.Down : FigureSymbols.Up, x, y, 1.1 * size);
            }
        }
    }

    private IEnumerable<FigureElement> Mean()
    {
        double yMean = Y(figure.Mean), yKnown = Y(figure.Known);
        var size = 1.5;
        if (figure is { Low: { } from, High: { } to })
        {
            double yFrom = Y(from), yTo = Y(to);
            size = Math.Clamp(0.75 * (yFrom - yTo), 1.1, 2);
            double? stemEnd = from > figure.Known ? yFrom : to < figure.Known ? yTo : null;
            if (stemEnd is { } end)
            {
                yield return new FigureLine("stem", meanX, yKnown, meanX, end);
                var middle = (yKnown + end) / 2 + 0.3;
                var clear = Math.Abs(middle - MeanLabelY()) >= Ascent + Descent + 0.1;
                if (Math.Abs(end - yKnown) >= 1.8 && clear)
                    yield return new FigureText("sans-halo", meanX, 0.5, middle, TextAnchor.Start, figure.DistanceLabel);
            }

            yield return new FigureLine("mean-err", meanX, yTo, meanX, yFrom);
            yield return new FigureLine("mean-err", meanX - 1.2, yFrom, meanX + 1.2, yFrom);
            yield return new FigureLine("mean-err", meanX - 1.2, yTo, meanX + 1.2, yTo);
        }

        yield return new FigureMark("sig", figure.Tone.MeanSymbol(), meanX, yMean, size);
        yield return new FigureText("strong sans-halo", meanX, 1.25, MeanLabelY(), TextAnchor.Start, figure.MeanLabel);
    }

    private double MeanLabelY() => Math.Clamp(Y(figure.Mean) + 0.35, Ascent, Bottom + 0.3);

    private IEnumerable<FigureElement> Foot()
    {
        var n = figure.Readings.Count;
        yield return new FigureLine("axis", gutter, AxisY, 100, AxisY);
        yield return new FigureText("", gutter - 3, 0, NumbersY, TextAnchor.End, "no.");
        var pitch = n > 1 ? (ReadingX(1) - ReadingX(0)) / 100 * NarrowestEm : double.PositiveInfinity;
        var needed = TextWidth.Estimate(n.ToString(CultureInfo.InvariantCulture), false) + 0.35;
        var step = Math.Max(n > 10 ? 2 : 1, (int)Math.Ceiling(needed / pitch));
        for (var i = 0; i < n; i += step)
            yield return new FigureText("", ReadingX(i), 0, NumbersY, TextAnchor.Middle, (i + 1).ToString(CultureInfo.InvariantCulture));
        yield return new FigureText("strong", meanX, 0, NumbersY, TextAnchor.Middle, "mean");
    }

    private double ReadingX(int index)
    {
        var n = figure.Readings.Count;
        if (n == 1)
            return (firstX + lastX) / 2;
        var pitch = Math.Min((lastX - firstX) / (n - 1), 21);      // two readings need not stand at both ends
        return firstX + ((lastX - firstX) - pitch * (n - 1)) / 2 + index * pitch;
    }

    private sealed class Label(string number, string? word, bool strong, double lineY)
    {
        public string Number { get; } = number;
        public string? Word { get; } = word;
        public bool Strong { get; } = strong;
        public double LineY { get; } = lineY;
        public double Wanted { get; } = lineY - 0.05;
        public double Base { get; set; } = lineY - 0.05;

        /// <summary>How far the label reaches below its base line.</summary>
        public double Below => Word is null ? Descent : LineStep + Descent;
    }
}
