namespace Knownwater.Figures.Tests;

/// <summary>Checks that hold for every drawing.</summary>
internal static class DrawingCheck
{
    private const double Slack = 1e-6;

    /// <summary>No two texts overlap and nothing leaves the drawing when it is so many em wide.</summary>
    public static void IsClean(string name, FigureDrawing drawing, double widthEm)
    {
        var boxes = drawing.Elements.OfType<FigureText>().Where(t => widthEm >= 36 || !t.ClassName.Contains("only-wide", StringComparison.Ordinal)).Select(t => Box(t, widthEm)).ToList();
        foreach (var (text, left, right, top, bottom) in boxes)
            Assert.True(left >= -Slack && right <= widthEm + 0.35 && top >= -Slack && bottom <= drawing.HeightEm + Slack, $"{name}, {widthEm} em: \"{text}\" leaves the figure ({left:F2} to {right:F2}, {top:F2} to {bottom:F2})");
        for (var i = 0; i < boxes.Count; i++)
            for (var j = i + 1; j < boxes.Count; j++)
                Assert.False(Overlap(boxes[i], boxes[j]), $"{name}, {widthEm} em: \"{boxes[i].Text}\" and \"{boxes[j].Text}\" touch");
        foreach (var element in drawing.Elements)
            Assert.True(Inside(element, drawing.HeightEm), $"{name}: {element} leaves the figure");
    }

    private static (string Text, double Left, double Right, double Top, double Bottom) Box(FigureText t, double widthEm)
    {
        var anchor = t.XPercent / 100 * widthEm + t.ShiftEm;
        var left = t.Anchor switch { TextAnchor.End => anchor - t.WidthEm, TextAnchor.Middle => anchor - t.WidthEm / 2, _ => anchor };
        return (t.Content, left, left + t.WidthEm, t.YEm - 0.78, t.YEm + 0.2);
    }

    private static bool Overlap((string Text, double Left, double Right, double Top, double Bottom) a, (string Text, double Left, double Right, double Top, double Bottom) b) =>
        a.Left < b.Right && b.Left < a.Right && a.Top < b.Bottom && b.Top < a.Bottom;

    private static bool Inside(FigureElement element, double height)
    {
        bool X(double x) => x is >= -Slack and <= 100 + Slack;
        bool Y(double y) => y >= -Slack && y <= height + Slack;
        return element switch
        {
            FigureBand b => X(b.XPercent) && X(b.XPercent + b.WidthPercent) && Y(b.YEm) && Y(b.YEm + b.HeightEm) && b.HeightEm >= 0,
            FigureLine l => X(l.X1Percent) && X(l.X2Percent) && Y(l.Y1Em) && Y(l.Y2Em),
            FigurePoint p => X(p.XPercent) && Y(p.YEm - p.RadiusEm) && Y(p.YEm + p.RadiusEm),
            FigureMark m => X(m.XPercent) && Y(m.YEm - m.SizeEm / 2) && Y(m.YEm + m.SizeEm / 2),
            FigureShape s => s.Points.All(p => X(p.XPercent) && Y(p.YEm)),
            FigureLink a => a.Elements.All(e => Inside(e, height)),
            FigureText => true,
            _ => false,
        };
    }
}
