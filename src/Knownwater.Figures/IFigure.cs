namespace Knownwater.Figures;

/// <summary>A figure as a value: laid out, explained, and told as a table.</summary>
public interface IFigure
{
    /// <summary>Lays the figure out.</summary>
    FigureDrawing Draw();

    /// <summary>The key below the figure: only what the figure shows.</summary>
    IReadOnlyList<FigureKeyEntry> Key();

    /// <summary>The same content as a table.</summary>
    FigureTable Table();
}
