using System.Globalization;
using System.Xml.Linq;

namespace Knownwater.Figures.Tests;

public class DriftFigureTests
{
    private static string Signed(double v) => (v < 0 ? "\u2212" : "+") + Math.Abs(v).ToString("0.0", CultureInfo.InvariantCulture);

    /// <summary>Fortnightly checks; those of the last lot read low.</summary>
    private static DriftFigure Make(int checks, double low = -2.5, double tolerance = 2, double half = 0.7, bool events = true, int lastOfLot = 3)
    {
        var points = Enumerable.Range(0, checks).Select(i =>
        {
            var isLow = i >= checks - lastOfLot;
            var off = (isLow ? low : 0) + 0.3 * Math.Sin(i * 2.3);
            return new DriftPoint(14 * i, $"day {14 * i}", off, $"{Signed(off)} ± {half}", half > 0 ? off - half : null, half > 0 ? off + half : null, $"/checks/{i}")
            {
                Signal = isLow ? low < 0 ? FigureTone.Low : FigureTone.High : FigureTone.Plain,
                Lot = isLow ? "N-13" : "N-12",
            };
        }).ToList();
        var step = 14.0 * (checks - lastOfLot) - 5;
        return new DriftFigure
        {
            Unit = "mg/L", Points = points, Tolerance = tolerance, ToleranceLabel = tolerance.ToString("0.0", CultureInfo.InvariantCulture), Usual = 1,
            Lots = [new("N-11", -5, step / 2), new("N-12", step / 2, step), new("N-13", step, 14.0 * checks)],
            Events = events ? [new(step / 3, "S", "service"), new(step / 3 + 1, "F", "factor changed")] : [],
            Onset = new DriftOnset(step - 9, step + 3, "since 31 July", low < 0 ? FigureTone.Low : FigureTone.High),
            Ticks = [.. Enumerable.Range(0, Math.Max(1, checks * 14 / 30)).Select(m => new DriftTick(30 * m, "Jan"))],
        };
    }

    private static IEnumerable<(string Name, DriftFigure Figure)> Family()
    {
        yield return ("one check", Make(1, lastOfLot: 0));
        foreach (var checks in (int[])[3, 12, 18, 60, 61, 400, 3000])
            foreach (var low in (double[])[-2.5, 0.4, 40])
                foreach (var tolerance in (double[])[0, 0.02, 2, 300])
                    yield return ($"{checks} checks, {low} off, tolerance {tolerance}", Make(checks, low, tolerance, checks % 2 == 0 ? 0.7 : 0));
    }

    [Fact]
    public void No_text_touches_another_and_nothing_stands_outside()
    {
        foreach (var (name, figure) in Family())
            foreach (var width in (double[])[19, 27, 44])
                DrawingCheck.IsClean(name, figure.Draw(), width);
    }

    [Fact]
    public void Up_is_high_and_later_is_to_the_right()
    {
        var marks = Make(18).Draw().Elements.OfType<FigureLink>().SelectMany(l => l.Elements).OfType<FigureMark>().ToList();
        var points = Make(18).Draw().Elements.OfType<FigureLink>().SelectMany(l => l.Elements).OfType<FigurePoint>().ToList();
        Assert.Equal((3, 15), (marks.Count, points.Count));
        Assert.All(marks, m => Assert.True(m.YEm > points.Max(p => p.YEm) && m.XPercent > points.Max(p => p.XPercent)));
        Assert.All(marks, m => Assert.Equal(FigureSymbols.Bowl, m.Symbol));
    }

    [Fact]
    public void Distances_are_to_scale()
    {
        var figure = Make(18);
        var drawing = figure.Draw();
        var tolerance = drawing.Elements.OfType<FigureLine>().Where(l => l.ClassName == "line-tol").Select(l => l.Y1Em).ToList();
        var zero = drawing.Elements.OfType<FigureLine>().Single(l => l.ClassName == "line-known").Y1Em;
        var last = Assert.Single(drawing.Elements.OfType<FigureLink>().Last().Elements.OfType<FigureMark>());
        Assert.Equal(figure.Points[^1].Off / 2, (zero - last.YEm) / (zero - tolerance[0]), 1e-9);
        Assert.Equal(zero - tolerance[0], tolerance[1] - zero, 1e-9);
    }

    [Fact]
    public void Many_checks_thin_out_but_signalled_ones_stay()
    {
        var figure = Make(10_000, lastOfLot: 40);
        var links = figure.Draw().Elements.OfType<FigureLink>().ToList();
        Assert.Equal(40, links.Count(l => l.ClassName == "is-low"));
        Assert.InRange(links.Count, 41, 340);
        // the highest and the lowest of all are among them
        var ordinary = figure.Points.Where(p => p.Signal == FigureTone.Plain).ToList();
        Assert.Contains(links, l => l.Address == ordinary.MaxBy(p => p.Off)!.Address);
        Assert.Contains(links, l => l.Address == ordinary.MinBy(p => p.Off)!.Address);
        Assert.True(InlineSvg.Render(figure.Draw()).Length < 4 * InlineSvg.Render(Make(100).Draw()).Length);
        Assert.StartsWith("Distance from known water in mg/L, the newest 200 of 10000", figure.Table().Caption, StringComparison.Ordinal);
    }

