using System.Collections.ObjectModel;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text;

namespace Knownwater.Quantities;

/// <summary>A chemical formula: what it is made of and its molar mass.</summary>
/// <remarks>
/// Elements, counts, parentheses and square brackets, and hydrates behind a dot: "NO3", "Si(OH)4", "CaCl2.2H2O", "KHC8H4O4". Subscript
/// digits and the middle dot are read too. Charges are not part of a formula and are refused, save superscript ones, which are left
/// out: nobody can tell PO43- from forty-three oxygens. Molar mass: Σ nᵢ Aᵢ with the abridged standard atomic weights of IUPAC 2021
/// (Prohaska et al. 2022, table 2) and a molar mass constant of 1 g/mol. Two formulas are equal when their canonical texts are.
/// </remarks>
public sealed class ChemicalFormula : IEquatable<ChemicalFormula>
{
    private const int MostAtoms = 100_000;

    private ChemicalFormula(string text, SortedDictionary<string, int> atoms)
    {
        Text = text;
        Atoms = new ReadOnlyDictionary<string, int>(atoms);
        double mass = 0, variance = 0;
        var key = new StringBuilder();
        foreach (var (symbol, count) in atoms)
        {
            var weight = AtomicWeights.Of(symbol)!.Value;
            mass += count * weight.Weight;
            var part = count * weight.HalfWidth / Math.Sqrt(3);
            variance += part * part;
            key.Append(CultureInfo.InvariantCulture, $"{symbol}{count} ");
        }
        MolarMassGramsPerMole = mass;
        MolarMassUncertainty = Math.Sqrt(variance);
        Composition = key.ToString();
    }

    /// <summary>The formula in ASCII: "CaCl2.2H2O".</summary>
    public string Text { get; }

    /// <summary>The formula with subscripts, in plain text: "CaCl₂·2H₂O".</summary>
    public string Display => Subscripts(Text);

    /// <summary>The molar mass, in g/mol; above zero.</summary>
    public double MolarMassGramsPerMole { get; }

    /// <summary>The standard uncertainty of the molar mass, in g/mol (k = 1).</summary>
    /// <remarks>The printed uncertainty of an atomic weight is taken as the half-width of a rectangular distribution, as in QUAM (Eurachem/CITAC CG 4), A1; elements add in quadrature, atoms of one element linearly.</remarks>
    public double MolarMassUncertainty { get; }

    /// <summary>How many atoms of each element, by symbol, in alphabetical order.</summary>
    public IReadOnlyDictionary<string, int> Atoms { get; }

    /// <summary>The same for all formulas of one composition, whatever the order: Si(OH)4 and H4SiO4.</summary>
    internal string Composition { get; }

