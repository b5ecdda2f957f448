using System.Xml.Linq;

namespace Knownwater.Figures.Tests;

public class RenderingTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    [Fact]
    public void Every_figure_is_well_formed_and_free_of_style_and_script()
    {
        foreach (var (name, figure) in VerdictFigures.Family())
        {
            var svg = XElement.Parse(InlineSvg.Render(figure.Draw()));
            Assert.True(svg.DescendantsAndSelf().All(e => e.Attribute("style") is null && e.Name.LocalName is not ("style" or "script")), name);
            Assert.True(svg.Attribute("aria-label")!.Value.Length > 40, name);
        }
    }

    [Fact]
    public void Every_symbol_that_a_figure_uses_is_defined()
    {
        var defined = XElement.Parse(FigureSymbols.PageDefinitions).Descendants("symbol").Select(s => s.Attribute("id")!.Value).ToHashSet(StringComparer.Ordinal);
        var used = VerdictFigures.Family().SelectMany(f => f.Figure.Draw().Elements.OfType<FigureMark>()).Select(m => m.Symbol)
            .Concat([FigureSymbols.Up, FigureSymbols.Down, FigureSymbols.LeftOut])
            .Concat(Enum.GetValues<FigureTone>().SelectMany(t => (string[])[t.MeanSymbol(), t.VerdictSymbol()]))
            .Distinct(StringComparer.Ordinal);
        Assert.All(used, symbol => Assert.Contains(symbol, defined));
    }

    [Fact]
    public void Labels_are_escaped()
    {
        var svg = InlineSvg.Render((VerdictFigures.Alkalinity() with { MeanLabel = "<b>&\"" }).Draw());
        Assert.DoesNotContain("<b>", svg, StringComparison.Ordinal);
        Assert.Contains("<b>&\"", XElement.Parse(svg).Elements("text").Select(t => t.Value));
    }

    [Theory]
    [InlineData(320)]
    [InlineData(640)]
    [InlineData(1200)]
    public void A_picture_file_stands_alone_with_colours_resolved_and_its_key_inside(int width)
    {
        var figure = VerdictFigures.Alkalinity();
        var text = PictureFile.Render(figure.Draw(), figure.Key(), "Alkalinity, 3 September 2026", width);
        Assert.DoesNotContain("var(", text, StringComparison.Ordinal);
        Assert.DoesNotContain('%', text.Replace("95\u202F%", "", StringComparison.Ordinal));
        var svg = XElement.Parse(text);
        Assert.Equal(Svg + "svg", svg.Name);
        Assert.Equal(width.ToString(System.Globalization.CultureInfo.InvariantCulture), svg.Attribute("width")!.Value);
        var words = svg.Descendants(Svg + "text").Select(t => t.Value).ToList();
        Assert.Contains("tolerance", words);
        Assert.Contains("known water and its doubt", words);
        Assert.Contains("Alkalinity, 3 September 2026", words);
    }

    [Fact]
    public void A_picture_file_too_narrow_for_its_labels_is_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => PictureFile.Render(VerdictFigures.Alkalinity().Draw(), [], "", 200));

    [Fact]
    public void Every_palette_has_a_colour_for_every_tone()
    {
        foreach (var palette in (FigurePalette[])[FigurePalette.Day, FigurePalette.Night, FigurePalette.Print])
            Assert.All(Enum.GetValues<FigureTone>(), tone => Assert.Matches("^#[0-9A-F]{6}$", palette.Of(tone)));
    }

    [Fact]
    public void A_swatch_is_drawn_for_every_line_of_a_key() =>
        Assert.All(Enum.GetValues<KeySwatch>(), swatch => XElement.Parse(InlineSvg.RenderSwatch(new FigureKeyEntry(swatch, FigureTone.Low, "words"))));
}
