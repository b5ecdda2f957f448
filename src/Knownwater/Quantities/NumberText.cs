using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Knownwater.Quantities;

/// <summary>Reads numbers as people type them: with a decimal comma or point, with groups of three, as a limit.</summary>
/// <remarks>
/// <para>Comma and point are both accepted as decimal sign, whatever the owner's. One sign alone is ambiguous only where one to three
/// digits that do not begin with zero stand before it and exactly three behind it: "1,234" can mean 1.234 or 1234. Then:</para>
/// <list type="bullet">
/// <item>the owner's own decimal sign: a decimal sign; the owner would not group digits by it;</item>
/// <item>the other sign, or the owner's is not known: both meanings stay plausible (many keypads know the point only), so both are offered;</item>
/// <item>a different sign elsewhere in the number, groups by spaces or apostrophes, a leading zero or an exponent: the meaning is plain.</item>
/// </list>
/// <para>With both signs the last is the decimal sign; several of one kind are groups. Spaces of any width, apostrophes and the minus
/// U+2212 are understood. "&lt;0.02" and "&gt;50" are limits. NaN, infinity, fractions, units behind the number and letters that look
/// like digits are refused by name, with the likely meaning where there is one. Nothing is guessed, nothing throws.</para>
/// </remarks>
public static partial class NumberText
{
    private const int Longest = 60;

    /// <summary>Reads one number.</summary>
    /// <param name="text">What was typed; null counts as empty.</param>
    /// <param name="ownersSign">The owner's decimal sign, or null where it is not known.</param>
    /// <returns>The number, or a sentence with the likely meanings.</returns>
    public static NumberReading Read(string? text, DecimalSign? ownersSign = null)
    {
        var typed = text ?? "";
        var example = ownersSign == DecimalSign.Comma ? "7,90" : "7.90";
        var plain = Plain(typed);
        if (plain.Length == 0)
            return Refused(typed, $"Nothing is typed here yet. Type a number, such as {example}.");
        if (plain.Length > Longest)
            return Refused(typed, $"{Quote.Of(typed)} is too long for a number. Type one such as {example}.");

        var censoring = Censoring.None;
        var body = plain;
        if (body[0] is '<' or '>' or '≤' or '≥')
        {
            censoring = body[0] is '<' or '≤' ? Censoring.Below : Censoring.Above;
            body = body[1..].TrimStart('=', ' ');
            if (body.Length == 0)
                return Refused(typed, $"{Quote.Of(typed)} has no number behind its sign. Type the limit too, such as {plain[0]}{example}.");
        }

        var outcome = Parse(body, ownersSign);
        if (outcome is Reading(var value, var decimals))
            return new NumberReading { Typed = typed, Value = value, Decimals = decimals, Censoring = censoring };
        var shown = Quote.Of(typed);
        if (outcome is Ambiguous(var first, var second))
            return Refused(typed, $"{shown} can mean {first.Text} or {second.Text}. Which one?", first, second);
        if (outcome is TooLarge)
            return Refused(typed, $"{shown} is larger than any number that can be kept. Check its exponent.");
        if (outcome is TooSmall)
            return Refused(typed, $"{shown} is too close to zero to be kept. Check its exponent, or type 0.");
        return Explain(typed, shown, body, example, ownersSign);
    }

    private static NumberReading Refused(string typed, string sentence, params NumberCandidate[] offers) =>
        new() { Typed = typed, Error = sentence, Offers = offers };

