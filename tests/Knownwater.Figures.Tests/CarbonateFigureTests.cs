namespace Knownwater.Figures.Tests;

public sealed class CarbonateFigureTests
{
    private static CarbonateFigure Figure => new()
    {
        Shares = [new(5, 0.9, 0.1, 0), new(8, 0.01, 0.9, 0.09), new(11, 0, 0.02, 0.98)],
        Here = new(8.1, 0.008, 0.88, 0.112), HereLabel = "8,10", DecimalSign = ',',
    };

    [Fact]
    public void It_says_in_words_and_as_a_table_what_it_shows()
    {
        Assert.StartsWith("At pH 8,10 88\u202F% of the inorganic carbon is bicarbonate, 11\u202F% carbonate and 0,8\u202F% carbon dioxide", Figure.Draw().Description, StringComparison.Ordinal);
        var table = Figure.Table();
        Assert.Equal(["5,0", "8,0", "8,10", "11,0"], table.Rows.Select(r => r.Head));
        Assert.Equal(["0,8", "88", "11"], table.Rows[2].Cells);
        Assert.NotEmpty(Figure.Key());
    }

    [Fact]
    public void Three_curves_and_where_the_water_stands_lie_within_the_picture()
    {
        var drawing = Figure.Draw();
        var curves = drawing.Elements.OfType<FigureShape>().ToList();
        Assert.Equal(3, curves.Count);
        Assert.All(curves.SelectMany(c => c.Points), p => Assert.True(p.XPercent is >= 0 and <= 100 && p.YEm >= 0 && p.YEm <= drawing.HeightEm));
        // the parts of one place add up: heights above the axis are those of the shares
        var here = drawing.Elements.OfType<FigurePoint>().ToList();
        var axis = drawing.Elements.OfType<FigureLine>().First(l => l.ClassName == "axis").Y1Em;
        var all = drawing.Elements.OfType<FigureLine>().First(l => l.ClassName == "line-tol").Y1Em;
        Assert.Equal(1, here.Sum(p => (axis - p.YEm) / (axis - all)), 1e-12);
        // a pH beyond the axis stands at its end
        var beyond = Figure with { Here = new(12, 0, 0, 1) };
        Assert.All(beyond.Draw().Elements.OfType<FigurePoint>(), p => Assert.InRange(p.XPercent, 0, 100));
    }

    [Fact]
    public void Places_out_of_order_are_refused()
    {
        Assert.Throws<ArgumentException>(() => Figure with { Shares = [new(8, 0, 1, 0)] });
        Assert.Throws<ArgumentException>(() => Figure with { Shares = [new(8, 0, 1, 0), new(7, 0, 1, 0)] });
    }
}
