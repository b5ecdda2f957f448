namespace Knownwater.Figures;

/// <summary>The resolved colours of a picture file, as <c>#RRGGBB</c>.</summary>
/// <param name="Paper">Ground.</param>
/// <param name="Ink">Text and points.</param>
/// <param name="SecondInk">Second text, dashed limits.</param>
/// <param name="Edge">Axes and hair lines.</param>
/// <param name="KnownLine">Known water.</param>
/// <param name="Known">The doubt of known water.</param>
/// <param name="Tolerance">The tolerance zone.</param>
/// <param name="Right">Reads right.</param>
/// <param name="High">Reads high.</param>
/// <param name="Low">Reads low.</param>
/// <param name="Cannot">Can't tell yet.</param>
public sealed record FigurePalette(
    string Paper, string Ink, string SecondInk, string Edge, string KnownLine, string Known, string Tolerance, string Right, string High, string Low, string Cannot)
{
    /// <summary>Ink on cool paper.</summary>
    public static FigurePalette Day { get; } =
        new("#F9FAF7", "#15232B", "#47565D", "#6B7A7E", "#1F6178", "#A9CBD6", "#E3EEF0", "#0E5F57", "#963C0E", "#4B3FA0", "#4F565B");

    /// <summary>The same sheet under a dim lamp.</summary>
    public static FigurePalette Night { get; } =
        new("#1B1914", "#F0E7D5", "#BEB39D", "#918872", "#8CC4D6", "#2F5F6E", "#1F2C2E", "#85D0BA", "#F5B183", "#BFB9F7", "#CBC4B5");

    /// <summary>Black on white.</summary>
    public static FigurePalette Print { get; } =
        new("#FFFFFF", "#000000", "#333333", "#666666", "#000000", "#C9D6DA", "#F1F1F1", "#0A4A44", "#7A2F08", "#372D85", "#333333");

    /// <summary>The colour of a verdict.</summary>
    /// <param name="tone">The verdict; ink for <see cref="FigureTone.Plain"/>.</param>
    public string Of(FigureTone tone) => tone switch
    {
        FigureTone.Right => Right,
        FigureTone.High => High,
        FigureTone.Low => Low,
        FigureTone.Cannot => Cannot,
        _ => Ink,
    };
}
