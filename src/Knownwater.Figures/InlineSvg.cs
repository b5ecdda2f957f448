using System.Globalization;
using System.Net;
using System.Text;

namespace Knownwater.Figures;

/// <summary>Renders a drawing to SVG text that stands in a page: classes for colours, percent across, em down.</summary>
/// <remarks>The text has no style attribute and no script, so a strict content security policy lets it through. The page holds <see cref="FigureSymbols.PageDefinitions"/> once.</remarks>
public static class InlineSvg
{
    /// <summary>The drawing as one <c>svg</c> element with its text alternative: <c>role="img"</c>, or <c>group</c> where its points open something.</summary>
    /// <param name="drawing">The drawing.</param>
    public static string Render(FigureDrawing drawing)
    {
        ArgumentNullException.ThrowIfNull(drawing);
        var svg = new StringBuilder(2048);
        svg.Append(CultureInfo.InvariantCulture, $"<svg height=\"{N(drawing.HeightEm)}em\" role=\"{(drawing.Elements.Any(e => e is FigureLink { Address.Length: > 0 }) ? "group" : "img")}\" aria-label=\"{Escape(drawing.Description)}\"");
        if (drawing.Tone != FigureTone.Plain)
            svg.Append(CultureInfo.InvariantCulture, $" class=\"{drawing.Tone.ClassName()}\"");
        if (drawing.TimeLine is { } time)
            svg.Append(CultureInfo.InvariantCulture, $" data-time=\"{N(time.FromPercent)} {N(time.ToPercent)} {N(time.FirstDay)} {N(time.LastDay)}\"");
        svg.Append(">\n");
        foreach (var element in drawing.Elements)
            Append(svg, element, drawing.HeightEm);
        return svg.Append("</svg>").ToString();
    }

    /// <summary>A swatch of a key as a small SVG element, hidden from assistive technology because its words stand beside it.</summary>
    /// <param name="entry">The key's line.</param>
    public static string RenderSwatch(FigureKeyEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return $"<svg aria-hidden=\"true\" viewBox=\"0 0 30 20\" class=\"{entry.Tone.ClassName()}\">{SwatchBody(entry)}</svg>";
    }

    internal static string SwatchBody(FigureKeyEntry entry) => entry.Swatch switch
    {
        KeySwatch.KnownWater => "<rect class=\"band-known\" width=\"30\" height=\"16\" y=\"2\"/><line class=\"line-known\" x1=\"0\" x2=\"30\" y1=\"10\" y2=\"10\"/>",
        KeySwatch.Tolerance => "<rect class=\"band-tol\" width=\"30\" height=\"16\" y=\"2\"/><line class=\"line-tol\" x1=\"0\" x2=\"30\" y1=\"2\" y2=\"2\"/><line class=\"line-tol\" x1=\"0\" x2=\"30\" y1=\"18\" y2=\"18\"/>",
        KeySwatch.Readings => "<line class=\"pt-join\" x1=\"5\" x2=\"25\" y1=\"13\" y2=\"7\"/><circle class=\"pt\" cx=\"5\" cy=\"13\" r=\"5\"/><circle class=\"pt\" cx=\"25\" cy=\"7\" r=\"5\"/>",
        KeySwatch.MeanWithInterval => "<line class=\"mean-err\" x1=\"15\" x2=\"15\" y1=\"0\" y2=\"20\"/><line class=\"mean-err\" x1=\"12\" x2=\"18\" y1=\"0\" y2=\"0\"/><line class=\"mean-err\" x1=\"12\" x2=\"18\" y1=\"20\" y2=\"20\"/>" + SwatchMark("sig", entry.Tone.MeanSymbol()),
        KeySwatch.Mean => SwatchMark("sig", entry.Tone.MeanSymbol()),
        KeySwatch.Line => "<rect class=\"zone\" width=\"30\" height=\"12\" y=\"4\"/><line class=\"path\" x1=\"0\" x2=\"30\" y1=\"10\" y2=\"10\"/>",
        KeySwatch.Zero => "<line class=\"line-known\" x1=\"0\" x2=\"30\" y1=\"10\" y2=\"10\"/>",
        KeySwatch.Check => "<line class=\"err\" x1=\"15\" x2=\"15\" y1=\"0\" y2=\"20\"/><circle class=\"pt\" cx=\"15\" cy=\"10\" r=\"5.5\"/>",
        KeySwatch.ChartLimits => "<line class=\"line-tol\" x1=\"0\" x2=\"30\" y1=\"4\" y2=\"4\"/><line class=\"line-tol\" x1=\"0\" x2=\"30\" y1=\"16\" y2=\"16\"/>",
        KeySwatch.UsualRange => "<line class=\"line-limit\" x1=\"0\" x2=\"30\" y1=\"10\" y2=\"10\"/>",
        KeySwatch.Event => "<line class=\"line-event\" x1=\"15\" x2=\"15\" y1=\"0\" y2=\"20\"/>",
        KeySwatch.Letter => $"<text class=\"strong\" x=\"15\" y=\"16\" text-anchor=\"middle\">{Escape(entry.Letter)}</text>",
        KeySwatch.LeftOut => SwatchMark("out", FigureSymbols.LeftOut),
        KeySwatch.Limit => SwatchMark("out", FigureSymbols.Down),
        _ => throw new ArgumentOutOfRangeException(nameof(entry), entry.Swatch, $"The swatch {entry.Swatch} has no drawing."),
    };