    [Fact]
    public void A_span_shows_only_what_lies_in_it()
    {
        var figure = Make(18) with { Span = (100, 200) };
        Assert.Equal(figure.Points.Count(p => p.Day is >= 97 and <= 203), figure.Draw().Elements.OfType<FigureLink>().Count());
    }

    [Fact]
    public void A_point_opens_its_check_and_says_what_it_is()
    {
        var svg = XElement.Parse(InlineSvg.Render(Make(18).Draw()));
        Assert.Equal("group", svg.Attribute("role")!.Value);
        var link = svg.Descendants().Last(e => e.Name.LocalName == "a");
        Assert.Equal("/checks/17", link.Attribute("href")!.Value);
        Assert.StartsWith("day 238: \u22122.", link.Attribute("aria-label")!.Value, StringComparison.Ordinal);
        Assert.EndsWith("± 0.7\u00A0mg/L, lot N-13, signalled low", link.Attribute("aria-label")!.Value, StringComparison.Ordinal);
        Assert.Equal(link.Attribute("aria-label")!.Value, link.Elements().First().Value);
    }

    [Fact]
    public void A_card_says_how_far_off_which_lot_and_the_signal_and_days_lie_where_their_points_do()
    {
        var svg = XElement.Parse(InlineSvg.Render(Make(18).Draw()));
        var links = svg.Descendants().Where(e => e.Name.LocalName == "a").ToList();
        Assert.Matches("^day 0\nOff by \\+0\\.0 ± 0\\.7\u00A0mg/L\nLot N-12$", links[0].Attribute("data-card")!.Value);
        Assert.Matches("^day 238\nOff by \u2212[0-9.]+ ± 0\\.7\u00A0mg/L\nLot N-13\nSignalled low$", links[^1].Attribute("data-card")!.Value);
        var time = svg.Attribute("data-time")!.Value.Split(' ').Select(part => double.Parse(part, CultureInfo.InvariantCulture)).ToList();
        foreach (var link in links)
        {
            var day = double.Parse(link.Attribute("data-day")!.Value, CultureInfo.InvariantCulture);
            var x = double.Parse(link.Elements().First(e => e.Attribute("x1") is not null).Attribute("x1")!.Value.TrimEnd('%'), CultureInfo.InvariantCulture);
            Assert.Equal(time[0] + (day - time[2]) / (time[3] - time[2]) * (time[1] - time[0]), x, 0.02);
        }
    }

    [Fact]
    public void A_name_that_is_markup_stays_text_on_its_card()
    {
        var figure = Make(1, lastOfLot: 0);
        figure = figure with { Points = [figure.Points[0] with { Lot = "\"><b>&" }] };
        Assert.EndsWith("\nLot \"><b>&", XElement.Parse(InlineSvg.Render(figure.Draw())).Descendants().Single(e => e.Name.LocalName == "a").Attribute("data-card")!.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void The_text_alternative_says_what_the_picture_shows() =>
        Assert.Equal("18 checks from day 0 to day 238: 15 within tolerance; 3 signalled low, since 31 July.", Make(18).Describe());

    [Fact]
    public void It_is_well_formed_in_a_page_and_as_a_picture_file()
    {
        foreach (var (name, figure) in Family())
        {
            var svg = XElement.Parse(InlineSvg.Render(figure.Draw()));
            Assert.True(svg.DescendantsAndSelf().All(e => e.Attribute("style") is null && e.Name.LocalName is not ("style" or "script")), name);
            Assert.DoesNotContain("NaN", svg.ToString(), StringComparison.Ordinal);
            var file = XElement.Parse(PictureFile.Render(figure.Draw(), figure.Key(), "A history"));
            Assert.DoesNotContain(file.DescendantsAndSelf(), e => e.Name.LocalName == "a");
            Assert.All(figure.Table().Rows, r => Assert.Equal(figure.Table().Columns.Count - 1, r.Cells.Count));
            Assert.All(figure.Key(), k => Assert.NotEmpty(InlineSvg.RenderSwatch(k)));
        }
    }

    [Fact]
    public void Half_an_interval_and_an_empty_history_are_refused_with_a_sentence()
    {
        Assert.Contains("at least one check", Assert.Throws<ArgumentException>(() => Make(3) with { Points = [] }).Message, StringComparison.Ordinal);
        Assert.Contains("one end only", Assert.Throws<ArgumentException>(() => Make(3) with { Points = [new(0, "1 May", 0, "0", 1, null, "")] }).Message, StringComparison.Ordinal);
    }
}