    private static NumberReading Explain(string typed, string shown, string body, string example, DecimalSign? sign)
    {
        if (NotANumber().IsMatch(body))
            return Refused(typed, $"{shown} is not a number. Type one such as {example}, or leave the reading out.");
        if (Endless().IsMatch(body))
            return Refused(typed, $"{shown} is not a number that can be measured. Type one such as {example}; where the display shows only a limit, type it as in >50.");

        foreach (var c in body)
        {
            if (CharUnicodeInfo.GetUnicodeCategory(c) == UnicodeCategory.OtherNumber && c is < '²' or > '³' and not '¹')
            {
                var half = Vulgar().Match(body);
                return half.Success && double.TryParse("0" + half.Groups["whole"].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var whole)
                    ? Meant(typed, $"{shown} holds the sign {c}. Type it with decimals.", Candidates(Decimal(whole + CharUnicodeInfo.GetNumericValue(c), sign), sign))
                    : Refused(typed, $"{shown} holds the sign {c}. Type it with decimals, such as {example}.");
            }
        }
        var fraction = Fraction().Match(body);
        if (fraction.Success && double.Parse(fraction.Groups["below"].ValueSpan, CultureInfo.InvariantCulture) is > 0 and var below)
        {
            var quotient = double.Parse(fraction.Groups["top"].ValueSpan, CultureInfo.InvariantCulture) / below;
            return Meant(typed, $"{shown} is a fraction. Type it with decimals.", Candidates(Decimal(quotient, sign), sign));
        }

        if (Lookalike().IsMatch(body) && body.AsSpan().IndexOfAny("oOlI|") is >= 0 and var at)
        {
            var letter = body[at] == '|' ? "sign |" : $"letter {body[at]}";
            var where = at == body.Length - 1 ? "ends in" : at == 0 ? "begins with" : "holds";
            var meant = body.Replace('o', '0').Replace('O', '0').Replace('l', '1').Replace('I', '1').Replace('|', '1');
            return Meant(typed, $"{shown} {where} the {letter}, so it is not a number yet.", Candidates(meant, sign));
        }

        var united = WithUnit().Match(body);
        if (united.Success && Candidates(united.Groups["number"].Value.Trim(), sign) is { Length: > 0 } numbers)
        {
            var unit = united.Groups["unit"].Value.Trim();
            return Meant(typed, $"{shown} carries a unit, {unit}, and this field wants the number alone, in the unit beside it.", numbers);
        }
        if (Unfinished().Match(body) is { Success: true } unfinished)
            return Meant(typed, $"{shown} ends before its exponent is written.", Candidates(unfinished.Groups["number"].Value, sign));
        if (Open().Match(body) is { Success: true } open && Candidates(open.Groups["number"].Value, sign) is { Length: > 0 } closed)
            return Meant(typed, $"{shown} ends in a {(open.Groups["mark"].ValueSpan is "," ? "comma" : "point")}, so a digit may be missing.", closed);
        if (Broken().IsMatch(body))
        {
            var joined = body.Replace(" ", "", StringComparison.Ordinal);
            var split = body.Count(c => c == ' ') == 1 && !body.Contains('.') && !body.Contains(',') ? Candidates(body.Replace(' ', sign == DecimalSign.Comma ? ',' : '.'), sign) : [];
            return Meant(typed, $"{shown} holds a space where none can be: one number, and groups of three digits.", [.. split, .. Candidates(joined, sign)]);
        }
        if (Dashed().IsMatch(body))
            return Refused(typed, $"{shown} looks like a range or a date, not like one number. Type one such as {example}.");
        if (body.Any(char.IsAsciiDigit) && Marks().IsMatch(body))
            return Refused(typed, $"{shown} has commas or points where a number has none. Type digits with one decimal sign, such as {example}.");
        return Refused(typed, $"{shown} is not a number. Type digits with one decimal sign, such as {example}.");
    }

    /// <summary>Adds the question to the sentence where there is a likely meaning.</summary>
    private static NumberReading Meant(string typed, string sentence, NumberCandidate[] offers) => offers.Length == 0
        ? Refused(typed, sentence)
        : Refused(typed, $"{sentence} Did you mean {string.Join(" or ", offers.Select(offer => offer.Text))}?", offers);

    private static NumberCandidate[] Candidates(string text, DecimalSign? sign)
    {
        var outcome = Parse(text, sign);
        return outcome switch
        {
            Reading(var value, _) => [new NumberCandidate(text.Trim(), value)],
            Ambiguous(var first, var second) => [first, second],
            _ => [],
        };
    }

