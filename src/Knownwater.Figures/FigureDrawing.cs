namespace Knownwater.Figures;

/// <summary>A figure laid out: its elements in drawing order, each at percent of the width and em of the text size.</summary>
/// <remarks>
/// A drawing has no width. Across it stretches with its place; down it grows with the text. So text keeps its size on any screen
/// and nothing is drawn twice.
/// </remarks>
public sealed record FigureDrawing
{
    /// <summary>The height, in em.</summary>
    public required double HeightEm { get; init; }

    /// <summary>The text alternative: one or two sentences.</summary>
    public required string Description { get; init; }

    /// <summary>The tone that colours signalled marks.</summary>
    public FigureTone Tone { get; init; }

    /// <summary>Where its days lie, so that a span can be chosen in it; null where none can.</summary>
    public FigureTimeLine? TimeLine { get; init; }

    /// <summary>What is drawn, from back to front.</summary>
    public required IReadOnlyList<FigureElement> Elements { get; init; }
}

/// <summary>Where the days of a figure lie.</summary>
/// <param name="FromPercent">Where the first day lies, percent of the width.</param>
/// <param name="ToPercent">Where the last day lies, percent of the width; above <paramref name="FromPercent"/>.</param>
/// <param name="FirstDay">The first day that is drawn, in days from any fixed day.</param>
/// <param name="LastDay">The last; after <paramref name="FirstDay"/>.</param>
public sealed record FigureTimeLine(double FromPercent, double ToPercent, double FirstDay, double LastDay);

/// <summary>One drawn thing.</summary>
/// <param name="ClassName">The classes that give it its look.</param>
public abstract record FigureElement(string ClassName);

/// <summary>A horizontal band.</summary>
/// <param name="ClassName">The classes that give it its look.</param>
/// <param name="XPercent">Left edge, percent of the width.</param>
/// <param name="YEm">Upper edge, em from the top.</param>
/// <param name="WidthPercent">Width, percent.</param>
/// <param name="HeightEm">Height, em.</param>
public sealed record FigureBand(string ClassName, double XPercent, double YEm, double WidthPercent, double HeightEm) : FigureElement(ClassName);

/// <summary>A straight line.</summary>
/// <param name="ClassName">The classes that give it its look.</param>
/// <param name="X1Percent">Start, percent of the width.</param>
/// <param name="Y1Em">Start, em from the top.</param>
/// <param name="X2Percent">End, percent of the width.</param>
/// <param name="Y2Em">End, em from the top.</param>
public sealed record FigureLine(string ClassName, double X1Percent, double Y1Em, double X2Percent, double Y2Em) : FigureElement(ClassName);

/// <summary>A shape whose edges bend or slant: a closed area, or an open line. Its stroke keeps its width however the figure stretches.</summary>
/// <param name="ClassName">The classes that give it its look.</param>
/// <param name="Points">Corners in order: percent of the width, em from the top.</param>
/// <param name="IsClosed">Whether it is an area.</param>
public sealed record FigureShape(string ClassName, IReadOnlyList<(double XPercent, double YEm)> Points, bool IsClosed) : FigureElement(ClassName);

/// <summary>A round point.</summary>
/// <param name="ClassName">The classes that give it its look.</param>
/// <param name="XPercent">Centre, percent of the width.</param>
/// <param name="YEm">Centre, em from the top.</param>
/// <param name="RadiusEm">Radius, em.</param>
public sealed record FigurePoint(string ClassName, double XPercent, double YEm, double RadiusEm) : FigureElement(ClassName);

/// <summary>A symbol of <see cref="FigureSymbols"/>, drawn round its point.</summary>
/// <param name="ClassName">The classes that give it its look.</param>
/// <param name="Symbol">The symbol's name.</param>
/// <param name="XPercent">Centre, percent of the width.</param>
/// <param name="YEm">Centre, em from the top.</param>
/// <param name="SizeEm">Width and height, em.</param>
public sealed record FigureMark(string ClassName, string Symbol, double XPercent, double YEm, double SizeEm) : FigureElement(ClassName);

/// <summary>A line of text.</summary>
/// <param name="ClassName">The classes that give it its look.</param>
/// <param name="XPercent">Anchor, percent of the width.</param>
/// <param name="ShiftEm">Shift to the right of the anchor, em.</param>
/// <param name="YEm">Base line, em from the top.</param>
/// <param name="Anchor">Which part of the text stands at the anchor.</param>
/// <param name="Content">The text.</param>
public sealed record FigureText(string ClassName, double XPercent, double ShiftEm, double YEm, TextAnchor Anchor, string Content) : FigureElement(ClassName)
{
    /// <summary>The estimated width, in em; rather too wide than too narrow.</summary>
    public double WidthEm => TextWidth.Estimate(Content, ClassName.Contains("strong", StringComparison.Ordinal));
}

/// <summary>Elements that belong together and open an address when they are chosen.</summary>
/// <param name="ClassName">The classes that give them their look; may be empty.</param>
/// <param name="Address">The address; empty for none.</param>
/// <param name="Label">What it is, in words.</param>
/// <param name="Elements">What is drawn, from back to front.</param>
public sealed record FigureLink(string ClassName, string Address, string Label, IReadOnlyList<FigureElement> Elements) : FigureElement(ClassName)
{
    /// <summary>When it was, in days from any fixed day; null where the figure has no time line.</summary>
    public double? Day { get; init; }

    /// <summary>What the card beside it says, line by line, the day first; empty for no card.</summary>
    public IReadOnlyList<string> Card { get; init; } = [];
}

/// <summary>Which part of a text stands at its anchor.</summary>
public enum TextAnchor
{
    /// <summary>Its beginning.</summary>
    Start,

    /// <summary>Its middle.</summary>
    Middle,

    /// <summary>Its end.</summary>
    End,
}
