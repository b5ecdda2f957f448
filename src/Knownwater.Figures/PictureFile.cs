using System.Globalization;
using System.Text;

namespace Knownwater.Figures;

/// <summary>Renders a figure as a stand-alone SVG picture: a fixed width, colours resolved, title above and key inside.</summary>
public static class PictureFile
{
    private const double Em = 16, Margin = 24, KeyStep = 26;
    private const string Fonts = "'Segoe UI', Roboto, 'Noto Sans', 'Liberation Sans', Arial, sans-serif";

    /// <summary>The picture as SVG text, complete with name space and ground.</summary>
    /// <param name="drawing">The drawing.</param>
    /// <param name="key">The lines of the key, drawn below; may be empty.</param>
    /// <param name="title">A line above the picture; empty for none.</param>
    /// <param name="widthPixels">The width, at least 320.</param>
    /// <param name="palette">The colours; <see cref="FigurePalette.Day"/> when null.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="widthPixels"/> is below 320.</exception>
    public static string Render(FigureDrawing drawing, IReadOnlyList<FigureKeyEntry> key, string title = "", int widthPixels = 640, FigurePalette? palette = null)
    {
        ArgumentNullException.ThrowIfNull(drawing);
        ArgumentNullException.ThrowIfNull(key);
        if (widthPixels < 320)
            throw new ArgumentOutOfRangeException(nameof(widthPixels), widthPixels, $"The picture is {widthPixels} pixels wide; its labels need at least 320.");
        var colours = palette ?? FigurePalette.Day;
        var c = CultureInfo.InvariantCulture;
        var plotWidth = widthPixels - 2 * Margin;
        var plotTop = string.IsNullOrEmpty(title) ? Margin : Margin + 2.6 * Em;
        var keyTop = plotTop + drawing.HeightEm * Em + Em;
        var columns = plotWidth >= 520 ? 2 : 1;
        var keyRows = (key.Count + columns - 1) / columns;
        var height = keyTop + keyRows * KeyStep + Margin - (keyRows == 0 ? Em : 0);

        var svg = new StringBuilder(4096);
        svg.Append(c, $"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{widthPixels}\" height=\"{N(height)}\" viewBox=\"0 0 {widthPixels} {N(height)}\" role=\"img\" aria-label=\"{InlineSvg.Escape(drawing.Description)}\">\n");
        svg.Append(c, $"<style>{Styles(colours, drawing.Tone)}</style>\n");
        svg.Append(FigureSymbols.MarkDefinitions.Replace("var(--paper)", colours.Paper, StringComparison.Ordinal)).Append('\n');
        svg.Append(c, $"<rect width=\"{widthPixels}\" height=\"{N(height)}\" fill=\"{colours.Paper}\"/>\n");
        if (!string.IsNullOrEmpty(title))
            svg.Append(c, $"<text class=\"title\" x=\"{N(Margin)}\" y=\"{N(Margin + Em * 1.3)}\">{InlineSvg.Escape(title)}</text>\n");
        svg.Append(c, $"<g transform=\"translate({N(Margin)} {N(plotTop)})\">\n");
        foreach (var element in drawing.Elements)
            Append(svg, element, plotWidth);
        svg.Append("</g>\n");
        for (var i = 0; i < key.Count; i++)
        {
            double x = Margin + i % columns * (plotWidth / columns), y = keyTop + i / columns * KeyStep;
            svg.Append(c, $"<g class=\"{key[i].Tone.ClassName()}\" transform=\"translate({N(x)} {N(y)})\">{InlineSvg.SwatchBody(key[i])}<text class=\"second\" x=\"42\" y=\"15\">{InlineSvg.Escape(key[i].Words)}</text></g>\n");
        }

        return svg.Append("</svg>\n").ToString();
    }