    private static string Decimal(double value, DecimalSign? sign)
    {
        var text = value.ToString("0.###", CultureInfo.InvariantCulture);
        return sign == DecimalSign.Comma ? text.Replace('.', ',') : text;
    }

    private abstract record Outcome;

    private sealed record Reading(double Value, int Decimals) : Outcome;

    private sealed record Ambiguous(NumberCandidate First, NumberCandidate Second) : Outcome;

    private sealed record TooLarge : Outcome;

    private sealed record TooSmall : Outcome;

    private static Outcome? Parse(string text, DecimalSign? sign)
    {
        var match = Shape().Match(text);
        if (!match.Success)
            return null;
        var minus = match.Groups["sign"].ValueSpan is "-";
        var exponent = match.Groups["exp"].Success ? match.Groups["exp"].Value : "";
        var digits = match.Groups["digits"].Value;
        var grouped = false;

        if (digits.AsSpan().IndexOfAny(' ', '\'') >= 0)
        {
            var end = digits.AsSpan().IndexOfAny('.', ',');
            var whole = end < 0 ? digits : digits[..end];
            var tail = end < 0 ? "" : digits[end..];
            if (!SpacedGroups().IsMatch(whole) || (tail.Length > 0 && !SpacedDecimals().IsMatch(tail)))
                return null;
            digits = (whole + tail).Replace(" ", "", StringComparison.Ordinal).Replace("'", "", StringComparison.Ordinal);
            grouped = whole.AsSpan().IndexOfAny(' ', '\'') >= 0 || tail.Contains(' ', StringComparison.Ordinal);
        }

        var points = digits.Count(c => c == '.');
        var commas = digits.Count(c => c == ',');
        string number;
        if (points == 0 && commas == 0)
        {
            number = digits;
        }
        else if (points > 0 && commas > 0)
        {
            var last = digits.LastIndexOfAny(['.', ',']);
            var other = digits[last] == '.' ? ',' : '.';
            if ((digits[last] == '.' ? points : commas) != 1 || grouped || !Groups(digits[..last], other) || last == digits.Length - 1)
                return null;
            number = digits.Replace(other.ToString(), "", StringComparison.Ordinal).Replace(',', '.');
        }
        else if (points + commas > 1)
        {
            var mark = points > 0 ? '.' : ',';
            if (grouped || !Groups(digits, mark))
                return null;
            number = digits.Replace(mark.ToString(), "", StringComparison.Ordinal);
        }
        else
        {
            var mark = points > 0 ? '.' : ',';
            var at = digits.IndexOf(mark, StringComparison.Ordinal);
            if (at == digits.Length - 1)
                return null;
            var own = sign is null ? (char?)null : sign == DecimalSign.Comma ? ',' : '.';
            var couldGroup = !grouped && exponent.Length == 0 && at is >= 1 and <= 3 && digits[0] != '0' && digits.Length - at - 1 == 3;
            if (couldGroup && own != mark)
            {
                // The offers stay as typed in the owner's sign; where that is not known, with a point.
                var lead = minus ? "-" : "";
                var decimalText = lead + digits.Replace(mark, own ?? '.');
                var wholeText = lead + digits.Replace(mark.ToString(), "", StringComparison.Ordinal);
                return new Ambiguous(
                    new NumberCandidate(decimalText, Invariant(lead + digits.Replace(',', '.'))),
                    new NumberCandidate(wholeText, Invariant(wholeText)));
            }
            number = digits.Replace(',', '.');
        }

        if (!double.TryParse((minus ? "-" : "") + number + exponent, NumberStyles.Float, CultureInfo.InvariantCulture, out var value))
            return null;
        if (double.IsInfinity(value))
            return new TooLarge();
        if (value == 0 && number.AsSpan().IndexOfAnyInRange('1', '9') >= 0)
            return new TooSmall();
        var decimals = number.Contains('.', StringComparison.Ordinal) ? number.Length - number.IndexOf('.', StringComparison.Ordinal) - 1 : 0;
        if (exponent.Length > 0)
            decimals = Math.Max(0, decimals - int.Parse(exponent.AsSpan(1), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture));
        return new Reading(value == 0 ? 0 : value, decimals);
    }

