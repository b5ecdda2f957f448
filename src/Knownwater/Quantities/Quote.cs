using System.Text;

namespace Knownwater.Quantities;

/// <summary>What was typed, in quotation marks, fit for a sentence.</summary>
internal static class Quote
{
    private const int Longest = 40;

    /// <summary>At most forty characters, without control signs.</summary>
    public static string Of(string? text)
    {
        var shown = new StringBuilder("\"");
        foreach (var rune in (text ?? "").Trim().EnumerateRunes())
        {
            if (shown.Length > Longest)
            {
                shown.Append('…');
                break;
            }
            if (!Rune.IsControl(rune))
                shown.Append(rune);
        }
        return shown.Append('"').ToString();
    }
}
