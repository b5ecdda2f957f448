namespace Knownwater.Figures;

/// <summary>The verdict whose colour and shape a figure carries. Shape and word come before colour; a figure printed in grey loses nothing.</summary>
public enum FigureTone
{
    /// <summary>No verdict: no signalled mark.</summary>
    Plain,

    /// <summary>Reads right: a lens afloat on the line.</summary>
    Right,

    /// <summary>Reads high: a dome above the line.</summary>
    High,

    /// <summary>Reads low: a bowl below the line.</summary>
    Low,

    /// <summary>Can't tell yet: a capsule across the line.</summary>
    Cannot,
}

/// <summary>The names that a tone has in markup: its class and its marks.</summary>
public static class FigureTones
{
    /// <summary>The class that sets the tone's colours, for example <c>is-high</c>; empty for <see cref="FigureTone.Plain"/>.</summary>
    /// <param name="tone">The tone.</param>
    public static string ClassName(this FigureTone tone) => tone switch
    {
        FigureTone.Right => "is-right",
        FigureTone.High => "is-high",
        FigureTone.Low => "is-low",
        FigureTone.Cannot => "is-cannot",
        _ => "",
    };

    /// <summary>The symbol that stands for the mean in a figure, for example <c>m-dome</c>.</summary>
    /// <param name="tone">The tone.</param>
    public static string MeanSymbol(this FigureTone tone) => tone switch
    {
        FigureTone.Right => FigureSymbols.Lens,
        FigureTone.High => FigureSymbols.Dome,
        FigureTone.Low => FigureSymbols.Bowl,
        _ => FigureSymbols.Capsule,
    };

    /// <summary>The symbol of the large verdict mark beside a sentence or a word, for example <c>v-high</c>.</summary>
    /// <param name="tone">The tone; <see cref="FigureTone.Plain"/> has the mark of Can't tell yet.</param>
    public static string VerdictSymbol(this FigureTone tone) => tone switch
    {
        FigureTone.Right => "v-right",
        FigureTone.High => "v-high",
        FigureTone.Low => "v-low",
        _ => "v-cannot",
    };
}