    private static double Invariant(string text) => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    /// <summary>One to three digits that do not begin with zero, then groups of exactly three.</summary>
    private static bool Groups(string digits, char mark)
    {
        var parts = digits.Split(mark);
        return parts[0].Length is >= 1 and <= 3 && parts[0][0] != '0' && parts.Skip(1).All(part => part.Length == 3);
    }

    private static string Plain(string text)
    {
        var plain = new StringBuilder();
        foreach (var c in text)
        {
            switch (c)
            {
                case '−' or '–' or '‒' or '﹣' or '－': plain.Append('-'); break;
                case '＋': plain.Append('+'); break;
                case '’' or '‘' or 'ʼ' or '´' or '`': plain.Append('\''); break;
                case '＜': plain.Append('<'); break;
                case '＞': plain.Append('>'); break;
                case '．': plain.Append('.'); break;
                case '，' or '،' or '٫': plain.Append(','); break;
                case '\u200B' or '\u200E' or '\u200F' or '\uFEFF' or '\u2060': break;
                default:
                    if (char.IsWhiteSpace(c))
                        plain.Append(' ');
                    else if (char.IsDigit(c))
                        plain.Append((char)('0' + (int)char.GetNumericValue(c)));
                    else if (!char.IsControl(c))
                        plain.Append(c);
                    break;
            }
        }
        return plain.ToString().Trim();
    }

    [GeneratedRegex(@"^(?<sign>[+-]?) ?(?<digits>(?:\d[\d ']*)?(?:[.,][\d .,']*)?)(?<exp>[eE][+-]?\d{1,4})?$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Shape();

    [GeneratedRegex(@"^(?:\d+|\d{1,3}(?: \d{3})+|\d{1,3}(?:'\d{3})+)?$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex SpacedGroups();

    [GeneratedRegex(@"^[.,](?:\d+|(?:\d{3} )+\d{2,3})$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex SpacedDecimals();

    [GeneratedRegex(@"^[-+]?(nan|n/?a|n\.a\.|none|null|nil|error|err|---?|-|\?+)$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture | RegexOptions.IgnoreCase, 1000)]
    private static partial Regex NotANumber();

    [GeneratedRegex(@"^[-+]?(inf(inity)?|∞|over(flow)?|hi|high|lo|low)$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture | RegexOptions.IgnoreCase, 1000)]
    private static partial Regex Endless();

    [GeneratedRegex(@"^(?<whole>\d*) ?[^\d\s]$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Vulgar();

    [GeneratedRegex(@"^(?<top>\d{1,6}) ?[/⁄∕] ?(?<below>\d{1,6})$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Fraction();

    [GeneratedRegex(@"^[+-]?[\doOlI|.,]*\d[\doOlI|.,]*$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Lookalike();

    [GeneratedRegex(@"^(?<number>[+-]?[\d., ']*\d(?:[eE][+-]?\d{1,4})?) ?(?<unit>(?![xX]\d|[eE][+-]?$)[\p{L}°º˚%‰][^+<>=:;]*)$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex WithUnit();

    [GeneratedRegex(@"^(?<number>[+-]?\d+)(?<mark>[.,])$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Open();

    [GeneratedRegex(@"^(?<number>[+-]?[\d., ']*\d)[eE][+-]?$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Unfinished();

    [GeneratedRegex(@"^[+-]?[\d., ]*\d [\d., ]+$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Broken();

    [GeneratedRegex(@"^\d[\d.,/ ]*-[\d.,/ -]+$|^\d+[:/]\d[\d:/]*$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Dashed();

    [GeneratedRegex(@"^[+-]?[\d., ']+$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Marks();
}