    /// <summary>Reads a formula.</summary>
    /// <param name="text">The formula, as in "MgCl2.6H2O".</param>
    /// <returns>The formula.</returns>
    /// <exception cref="QuantityFormatException">The text is not a formula, or names an element that has no standard atomic weight.</exception>
    public static ChemicalFormula Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return TryParse(text, out var formula, out var error) ? formula : throw new QuantityFormatException(error);
    }

    /// <summary>Reads a formula, or says why not.</summary>
    /// <param name="text">The formula, as in "MgCl2.6H2O".</param>
    /// <param name="formula">The formula, or null.</param>
    /// <param name="error">A full sentence, or null where the formula was read.</param>
    /// <returns>Whether the formula was read.</returns>
    public static bool TryParse(string? text, [NotNullWhen(true)] out ChemicalFormula? formula, [NotNullWhen(false)] out string? error)
    {
        formula = null;
        var shown = Quote.Of(text);
        var plain = Plain(text);
        if (plain.Length == 0)
        {
            error = "The formula is empty. Write one such as NO3 or CaCl2.2H2O.";
            return false;
        }
        var atoms = new SortedDictionary<string, int>(StringComparer.Ordinal);
        foreach (var part in plain.Split('.'))
        {
            var digits = part.Length - part.AsSpan().TrimStart("0123456789").Length;
            var times = 1;
            if (digits > 0 && (!int.TryParse(part.AsSpan(0, digits), NumberStyles.None, CultureInfo.InvariantCulture, out times) || times is 0 or > MostAtoms))
            {
                error = $"{shown} holds {part[..digits]} of something, which no formula does. Write it as in CaCl2.2H2O.";
                return false;
            }
            var reader = new Reader(part, digits);
            if (!reader.Read(out var counts, out var why))
            {
                error = $"{shown} is not a formula: {why} Write elements and counts, as in NO3, Si(OH)4 or CaCl2.2H2O.";
                return false;
            }
            foreach (var (symbol, count) in counts)
            {
                var sum = atoms.GetValueOrDefault(symbol) + ((long)count * times);
                if (sum > MostAtoms)
                {
                    error = $"{shown} holds more than {MostAtoms} atoms of {symbol}. Check its counts.";
                    return false;
                }
                atoms[symbol] = (int)sum;
            }
        }
        error = null;
        formula = new ChemicalFormula(plain, atoms);
        return true;
    }

    /// <inheritdoc/>
    public bool Equals(ChemicalFormula? other) => other is not null && string.Equals(Text, other.Text, StringComparison.Ordinal);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as ChemicalFormula);

    /// <inheritdoc/>
    public override int GetHashCode() => Text.GetHashCode(StringComparison.Ordinal);

    /// <summary>The formula in ASCII, as <see cref="Text"/>.</summary>
    /// <returns>The formula.</returns>
    public override string ToString() => Text;

    /// <summary>Digits behind a letter or a bracket become subscripts, a dot a middle dot.</summary>
    internal static string Subscripts(string formula)
    {
        var text = new StringBuilder(formula.Length);
        var below = false;
        foreach (var c in formula)
        {
            if (char.IsAsciiDigit(c) && below)
            {
                text.Append((char)('₀' + (c - '0')));
                continue;
            }
            below = char.IsAsciiLetter(c) || c is ')' or ']';
            text.Append(c == '.' ? '·' : c);
        }
        return text.ToString();
    }

    private static string Plain(string? text)
    {
        var plain = new StringBuilder();
        foreach (var c in text ?? "")
        {
            switch (c)
            {
                case >= '₀' and <= '₉': plain.Append((char)('0' + (c - '₀'))); break;
                case '·' or '•' or '∙' or '⋅' or '*' or '×': plain.Append('.'); break;
                case '⁺' or '⁻' or '²' or '³' or '¹' or '⁴' or '\u200B' or '\uFEFF': break;
                default:
                    if (!char.IsWhiteSpace(c))
                        plain.Append(c);
                    break;
            }
        }
        return plain.ToString();
    }

    private sealed class Reader(string text, int start)
    {
        private int _at = start;

        public bool Read([NotNullWhen(true)] out Dictionary<string, int>? counts, [NotNullWhen(false)] out string? why)
        {
            counts = null;
            if (_at >= text.Length)
            {
                why = "a part of it is empty.";
                return false;
            }
            if (!Group('\0', 0, out counts, out why))
                return false;
            return true;
        }

        private bool Group(char close, int depth, [NotNullWhen(true)] out Dictionary<string, int>? counts, [NotNullWhen(false)] out string? why)
        {
            counts = null;
            why = null;
            var found = new Dictionary<string, int>(StringComparer.Ordinal);
            while (_at < text.Length && text[_at] != close)
            {
                var c = text[_at];
                Dictionary<string, int>? inner;
                if (c is '(' or '[')
                {
                    _at++;
                    if (depth == 8)
                    {
                        why = "its brackets lie too deep.";
                        return false;
                    }
                    var end = c == '(' ? ')' : ']';
                    if (!Group(end, depth + 1, out inner, out why))
                        return false;
                    if (_at >= text.Length)
                    {
                        why = $"its bracket {c} is not closed.";
                        return false;
                    }
                    _at++;
                    if (inner.Count == 0)
                    {
                        why = "a bracket of it is empty.";
                        return false;
                    }
                }
                else if (char.IsAsciiLetterUpper(c))
                {
                    var length = _at + 1 < text.Length && char.IsAsciiLetterLower(text[_at + 1]) ? 2 : 1;
                    var symbol = text.Substring(_at, length);
                    if (AtomicWeights.Of(symbol) is null)
                    {
                        why = $"{symbol} is not an element with a standard atomic weight.";
                        return false;
                    }
                    _at += length;
                    inner = new(StringComparer.Ordinal) { [symbol] = 1 };
                }
                else
                {
                    why = c is '+' or '-' or '−'
                        ? "a charge is not part of it."
                        : $"{Quote.Of(c.ToString())} does not belong there.";
                    return false;
                }
                var digits = 0;
                while (_at + digits < text.Length && char.IsAsciiDigit(text[_at + digits]))
                    digits++;
                var count = 1;
                if (digits > 0 && (digits > 5 || (count = int.Parse(text.AsSpan(_at, digits), CultureInfo.InvariantCulture)) == 0))
                {
                    why = $"{text.Substring(_at, digits)} is no count of atoms.";
                    return false;
                }
                _at += digits;
                foreach (var (symbol, n) in inner)
                {
                    var sum = found.GetValueOrDefault(symbol) + ((long)n * count);
                    if (sum > MostAtoms)
                    {
                        why = $"it holds more than {MostAtoms} atoms of {symbol}.";
                        return false;
                    }
                    found[symbol] = (int)sum;
                }
            }
            counts = found;
            return true;
        }
    }
}
