using System.Xml.Linq;

namespace Knownwater.Figures.Tests;

public class VerdictFigureTests
{
    [Fact]
    public void The_picture_of_five_readings_has_the_places_of_the_design()
    {
        var svg = XElement.Parse(InlineSvg.Render(VerdictFigures.Alkalinity().Draw()));
        Assert.Equal("svg", svg.Name.LocalName);
        Assert.Equal("20em", svg.Attribute("height")!.Value);
        Assert.Equal("img", svg.Attribute("role")!.Value);
        Assert.Equal("is-high", svg.Attribute("class")!.Value);
        Assert.Single(svg.Elements("rect"), e => (string?)e.Attribute("class") == "band-tol");
        Assert.Single(svg.Elements("rect"), e => (string?)e.Attribute("class") == "band-known");
        Assert.Equal(2, svg.Elements("line").Count(e => (string?)e.Attribute("class") == "line-tol"));
        Assert.Equal(5, svg.Elements("circle").Count());
        Assert.Equal(4, svg.Elements("line").Count(e => (string?)e.Attribute("class") == "pt-join"));
        Assert.Equal("#m-dome", svg.Descendants("use").Single().Attribute("href")!.Value);
        Assert.Equal(
            ["8.36", "upper", "7.90", "known", "7.44", "lower", "+0.84", "8.74", "no.", "1", "2", "3", "4", "5", "mean"],
            svg.Elements("text").Select(t => t.Value));
    }

    [Fact]
    public void Up_is_high_and_the_scale_is_linear()
    {
        var drawing = VerdictFigures.Alkalinity().Draw();
        var points = drawing.Elements.OfType<FigurePoint>().ToList();
        Assert.True(points[3].YEm < points[0].YEm, "8.9 stands above 8.6");
        // 8.6, 8.8 and 8.9: two steps and one step of 0.1
        Assert.Equal(2, (points[0].YEm - points[1].YEm) / (points[1].YEm - points[3].YEm), 1e-9);
        Assert.True(points.Zip(points.Skip(1)).All(p => p.First.XPercent < p.Second.XPercent), "readings keep their order");
    }

    [Fact]
    public void The_text_alternative_says_what_the_picture_shows() =>
        Assert.Equal(
            "Five readings of known water of 7.90\u00A0dKH, in order: 8.6, 8.8, 8.7, 8.9, 8.7. Their mean, 8.74, lies 0.84 above the known value; its 95\u202F% interval, 8.57 to 8.91, lies wholly above the upper tolerance line at 8.36.",
            VerdictFigures.Alkalinity().Describe());

    [Theory]
    [InlineData(7.7, 8.1, "lies wholly within the tolerance from 7.44 to 8.36")]
    [InlineData(7.0, 7.3, "lies wholly below the lower tolerance line at 7.44")]
    [InlineData(7.2, 7.9, "reaches from inside the tolerance to beyond its lower line at 7.44")]
    [InlineData(7.9, 8.5, "reaches from inside the tolerance to beyond its upper line at 8.36")]
    [InlineData(7.0, 9.0, "reaches beyond both tolerance lines, 7.44 and 8.36")]
    public void The_text_alternative_says_where_the_interval_lies(double low, double high, string place) =>
        Assert.EndsWith(place + ".", (VerdictFigures.Alkalinity() with { Low = low, High = high }).Describe(), StringComparison.Ordinal);

    [Fact]
    public void One_reading_has_no_interval_and_says_so()
    {
        var figure = VerdictFigures.Make(1, tolerance: 2, bias: 1, doubt: 0.5, interval: false);
        Assert.EndsWith("one reading alone has no interval.", figure.Describe(), StringComparison.Ordinal);
        Assert.DoesNotContain(figure.Draw().Elements, e => e.ClassName is "mean-err" or "stem");
        Assert.Contains(figure.Key(), k => k.Words.Contains("without an interval", StringComparison.Ordinal));
    }

    [Fact]
    public void No_text_touches_another_and_nothing_stands_outside()
    {
        foreach (var (name, figure) in VerdictFigures.Family())
            foreach (var width in (double[])[19, 27, 44])
                DrawingCheck.IsClean(name, figure.Draw(), width);
    }

    [Fact]
    public void Known_value_and_both_tolerance_numbers_always_stay()
    {
        foreach (var (name, figure) in VerdictFigures.Family())
        {
            var texts = figure.Draw().Elements.OfType<FigureText>().Where(t => t.Anchor == TextAnchor.End).Select(t => t.Content).ToList();
            Assert.True(texts.Contains(figure.KnownLabel) && texts.Contains(figure.ToleranceHighLabel) && texts.Contains(figure.ToleranceLowLabel), name);
        }
    }

    [Fact]
    public void Every_reading_stays_however_many_there_are()
    {
        foreach (var (name, figure) in VerdictFigures.Family())
        {
            var drawn = figure.Draw().Elements.Count(e => e is FigurePoint { ClassName: "pt" } or FigureMark { ClassName: "out" });
            Assert.True(drawn == figure.Readings.Count, $"{name}: {drawn} of {figure.Readings.Count} readings are drawn");
        }
    }

    [Fact]
    public void A_tolerance_much_narrower_than_the_readings_keeps_three_pixels()
    {
        var band = VerdictFigures.Make(5, tolerance: 0.02, bias: 8, doubt: 0).Draw().Elements.OfType<FigureBand>().Single(b => b.ClassName == "band-tol");
        Assert.Equal(0.2, band.HeightEm, 1e-9);
    }

