using System.Diagnostics.CodeAnalysis;
using System.Text;
using System.Text.RegularExpressions;

namespace Knownwater.Quantities;

/// <summary>How a parameter's number is written: a unit and, where it counts a species, which one.</summary>
/// <remarks>
/// Mass, amount or charge of a species per litre or per kilogram of water, German degrees, and the plain units of temperature,
/// conductivity, salinity, pH and specific gravity. Two forms are equal when their canonical texts are. Reading is forgiving: µ or u,
/// subscripts, "mg/l", "dkh", "mg/L as CaCO3", "NO3-N mg/L", charges of common ions. ppm is refused: it is mg/kg or mg/L, and in
/// seawater these differ by 2 to 3 per cent.
/// </remarks>
/// <example><code>ReportingForm.Parse("mg/l NO₃").Text   // "mg/L NO3"</code></example>
public sealed partial class ReportingForm : IEquatable<ReportingForm>
{
    private const string Examples = "Write one such as mg/L NO3, mg/L NO3-N, umol/kg NO3, meq/L or dKH.";

    private ReportingForm(FormUnit unit, SpeciesForm? species)
    {
        UnitOfForm = unit;
        SpeciesOfForm = species;
    }

    /// <summary>The form in ASCII, as it is stored: "mg/L NO3-N".</summary>
    public string Text => SpeciesOfForm is null ? UnitOfForm.Text : $"{UnitOfForm.Text} {SpeciesOfForm.Text}";

    /// <summary>The form for people, in plain text: "mg/L NO₃-N", "µmol/L", "°C".</summary>
    public string Display => SpeciesOfForm is null ? UnitOfForm.Display : $"{UnitOfForm.Display} {SpeciesOfForm.Display}";

    /// <summary>The unit alone in ASCII: "mg/L".</summary>
    public string Unit => UnitOfForm.Text;

    /// <summary>The unit alone for people: "µg/L", "°C".</summary>
    public string UnitDisplay => UnitOfForm.Display;

    /// <summary>The species in ASCII, "NO3-N", or null where the form names none.</summary>
    public string? Species => SpeciesOfForm?.Text;

    /// <summary>What kind of quantity the form gives.</summary>
    public FormKind Kind => UnitOfForm.Kind;

    internal FormUnit UnitOfForm { get; }

    internal SpeciesForm? SpeciesOfForm { get; }

    /// <summary>Whether two forms are the same.</summary>
    /// <param name="left">One form, or null.</param>
    /// <param name="right">The other, or null.</param>
    public static bool operator ==(ReportingForm? left, ReportingForm? right) => left is null ? right is null : left.Equals(right);

    /// <summary>Whether two forms differ.</summary>
    /// <param name="left">One form, or null.</param>
    /// <param name="right">The other, or null.</param>
    public static bool operator !=(ReportingForm? left, ReportingForm? right) => !(left == right);

