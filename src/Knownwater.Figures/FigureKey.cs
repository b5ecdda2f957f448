namespace Knownwater.Figures;

/// <summary>What a line of a figure's key shows beside its words.</summary>
public enum KeySwatch
{
    /// <summary>The known value's line on the band of its doubt.</summary>
    KnownWater,

    /// <summary>The zone between the two dashed lines.</summary>
    Tolerance,

    /// <summary>Two points joined by a hair line.</summary>
    Readings,

    /// <summary>The verdict's mark on its interval.</summary>
    MeanWithInterval,

    /// <summary>The verdict's mark alone.</summary>
    Mean,

    /// <summary>A hollow circle with a line through it.</summary>
    LeftOut,

    /// <summary>An open arrow head.</summary>
    Limit,

    /// <summary>A line on its band.</summary>
    Line,

    /// <summary>The known line without a band.</summary>
    Zero,

    /// <summary>A point on its interval.</summary>
    Check,

    /// <summary>A dotted line.</summary>
    UsualRange,

    /// <summary>Two dashed lines.</summary>
    ChartLimits,

    /// <summary>An upright line.</summary>
    Event,

    /// <summary>The letter that stands in the figure.</summary>
    Letter,
}

/// <summary>One line of a figure's key.</summary>
/// <param name="Swatch">What is drawn.</param>
/// <param name="Tone">The tone of what is drawn.</param>
/// <param name="Words">What it means.</param>
public sealed record FigureKeyEntry(KeySwatch Swatch, FigureTone Tone, string Words)
{
    /// <summary>The letter of <see cref="KeySwatch.Letter"/>.</summary>
    public string Letter { get; init; } = "";
}

/// <summary>A figure's content as a table: the full alternative to the picture.</summary>
/// <param name="Caption">What the table lists, with the unit.</param>
/// <param name="Columns">The heads, the row label's first.</param>
/// <param name="Rows">The rows from top to bottom.</param>
public sealed record FigureTable(string Caption, IReadOnlyList<string> Columns, IReadOnlyList<FigureTableRow> Rows);

/// <summary>One row of a figure's table.</summary>
/// <param name="Head">The row's label.</param>
/// <param name="Cells">The cells after it; their number is that of the columns less one.</param>
public sealed record FigureTableRow(string Head, IReadOnlyList<string> Cells);
