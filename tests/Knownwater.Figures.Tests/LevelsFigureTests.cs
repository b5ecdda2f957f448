using System.Globalization;
using System.Xml.Linq;

namespace Knownwater.Figures.Tests;

public class LevelsFigureTests
{
    /// <summary>Two nitrate levels, 0.1 high at 2 and 0.6 low at 10, tolerance 1.0 + 10 %.</summary>
    private static LevelsFigure Nitrate() => Make([(2, 0.1, 0.3, FigureTone.Right), (10, -0.6, 0.5, FigureTone.Cannot)], 1.0, 0.1);

    private static LevelsFigure Make((double Known, double Distance, double Half, FigureTone Tone)[] levels, double absolute, double relative, bool line = true)
    {
        string L(double v) => v.ToString("0.##", CultureInfo.InvariantCulture);
        string S(double v) => (v < 0 ? "\u2212" : "+") + L(Math.Abs(v));
        var (first, last) = (levels.MinBy(l => l.Known), levels.MaxBy(l => l.Known));
        return new LevelsFigure
        {
            Unit = "mg/L",
            Levels = [.. levels.Select(l => new FigureLevel(l.Known, L(l.Known), l.Distance, S(l.Distance), l.Half > 0 ? l.Distance - l.Half : null, l.Half > 0 ? l.Distance + l.Half : null,
                l.Half > 0 ? $"{S(l.Distance - l.Half)} to {S(l.Distance + l.Half)}" : "", absolute + relative * l.Known, L(absolute + relative * l.Known), l.Tone))],
            Line = line ? [.. Enumerable.Range(0, 5).Select(i => i / 4.0).Select(t => new FigureLinePlace(first.Known + t * (last.Known - first.Known),
                first.Distance + t * (last.Distance - first.Distance), first.Distance + t * (last.Distance - first.Distance) - 0.3, first.Distance + t * (last.Distance - first.Distance) + 0.3))] : [],
            ToleranceAtZero = absolute, ToleranceAtZeroLabel = L(absolute), CoverageLabel = "97.5\u202F%", Tone = levels[^1].Tone,
        };
    }

    private static IEnumerable<(string Name, LevelsFigure Figure)> Family()
    {
        yield return ("nitrate", Nitrate());
        double[][] places = [[0, 10], [9, 10], [1, 1.1, 10], [0.05, 2, 5, 7.5, 10], [2, 2, 10], [1, 2, 3, 4, 5, 6], [100, 12500]];
        foreach (var at in places)
            foreach (var off in (double[])[-40, -0.5, 0, 0.3, 8])
                foreach (var (absolute, relative) in ((double, double)[])[(1, 0.1), (0.01, 0), (0, 0.05), (30, 0)])
                    foreach (var half in (double[])[0, 0.4, 25])
                        yield return ($"{string.Join("/", at)}, off {off}, tolerance {absolute} + {relative}, half {half}",
                            Make([.. at.Select((c, i) => (c, off * (i % 2 == 0 ? 1 : 0.7), half, (FigureTone)(1 + i % 4)))], absolute, relative, line: half < 25));
    }

    [Fact]
    public void No_text_touches_another_and_nothing_stands_outside()
    {
        foreach (var (name, figure) in Family())
            foreach (var width in (double[])[19, 27, 44])
                DrawingCheck.IsClean(name, figure.Draw(), width);
    }

    [Fact]
    public void Up_is_high_and_the_line_ends_at_the_levels()
    {
        var drawing = Nitrate().Draw();
        var marks = drawing.Elements.OfType<FigureMark>().ToList();
        Assert.True(marks[0].YEm < marks[1].YEm, "0.1 high stands above 0.6 low");
        var path = Assert.Single(drawing.Elements.OfType<FigureShape>(), s => !s.IsClosed);
        Assert.Equal(marks[0].XPercent, path.Points[0].XPercent, 1e-9);
        Assert.Equal(marks[1].XPercent, path.Points[^1].XPercent, 1e-9);
        Assert.Equal(marks[1].YEm, path.Points[^1].YEm, 1e-9);
    }

    [Fact]
    public void The_tolerance_widens_with_the_value_about_zero()
    {
        var drawing = Nitrate().Draw();
        var lines = drawing.Elements.OfType<FigureLine>().Where(l => l.ClassName == "line-tol").ToList();
        var zero = drawing.Elements.OfType<FigureLine>().Single(l => l.ClassName == "line-known").Y1Em;
        // 1.0 at zero, 1.0 + 0.1 · 11 = 2.1 at the right edge
        Assert.Equal(2.1, (zero - lines[0].Y2Em) / (zero - lines[0].Y1Em), 1e-9);
        Assert.Equal(zero - lines[0].Y2Em, lines[1].Y2Em - zero, 1e-9);
    }

    [Fact]
    public void The_text_alternative_says_what_the_picture_shows()
    {
        Assert.Equal("0.1 high at 2\u00A0mg/L, 0.6 low at 10\u00A0mg/L; both within tolerance.", Nitrate().Describe());
        Assert.EndsWith("beyond tolerance at 10.", Make([(2, 0.1, 0.3, FigureTone.Right), (10, 4, 0.5, FigureTone.High)], 1, 0.1).Describe(), StringComparison.Ordinal);
    }

    [Fact]
    public void It_is_well_formed_in_a_page_and_as_a_picture_file()
    {
        foreach (var (name, figure) in Family())
        {
            var svg = XElement.Parse(InlineSvg.Render(figure.Draw()));
            Assert.True(svg.DescendantsAndSelf().All(e => e.Attribute("style") is null && e.Name.LocalName is not ("style" or "script")), name);
            Assert.DoesNotContain("NaN", svg.ToString(), StringComparison.Ordinal);
            Assert.Contains("polygon", PictureFile.Render(figure.Draw(), figure.Key(), "Two levels"), StringComparison.Ordinal);
            Assert.Equal(figure.Levels.Count, figure.Table().Rows.Count);
            Assert.All(figure.Table().Rows, r => Assert.Equal(figure.Table().Columns.Count - 1, r.Cells.Count));
            Assert.All(figure.Key(), k => Assert.NotEmpty(InlineSvg.RenderSwatch(k)));
        }
    }

    [Fact]
    public void One_known_value_is_refused_with_a_sentence() =>
        Assert.Contains("two different known values", Assert.Throws<ArgumentException>(() => Make([(2, 0, 0.1, FigureTone.Right), (2, 0, 0.1, FigureTone.Right)], 1, 0)).Message, StringComparison.Ordinal);
}
