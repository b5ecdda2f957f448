using Knownwater.Checks;
using Knownwater.Figures;

namespace Knownwater.Web.Sheet;

/// <summary>How a verdict looks.</summary>
internal static class Verdicts
{
    public static FigureTone Tone(Verdict? verdict) => verdict switch
    {
        Verdict.ReadsRight => FigureTone.Right,
        Verdict.ReadsHigh => FigureTone.High,
        Verdict.ReadsLow => FigureTone.Low,
        _ => FigureTone.Cannot,
    };

    public static string Word(Verdict verdict) => VerdictWords.Word(verdict);
}