    /// <summary>Reads a reporting form.</summary>
    /// <param name="text">The form, as in "mg/L NO3-N".</param>
    /// <returns>The form.</returns>
    /// <exception cref="QuantityFormatException">The text is not a form; the message says why and what to write.</exception>
    public static ReportingForm Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return Read(text, out var form, out var error, out var offers) ? form : throw new QuantityFormatException(error, offers);
    }

    /// <summary>Reads a reporting form, or says why not.</summary>
    /// <param name="text">The form, as in "mg/L NO3-N".</param>
    /// <param name="form">The form, or null.</param>
    /// <param name="error">A full sentence, or null where the form was read.</param>
    /// <returns>Whether the form was read.</returns>
    public static bool TryParse(string? text, [NotNullWhen(true)] out ReportingForm? form, [NotNullWhen(false)] out string? error) =>
        Read(text, out form, out error, out _);

    /// <summary>Reads a reporting form, or says why not and what may have been meant.</summary>
    /// <param name="text">The form, as in "mg/L NO3-N".</param>
    /// <param name="form">The form, or null.</param>
    /// <param name="error">A full sentence, or null where the form was read.</param>
    /// <param name="offers">Forms that may have been meant, most likely first; may be empty.</param>
    /// <returns>Whether the form was read.</returns>
    public static bool TryParse(string? text, [NotNullWhen(true)] out ReportingForm? form, [NotNullWhen(false)] out string? error, out IReadOnlyList<string> offers) =>
        Read(text, out form, out error, out offers);

    /// <inheritdoc/>
    public bool Equals(ReportingForm? other) => other is not null && string.Equals(Text, other.Text, StringComparison.Ordinal);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as ReportingForm);

    /// <inheritdoc/>
    public override int GetHashCode() => Text.GetHashCode(StringComparison.Ordinal);

    /// <summary>The form in ASCII, as <see cref="Text"/>.</summary>
    /// <returns>The form.</returns>
    public override string ToString() => Text;

    internal ReportingForm With(SpeciesForm species) => new(UnitOfForm, species);

    private static bool Read(string? text, [NotNullWhen(true)] out ReportingForm? form, [NotNullWhen(false)] out string? error, out IReadOnlyList<string> offers)
    {
        form = null;
        error = null;
        offers = [];
        var plain = Plain(text);
        var shown = Quote.Of(text);
        if (plain.Length == 0)
        {
            error = $"The reporting form is empty. {Examples}";
            return false;
        }
        if (plain.Length > 100)
        {
            error = $"{shown} is too long for a reporting form. {Examples}";
            return false;
        }

        var words = plain.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        var (unitText, speciesWords) = (words[0], words[1..]);
        var unit = FormUnit.Find(unitText);
        if (unit is null && words.Length > 1 && FormUnit.Find(words[^1]) is { } last)
        {
            unit = last;
            (unitText, speciesWords) = (words[^1], words[..^1]);
        }
        if (unit is null && SpeciesInside().Match(plain) is { Success: true } inside)
        {
            (unitText, speciesWords) = (inside.Groups["top"].Value + "/" + inside.Groups["below"].Value, [inside.Groups["species"].Value]);
            unit = FormUnit.Find(unitText);
        }
        if (unit is null)
        {
            var share = Array.FindIndex(words, word => word.ToUpperInvariant() is "PPM" or "PPB" or "PPT");
            if (share >= 0)
            {
                var (mass, volume) = words[share].ToUpperInvariant() switch { "PPM" => ("mg/kg", "mg/L"), "PPB" => ("ug/kg", "ug/L"), _ => ("g/kg", "g/L") };
                var rest = string.Join(' ', words.Where((_, index) => index != share));
                offers = [$"{volume} {rest}".TrimEnd(), $"{mass} {rest}".TrimEnd()];
                error = $"{words[share]} is {mass} or {volume}, and in seawater these differ by 2 to 3 %. Which one?";
                return false;
            }
            if (words[0] is "degdH" or "dH" or "degH" or "degDH" or "DH" or "ddH")
            {
                offers = ["dKH", "dGH"];
                error = $"{shown} can mean dKH, the alkalinity, or dGH, the hardness. Which one?";
                return false;
            }
            error = words.Length == 1 && SpeciesForm.TryParse(words[0], out var alone, out _)
                ? $"{shown} names a species but no unit. Write the unit before it, such as mg/L {alone.Text}."
                : $"{shown} is not a reporting form known here. {Examples}";
            return false;
        }
        if (speciesWords.Length == 0)
        {
            form = new ReportingForm(unit, null);
            return true;
        }
        if (!unit.TakesSpecies)
        {
            error = $"{shown} names a species, but {unit.Text} stands alone. Write {unit.Text}.";
            offers = [unit.Text];
            return false;
        }
        if (!SpeciesForm.TryParse(speciesWords, out var species, out error))
            return false;
        form = new ReportingForm(unit, species);
        return true;
    }

    private static string Plain(string? text)
    {
        var plain = new StringBuilder();
        foreach (var c in text ?? "")
        {
            switch (c)
            {
                case 'µ' or 'μ': plain.Append('u'); break;
                case >= '₀' and <= '₉': plain.Append((char)('0' + (c - '₀'))); break;
                case '°' or 'º' or '˚': plain.Append("deg"); break;
                case '℃': plain.Append("degC"); break;
                case '℉': plain.Append("degF"); break;
                case '−' or '–' or '‑' or '‐': plain.Append('-'); break;
                case '⁻': plain.Append('⁻'); break;
                case '³': plain.Append(plain.Length > 0 && plain[^1] == 'm' ? "3" : ""); break;
                case '⁺' or '\u200B' or '\uFEFF': break;
                case '∕' or '⁄': plain.Append('/'); break;
                default: plain.Append(char.IsWhiteSpace(c) ? ' ' : char.IsControl(c) ? ' ' : c); break;
            }
        }
        var result = plain.ToString();
        result = PerByPower().Replace(result, "/${below}");
        result = result.Replace("⁻", "", StringComparison.Ordinal);
        result = result.Replace("deg ", "deg", StringComparison.Ordinal);
        result = Slash().Replace(result, "/");
        result = Hyphen().Replace(result, "-");
        result = Parenthesised().Replace(result, " ${species}");
        return result.Trim();
    }

    [GeneratedRegex(@"\s*[·*. ]\s*(?<below>L|l|kg)(?:⁻¹|\^?-1)", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex PerByPower();

    [GeneratedRegex(@"\s*/\s*", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Slash();

    [GeneratedRegex(@"(?<=\w)\s*-\s*(?=[A-Z][a-z]?$)|(?<=\w)\s+-\s+", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Hyphen();

    [GeneratedRegex(@"\s*\((?<species>(as |als )?[A-Za-z][A-Za-z0-9.\-]*)\)$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Parenthesised();

    [GeneratedRegex(@"^(?<top>\w+) (?<species>[^/ ]+)/(?<below>L|l|kg)$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex SpeciesInside();
}
