namespace Knownwater.Figures;

/// <summary>Widths of text in em without a font at hand: figures and signs of common sans faces, on the wide side.</summary>
internal static class TextWidth
{
    public static double Estimate(string text, bool strong)
    {
        double width = 0;
        foreach (var c in text)
            width += c switch
            {
                '.' or ',' or ' ' or '\u00A0' or 'i' or 'l' or '\'' or ':' => 0.29,
                '\u202F' => 0.2,
                '+' or '\u2212' or '<' or '>' or '±' => 0.6,
                'm' or 'w' or 'M' or 'W' or '%' => 0.88,
                _ => 0.565,
            };
        return strong ? width * 1.06 : width;
    }
}
