using System.Globalization;
using Knownwater.Quantities;

namespace Knownwater.Records.Checks;

/// <summary>Reads one reading as typed: refuses what it cannot be and asks about what it hardly is.</summary>
internal static class ReadingText
{
    /// <summary>What became of the typed text.</summary>
    public sealed record Result(NumberReading? Reading, string? Doubt, IReadOnlyList<Offer> Offers);

    /// <summary>Reads it; without a reading the faults are in <paramref name="fields"/>, with a doubt the person is asked first.</summary>
    public static Result Read(TypedFields fields, string typed, bool confirmed, CheckRows rows, LevelRows level, Replicate? instead, DecimalSign? sign)
    {
        var unit = rows.Measured.Form.UnitDisplay;
        if (string.IsNullOrWhiteSpace(typed))
        {
            fields.Fault("Typed", $"Nothing is written yet. {(KitScale.Of(rows.Check) is { } scale ? scale.Hint(rows.Measured.Form, sign ?? DecimalSign.Point) : $"Write the number as the display shows it, in {unit}.")}");
            return new Result(null, null, []);
        }
        if (KitScale.Of(rows.Check) is { } kit && typed.Trim().Length <= 40)
            return Read(fields, typed, confirmed, rows, level, kit, sign ?? DecimalSign.Point);
        if (typed.Trim().Length > 40)
        {
            fields.Fault("Typed", "That is too long for a reading. Write the number as the display shows it.");
            return new Result(null, null, []);
        }
        if (fields.Read("Typed", typed) is not { } reading)
            return new Result(null, null, []);
        if (reading.Value < 0 && !rows.Measured.Parameter.CanBeNegative)
        {
            var bare = typed.Trim().TrimStart('-', '\u2212', '\u2013', ' ');
            fields.Fault("Typed", $"{typed.Trim()} {unit} is below zero, and {Words.Small(rows.Measured.Name)} cannot be. Write what the display shows; where it shows less than its least value, write it as in <{Example(sign)}.",
                new Offer($"Use {bare}", bare));
            return new Result(null, null, []);
        }
        if (confirmed || reading.Censoring != Censoring.None)
            return new Result(reading, null, []);
        var (yardstick, name) = Yardstick(rows, level, instead);
        var tolerance = new Tolerance(rows.Check.ToleranceAbsolute, rows.Check.TolerancePercent).At(level.Known.Value);
        if (!(yardstick > 2 * tolerance) && !(reading.Value > 20 * tolerance))
            return new Result(reading, null, []);
        if (yardstick <= 0 || reading.Value <= 0 || Math.Abs(reading.Value - yardstick) <= 3 * tolerance)
            return new Result(reading, null, []);
        foreach (var (factor, words) in Slips)
        {
            var meant = reading.Value / factor;
            if (Math.Abs(meant - yardstick) > 0.4 * yardstick)
                continue;
            var comma = typed.Contains(',', StringComparison.Ordinal) || (!typed.Contains('.', StringComparison.Ordinal) && sign == DecimalSign.Comma);
            var text = Shift(typed, factor, comma ? DecimalSign.Comma : DecimalSign.Point) ?? NumberWords.Plain(meant, 4, comma ? DecimalSign.Comma : DecimalSign.Point);
            return new Result(reading, $"{typed.Trim()} {unit} is {words} {name}. Did you mean {text}?", [new Offer($"Use {text}", text)]);
        }
        return new Result(reading, null, []);
    }

    /// <summary>The same for a kit: steps of its card, or drops.</summary>
    private static Result Read(TypedFields fields, string typed, bool confirmed, CheckRows rows, LevelRows level, KitScale kit, DecimalSign sign)
    {
        if (kit.Read(fields, "Typed", typed, sign) is not { } read)
            return new Result(null, null, []);
        var reading = new NumberReading { Typed = typed, Value = read.Value, Censoring = read.Censoring };
        var tolerance = new Tolerance(rows.Check.ToleranceAbsolute, rows.Check.TolerancePercent).At(level.Known.Value);
        return !confirmed && kit.Doubt(typed, read, level.Known.Value, tolerance, rows.Measured.Form, sign) is var (sentence, offer)
            ? new Result(reading, sentence, [offer])
            : new Result(reading, null, []);
    }

    private static readonly (double Factor, string Words)[] Slips =
    [
        (10, "ten times"), (0.1, "a tenth of"), (100, "a hundred times"), (0.01, "a hundredth of"), (1000, "a thousand times"), (0.001, "a thousandth of"),
    ];

    /// <summary>The reading's fellows, else the known value.</summary>
    private static (double Value, string Name) Yardstick(CheckRows rows, LevelRows level, Replicate? instead)
    {
        var fellows = level.Replicates.Where(r => r != instead && r.Censoring == Censoring.None && r.ExcludedReason is null && (instead is null || r.Ordinal != instead.Ordinal)).Select(r => r.Value).Order().ToList();
        return fellows.Count switch
        {
            0 => (level.Known.Value, "the known value"),
            1 => (fellows[0], instead is null ? "the reading before it" : "the other reading"),
            _ => (fellows[fellows.Count / 2], instead is null ? "the readings before it" : "the other readings"),
        };
    }

    /// <summary>The same digits with the decimal sign moved, “87” to “8,7”; null where they are not plain digits.</summary>
    private static string? Shift(string typed, double factor, DecimalSign sign)
    {
        var text = typed.Trim();
        var whole = text.Split('.', ',');
        if (whole.Length > 2 || text.Any(c => !char.IsAsciiDigit(c) && c is not ('.' or ',')))
            return null;
        var places = (whole.Length == 2 ? whole[1].Length : 0) + (int)Math.Round(Math.Log10(factor));
        var digits = string.Concat(whole).TrimStart('0');
        if (digits.Length == 0)
            return null;
        if (places < 0)
            (digits, places) = (digits + new string('0', -places), 0);
        digits = digits.PadLeft(places + 1, '0');
        var mark = sign == DecimalSign.Comma ? "," : ".";
        return places == 0 ? digits : string.Create(CultureInfo.InvariantCulture, $"{digits[..^places]}{mark}{digits[^places..]}");
    }

    private static string Example(DecimalSign? sign) => sign == DecimalSign.Comma ? "0,02" : "0.02";
}