    private static string SwatchMark(string className, string symbol) =>
        $"<g class=\"{className}\"><use href=\"#{symbol}\" x=\"15\" y=\"10\" width=\"15\" height=\"15\"/></g>";

    private static void Append(StringBuilder svg, FigureElement element, double heightEm)
    {
        var c = CultureInfo.InvariantCulture;
        switch (element)
        {
            case FigureBand b:
                svg.Append(c, $"<rect class=\"{b.ClassName}\" x=\"{N(b.XPercent)}%\" width=\"{N(b.WidthPercent)}%\" y=\"{N(b.YEm)}em\" height=\"{N(b.HeightEm)}em\"/>\n");
                break;
            case FigureLine l:
                svg.Append(c, $"<line class=\"{l.ClassName}\" x1=\"{N(l.X1Percent)}%\" x2=\"{N(l.X2Percent)}%\" y1=\"{N(l.Y1Em)}em\" y2=\"{N(l.Y2Em)}em\"/>\n");
                break;
            case FigureShape s:
                var points = string.Join(' ', s.Points.Select(p => $"{N(p.XPercent)},{N(p.YEm)}"));
                svg.Append(c, $"<svg x=\"0\" y=\"0\" width=\"100%\" height=\"100%\" viewBox=\"0 0 100 {N(heightEm)}\" preserveAspectRatio=\"none\" aria-hidden=\"true\"><{(s.IsClosed ? "polygon" : "polyline")} class=\"{s.ClassName}\" points=\"{points}\"/></svg>\n");
                break;
            case FigurePoint p:
                svg.Append(c, $"<circle class=\"{p.ClassName}\" cx=\"{N(p.XPercent)}%\" cy=\"{N(p.YEm)}em\" r=\"{N(p.RadiusEm)}em\"/>\n");
                break;
            case FigureMark m:
                svg.Append(c, $"<g class=\"{m.ClassName}\"><use href=\"#{m.Symbol}\" x=\"{N(m.XPercent)}%\" y=\"{N(m.YEm)}em\" width=\"{N(m.SizeEm)}em\" height=\"{N(m.SizeEm)}em\"/></g>\n");
                break;
            case FigureText t:
                svg.Append("<text");
                if (t.ClassName.Length > 0)
                    svg.Append(c, $" class=\"{t.ClassName}\"");
                svg.Append(c, $" x=\"{N(t.XPercent)}%\"");
                if (t.ShiftEm != 0)
                    svg.Append(c, $" dx=\"{N(t.ShiftEm)}em\"");
                svg.Append(c, $" y=\"{N(t.YEm)}em\"");
                if (t.Anchor != TextAnchor.Start)
                    svg.Append(c, $" text-anchor=\"{AnchorName(t.Anchor)}\"");
                svg.Append(c, $">{Escape(t.Content)}</text>\n");
                break;
            case FigureLink a:
                var isLink = a.Address.Length > 0;
                svg.Append(isLink ? "<a" : "<g");
                if (isLink)
                    svg.Append(c, $" href=\"{Escape(a.Address)}\" aria-label=\"{Escape(a.Label)}\"");
                if (a.ClassName.Length > 0)
                    svg.Append(c, $" class=\"{a.ClassName}\"");
                if (isLink && a.Day is { } day)
                    svg.Append(c, $" data-day=\"{N(day)}\"");
                if (isLink && a.Card.Count > 0)
                    svg.Append(c, $" data-card=\"{string.Join("&#10;", a.Card.Select(Escape))}\"");
                svg.Append(c, $"><title>{Escape(a.Label)}</title>");
                foreach (var part in a.Elements)
                    Append(svg, part, heightEm);
                svg.Append(isLink ? "</a>\n" : "</g>\n");
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(element), element, $"{element.GetType().Name} has no drawing in a page.");
        }
    }

    internal static string AnchorName(TextAnchor anchor) => anchor switch { TextAnchor.Middle => "middle", TextAnchor.End => "end", _ => "start" };

    internal static string N(double value)
    {
        var rounded = Math.Round(value, 2);
        return (rounded == 0 ? 0 : rounded).ToString("0.##", CultureInfo.InvariantCulture);
    }

    internal static string Escape(string text) => WebUtility.HtmlEncode(text);
}
