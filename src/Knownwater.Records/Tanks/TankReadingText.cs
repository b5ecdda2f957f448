using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;

namespace Knownwater.Records.Tanks;

/// <summary>Reads one reading of tank water as typed: refuses what it cannot be and asks about what it hardly is.</summary>
internal static class TankReadingText
{
    private const int Longest = 40;

    private static readonly (double Factor, string Words)[] Slips =
        [(10, "ten times"), (0.1, "a tenth of"), (100, "a hundred times"), (0.01, "a hundredth of"), (1000, "a thousand times"), (0.001, "a thousandth of")];

    /// <summary>Reads it, by the scale of its kit where it has one; null with the fault in <paramref name="fields"/>.</summary>
    public static NumberReading? Read(TypedFields fields, string field, string typed, Measured measured, KitScale? kit, BenchSetting bench)
    {
        var unit = measured.Form.UnitDisplay;
        if (string.IsNullOrWhiteSpace(typed))
        {
            fields.Fault(field, kit is null ? $"Nothing is written yet. Write the number as it was read, in {unit}." : $"Nothing is written yet. {kit.Hint(measured.Form, bench.Sign)}");
            return null;
        }
        if (typed.Trim().Length > Longest)
        {
            fields.Fault(field, "That is too long for a reading. Write the number as it was read.");
            return null;
        }
        if (kit is not null)
            return Kit(fields, field, typed, kit, bench);
        if (fields.Read(field, typed) is not { } reading)
            return null;
        if (reading.Value >= 0 || measured.Parameter.CanBeNegative)
            return reading;
        var bare = typed.Trim().TrimStart('-', '\u2212', '\u2013', ' ');
        fields.Fault(field, $"{typed.Trim()} {unit} is below zero, and {Words.Small(measured.Name)} cannot be. Write what was read; less than the least value shown is written as in <{(typed.Contains(',', StringComparison.Ordinal) ? "0,02" : "0.02")}.",
            new Offer($"Use {bare}", bare));
        return null;
    }

    private static NumberReading? Kit(TypedFields fields, string field, string typed, KitScale kit, BenchSetting bench) =>
        kit.Read(fields, field, typed, bench.Sign) is { } seen ? new NumberReading { Typed = typed, Value = seen.Value, Censoring = seen.Censoring } : null;

    /// <summary>A question where the value of a kit was hardly meant as counted; null else.</summary>
    public static FieldFault? Doubtful(string field, string typed, NumberReading reading, double last, Measured measured, KitScale kit, BenchSetting bench)
    {
        var usual = measured.Key != Measured.Other && measured.Parameter.DefaultTolerance(bench.MainUse) is { } tolerance && UsualScatter.Factor(measured) is { } factor
            ? new Tolerance(tolerance.Absolute * factor, tolerance.Percent).At(last)
            : 0;
        return kit.Doubt(typed, new KitReading(reading.Value, reading.Value, reading.Value, reading.Censoring), last, usual, measured.Form, bench.Sign) is var (sentence, offer) ? new FieldFault(field, sentence, [offer]) : null;
    }

    /// <summary>A question where the number is about a power of ten away from the last one of this tank by the same method; null else.</summary>
    public static FieldFault? Doubtful(string field, string typed, NumberReading reading, double last, Measured measured, BenchSetting bench)
    {
        if (reading.Censoring != Censoring.None || last <= 0 || reading.Value <= 0)
            return null;
        // Near zero a factor of ten is no news.
        if (measured.Key != Measured.Other && measured.Parameter.DefaultTolerance(bench.MainUse) is { } usual && UsualScatter.Factor(measured) is { } factor
            && Math.Abs(reading.Value - last) <= 3 * new Tolerance(usual.Absolute * factor, usual.Percent).At(last))
            return null;
        foreach (var (times, words) in Slips)
        {
            var meant = reading.Value / times;
            if (Math.Abs(meant - last) > 0.4 * last)
                continue;
            var comma = typed.Contains(',', StringComparison.Ordinal) || (!typed.Contains('.', StringComparison.Ordinal) && bench.OwnSign == DecimalSign.Comma);
            var text = NumberWords.Plain(meant, 6, comma ? DecimalSign.Comma : DecimalSign.Point);
            return new FieldFault(field, $"{typed.Trim()} {measured.Form.UnitDisplay} is {words} the last reading here, {NumberWords.Plain(last, 6, bench.Sign)}. Did you mean {text}?", [new Offer($"Use {text}", text)]);
        }
        return null;
    }
}