    private static void Append(StringBuilder svg, FigureElement element, double width)
    {
        var c = CultureInfo.InvariantCulture;
        string X(double percent) => N(percent / 100 * width);
        static string Y(double em) => N(em * Em);
        switch (element)
        {
            case FigureBand b:
                svg.Append(c, $"<rect class=\"{b.ClassName}\" x=\"{X(b.XPercent)}\" width=\"{X(b.WidthPercent)}\" y=\"{Y(b.YEm)}\" height=\"{Y(b.HeightEm)}\"/>\n");
                break;
            case FigureLine l:
                svg.Append(c, $"<line class=\"{l.ClassName}\" x1=\"{X(l.X1Percent)}\" x2=\"{X(l.X2Percent)}\" y1=\"{Y(l.Y1Em)}\" y2=\"{Y(l.Y2Em)}\"/>\n");
                break;
            case FigureShape s:
                svg.Append(c, $"<{(s.IsClosed ? "polygon" : "polyline")} class=\"{s.ClassName}\" points=\"{string.Join(' ', s.Points.Select(p => $"{X(p.XPercent)},{Y(p.YEm)}"))}\"/>\n");
                break;
            case FigurePoint p:
                svg.Append(c, $"<circle class=\"{p.ClassName}\" cx=\"{X(p.XPercent)}\" cy=\"{Y(p.YEm)}\" r=\"{Y(p.RadiusEm)}\"/>\n");
                break;
            case FigureMark m:
                svg.Append(c, $"<g class=\"{m.ClassName}\"><use href=\"#{m.Symbol}\" x=\"{X(m.XPercent)}\" y=\"{Y(m.YEm)}\" width=\"{Y(m.SizeEm)}\" height=\"{Y(m.SizeEm)}\"/></g>\n");
                break;
            case FigureText t:
                svg.Append(c, $"<text class=\"{t.ClassName}\" x=\"{N(t.XPercent / 100 * width + t.ShiftEm * Em)}\" y=\"{Y(t.YEm)}\" text-anchor=\"{InlineSvg.AnchorName(t.Anchor)}\">{InlineSvg.Escape(t.Content)}</text>\n");
                break;
            case FigureLink a:
                svg.Append(c, $"<g class=\"{a.ClassName}\">");
                foreach (var part in a.Elements.Where(e => e.ClassName != "hit"))
                    Append(svg, part, width);
                svg.Append("</g>\n");
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(element), element, $"{element.GetType().Name} has no drawing in a picture file.");
        }
    }

    private static string Styles(FigurePalette p, FigureTone tone) => string.Create(CultureInfo.InvariantCulture, $$"""
        text{font:400 {{Em}}px {{Fonts}};fill:{{p.SecondInk}}}
        text.strong{fill:{{p.Ink}};font-weight:650}
        text.second{font-size:14px}
        text.title{font:400 21px Charter,'Bitstream Charter','Sitka Text',Cambria,Georgia,serif;fill:{{p.Ink}}}
        .sans-halo{paint-order:stroke;stroke:{{p.Paper}};stroke-width:5px;stroke-linejoin:round}
        .axis{stroke:{{p.Edge}};stroke-width:1px}
        .band-known{fill:{{p.Known}}}
        .line-known{stroke:{{p.KnownLine}};stroke-width:2px}
        .band-tol{fill:{{p.Tolerance}}}
        .line-tol{stroke:{{p.SecondInk}};stroke-width:1.5px;stroke-dasharray:7 4}
        .pt{fill:{{p.Ink}};stroke:{{p.Paper}};stroke-width:1.5px}
        .pt-join{stroke:{{p.Edge}};stroke-width:1px}
        .zone{fill:{{p.Known}};opacity:.75}
        .path{fill:none;stroke:{{p.KnownLine}};stroke-width:2px}
        .out{color:{{p.Ink}}}
        .mean-err{stroke:{{p.Of(tone)}};stroke-width:3px}
        .stem{stroke:{{p.Of(tone)}};stroke-width:2px;stroke-dasharray:2 4;stroke-linecap:round}
        .sig{color:{{p.Of(tone)}}}
        .lot{fill:{{p.Tolerance}};opacity:.6}
        .line-limit{stroke:{{p.SecondInk}};stroke-width:1.5px;stroke-dasharray:2 4;stroke-linecap:round}
        .line-event{stroke:{{p.Ink}};stroke-width:1.5px}
        .line-event.marked{stroke-dasharray:2 3}
        .err{stroke:{{p.Ink}};stroke-width:1.5px}
        .sig-err{stroke:{{p.Of(tone)}};stroke-width:2px}
        """) + string.Concat(((FigureTone[])[FigureTone.Right, FigureTone.High, FigureTone.Low, FigureTone.Cannot]).Select(t =>
            $".{t.ClassName()} .sig{{color:{p.Of(t)}}}.{t.ClassName()} .sig-err,.{t.ClassName()} .mean-err,.mean-err.{t.ClassName()}{{stroke:{p.Of(t)}}}"));

    private static string N(double value) => InlineSvg.N(value);
}