    [Fact]
    public void Words_upper_and_lower_go_when_the_lines_are_close_and_the_known_word_stays()
    {
        var texts = VerdictFigures.Make(5, tolerance: 0.5, bias: 8, doubt: 0).Draw().Elements.OfType<FigureText>().Select(t => t.Content).ToList();
        Assert.DoesNotContain("upper", texts);
        Assert.DoesNotContain("lower", texts);
        Assert.Contains("known", texts);
    }

    [Fact]
    public void A_band_without_width_is_a_line_alone()
    {
        var figure = VerdictFigures.Make(3, tolerance: 2, bias: 0, doubt: 0);
        Assert.DoesNotContain(figure.Draw().Elements, e => e.ClassName == "band-known");
        Assert.Contains(figure.Key(), k => k.Words == "known water");
    }

    [Fact]
    public void A_reading_left_out_is_hollow_unjoined_and_has_its_reason_in_the_table()
    {
        var figure = VerdictFigures.Make(5, tolerance: 2, bias: 0, doubt: 0.5, excluded: true);
        var drawing = figure.Draw();
        var mark = Assert.Single(drawing.Elements.OfType<FigureMark>(), m => m.ClassName == "out");
        Assert.Equal(FigureSymbols.LeftOutUp, mark.Symbol);                      // 87 lies far above: an arrow at the edge, not outside
        Assert.Equal(4, drawing.Elements.Count(e => e is FigureLine { ClassName: "pt-join", X1Percent: > 20 }));
        var table = figure.Table();
        Assert.Equal("Left out because", table.Columns[^1]);
        Assert.Contains(table.Rows, r => r.Cells[^1] == "a slip of the comma");
        Assert.Contains("87 (left out)", figure.Describe(), StringComparison.Ordinal);
    }

    [Fact]
    public void Readings_below_and_above_a_limit_are_open_arrow_heads()
    {
        var figure = VerdictFigures.Alkalinity() with
        {
            Readings = [new(7.5, "<7.5") { Mark = ReadingMark.Below }, new(8.0, "8.0", "+0.1"), new(9.0, ">9.0") { Mark = ReadingMark.Above }],
        };
        Assert.Equal([FigureSymbols.Down, FigureSymbols.Up], figure.Draw().Elements.OfType<FigureMark>().Where(m => m.ClassName == "out").Select(m => m.Symbol));
        Assert.Contains(figure.Key(), k => k.Swatch == KeySwatch.Limit);
        Assert.Contains("&lt;7.5", InlineSvg.Render(figure.Draw()), StringComparison.Ordinal);
    }

    [Fact]
    public void Numbers_below_thin_out_above_ten_readings()
    {
        var numbers = VerdictFigures.Make(20, tolerance: 2, bias: 0, doubt: 0.5).Draw().Elements.OfType<FigureText>()
            .Where(t => t.Anchor == TextAnchor.Middle && t.Content != "mean").Select(t => t.Content).ToList();
        Assert.Equal("1", numbers[0]);
        Assert.InRange(numbers.Count, 3, 10);
    }

    [Theory]
    [InlineData(0.1, 1.1)]
    [InlineData(40, 2)]
    public void The_mark_of_the_mean_is_never_larger_than_three_quarters_of_its_interval_nor_too_small_to_see(double half, double expected)
    {
        var figure = VerdictFigures.Alkalinity() with { Low = 8.74 - half, High = 8.74 + half, Tone = FigureTone.Cannot };
        var mark = figure.Draw().Elements.OfType<FigureMark>().Single(m => m.ClassName == "sig");
        Assert.Equal(expected, mark.SizeEm, 0.6);
        Assert.InRange(mark.SizeEm, 1.1, 2);
    }

    [Fact]
    public void Identical_numbers_everywhere_still_make_a_picture()
    {
        var figure = VerdictFigures.Make(1, tolerance: 0, bias: 0, doubt: 0, interval: false) with { Known = 0, KnownLow = 0, KnownHigh = 0, ToleranceLow = 0, ToleranceHigh = 0, Mean = 0, Readings = [new(0, "0.00")] };
        DrawingCheck.IsClean("all zero", figure.Draw(), 19);
    }

    [Fact]
    public void A_number_that_is_not_finite_is_refused_by_name()
    {
        var fault = Assert.Throws<ArgumentOutOfRangeException>(() => VerdictFigures.Alkalinity() with { Mean = double.NaN });
        Assert.Contains("NaN", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Ends_the_wrong_way_round_are_refused()
    {
        var fault = Assert.Throws<ArgumentOutOfRangeException>(() => (VerdictFigures.Alkalinity() with { Low = 9, High = 8 }).Draw());
        Assert.Contains("Swap", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_table_holds_every_number_of_the_picture()
    {
        var table = VerdictFigures.Alkalinity().Table();
        Assert.Equal(["1", "2", "3", "4", "5", "Mean", "95\u202F% interval", "Known water", "Tolerance"], table.Rows.Select(r => r.Head));
        Assert.All(table.Rows, r => Assert.Equal(table.Columns.Count - 1, r.Cells.Count));
        Assert.Equal("+0.84 ± 0.17", table.Rows[5].Cells[1]);
    }
}
