using System.Globalization;
using System.Xml.Linq;

namespace Knownwater.Figures.Tests;

public class ChartFigureTests
{
    private static ChartFigure Make(int points, double limit = 3, double reach = 1.5, bool own = false, bool second = false)
    {
        List<ChartPoint> Points(int sign) => [.. Enumerable.Range(0, points).Select(i =>
        {
            var value = sign * reach * Math.Sin(i * 2.3);
            return new ChartPoint(14 * i, $"day {14 * i}", value, value.ToString("0.00", CultureInfo.InvariantCulture), $"/checks/{i}")
            {
                Signal = value > limit ? FigureTone.High : value < -limit ? FigureTone.Low : FigureTone.Plain,
                Note = Math.Abs(value) > limit ? "beyond" : "",
                Low = own ? -limit - 1.0 / (i + 1) : null,
                High = own ? limit + 1.0 / (i + 1) : null,
            };
        })];
        return new ChartFigure
        {
            What = "Score of each check", Points = Points(1), SecondPoints = second ? Points(-1) : [], Centre = new ChartLine(0, "0", false),
            Lines = own ? [] : [new(limit, "+3", true), new(-limit, "\u22123", true), new(limit / 3, "+1", false), new(-limit / 3, "\u22121", false)],
            Ticks = [.. Enumerable.Range(0, Math.Max(1, points * 14 / 30)).Select(m => new DriftTick(30 * m, m % 12 == 0 ? "2026" : "Jan"))],
        };
    }

    [Fact]
    public void No_text_touches_another_and_nothing_stands_outside()
    {
        foreach (var points in (int[])[1, 2, 18, 60, 61])
            foreach (var reach in (double[])[0, 1.5, 9, 400])
                foreach (var (own, second) in ((bool, bool)[])[(false, false), (true, false), (false, true)])
                    foreach (var width in (double[])[19, 27, 44])
                        DrawingCheck.IsClean($"{points} points to {reach}, own limits {own}, two lists {second}", Make(points, 3, reach, own, second).Draw(), width);
    }

    [Fact]
    public void Points_and_lines_are_on_one_scale_and_what_lies_beyond_has_a_shape()
    {
        var drawing = Make(18, 3, 4).Draw();
        var limits = drawing.Elements.OfType<FigureLine>().Where(l => l.ClassName == "line-tol").Select(l => l.Y1Em).ToList();
        var zero = drawing.Elements.OfType<FigureLine>().Single(l => l.ClassName == "line-known").Y1Em;
        Assert.Equal(zero - limits[0], limits[1] - zero, 1e-9);
        var marks = drawing.Elements.OfType<FigureLink>().SelectMany(l => l.Elements).OfType<FigureMark>().ToList();
        Assert.NotEmpty(marks);
        Assert.All(marks, m => Assert.True(m.Symbol == FigureSymbols.Dome ? m.YEm < limits[0] : m.YEm > limits[1]));
        // day 14: 4·sin 2.3
        var point = drawing.Elements.OfType<FigureLink>().Single(l => l.Address == "/checks/1").Elements.OfType<FigurePoint>().Single();
        Assert.Equal(4 * Math.Sin(2.3) / 3, (zero - point.YEm) / (zero - limits[0]), 1e-9);
    }

    [Fact]
    public void A_point_says_what_it_breaks_and_opens_its_check()
    {
        var svg = XElement.Parse(InlineSvg.Render(Make(18, 3, 4).Draw()));
        var link = svg.Descendants().Last(e => e.Name.LocalName == "a");
        Assert.EndsWith(", beyond", link.Attribute("aria-label")!.Value, StringComparison.Ordinal);
        Assert.Equal("Score of each check, 18 points from day 0 to day 238: none beyond the limits.", Make(18).Describe());
        Assert.Equal(36, Make(18, second: true).Table().Rows.Count);
        Assert.Throws<ArgumentException>(() => Make(18) with { Points = [] });
    }
}
