using System.Globalization;
using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tanks;
using NodaTime;

namespace Knownwater.Records;

/// <summary>What the records say in words: days, tolerances, origins, matrices.</summary>
internal static class Words
{
    public const string NoBreak = "\u00A0";
    public const string Narrow = "\u202F";

    private static readonly string[] Months = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

    /// <summary>“3 September”, with the year where it is not this one.</summary>
    public static string Day(LocalDate day, LocalDate today) =>
        day.Year == today.Year ? $"{day.Day}{NoBreak}{Months[day.Month - 1]}" : DayAndYear(day);

    /// <summary>“3 September 2026”.</summary>
    public static string DayAndYear(LocalDate day) => string.Create(CultureInfo.InvariantCulture, $"{day.Day}{NoBreak}{Months[day.Month - 1]} {day.Year}");

    /// <summary>“Thursday 3 September 2026”.</summary>
    public static string Weekday(LocalDate day) => $"{day.DayOfWeek} {DayAndYear(day)}";

    /// <summary>“Thursday 3 September 2026, 09:40”.</summary>
    public static string Moment(ZonedDateTime at) => string.Create(CultureInfo.InvariantCulture, $"{Weekday(at.Date)}, {at.Hour:00}:{at.Minute:00}");

    /// <summary>“3 September, 09:40”.</summary>
    public static string ShortMoment(ZonedDateTime at, LocalDate today) => string.Create(CultureInfo.InvariantCulture, $"{Day(at.Date, today)}, {at.Hour:00}:{at.Minute:00}");

    /// <summary>“0.3 dKH + 2 %”.</summary>
    public static string ToleranceParts(Tolerance tolerance, ReportingForm form, DecimalSign sign)
    {
        var absolute = $"{NumberWords.Plain(tolerance.Absolute, 4, sign)}{NoBreak}{form.UnitDisplay}";
        var percent = $"{NumberWords.Plain(tolerance.Percent, 4, sign)}{Narrow}%";
        return (tolerance.Absolute, tolerance.Percent) switch
        {
            (_, 0) => absolute,
            (0, _) => percent,
            _ => $"{absolute} + {percent}",
        };
    }

    /// <summary>“± 0.46 dKH: 0.3 dKH + 2 %”.</summary>
    public static string ToleranceAt(Tolerance tolerance, double reference, ReportingForm form, DecimalSign sign)
    {
        var here = $"±{Narrow}{NumberWords.Plain(tolerance.At(reference), 2, sign)}{NoBreak}{form.UnitDisplay}";
        return tolerance.Percent == 0 ? here : $"{here}: {ToleranceParts(tolerance, form, sign)}";
    }

    public static string Origin(Origin origin, string detail) => (origin, detail.Length > 0) switch
    {
        (Shelf.Origin.Certificate, true) => $"certificate {detail}",
        (Shelf.Origin.Certificate, false) => "a certificate, number not noted",
        (Shelf.Origin.MakersClaim, true) => $"the maker’s claim: {detail}",
        (Shelf.Origin.MakersClaim, false) => "the maker’s claim",
        (Shelf.Origin.OwnPreparation, true) => $"own preparation: {detail}",
        (Shelf.Origin.OwnPreparation, false) => "own preparation",
        (_, true) => detail,
        _ => "not said yet",
    };

    public static string Water(Matrix? matrix, double? salinity, DecimalSign sign) => matrix switch
    {
        Matrix.FreshWater => "fresh water",
        Matrix.Seawater => salinity is { } s ? $"seawater, salinity {NumberWords.Plain(s, 4, sign)}" : "seawater",
        _ => "matrix not said",
    };

    public static string Kind(InstrumentKind kind) => kind switch
    {
        InstrumentKind.HandKit => "hand kit",
        InstrumentKind.Laboratory => "laboratory",
        _ => "analyser",
    };

    public static string Kind(TankKind kind) => kind switch
    {
        TankKind.Reef => "reef",
        TankKind.FishOnlyMarine => "fish-only marine",
        TankKind.PlantedFresh => "planted fresh water",
        _ => "fresh water",
    };

    public static string Kind(DoseKind kind) => kind switch
    {
        Tanks.DoseKind.Correction => "correction",
        Tanks.DoseKind.Emergency => "emergency",
        _ => "maintenance",
    };

    /// <summary>A number as typed, in the bench's sign where its digits are plain, else its value; limits with their sign.</summary>
    public static string Typed(string typed, double value, Censoring censoring, DecimalSign sign)
    {
        var mark = sign == DecimalSign.Comma ? ',' : '.';
        var digits = typed.TrimStart('<', '>', '≤', '≥', ' ');
        var number = digits.Length > 0 && digits.Count(c => c is ',' or '.') <= 1 && digits.All(c => char.IsAsciiDigit(c) || c is ',' or '.') && digits[^1] is not (',' or '.') && digits[0] is not (',' or '.')
            && double.TryParse(digits.Replace(',', '.'), CultureInfo.InvariantCulture, out var plain) && plain == value
            ? digits.Replace(',', mark).Replace('.', mark)
            : NumberWords.Plain(value, 6, sign);
        return censoring switch { Censoring.Below => "<" + number, Censoring.Above => ">" + number, _ => number };
    }

    public static string DoubtKind(DoubtMeaning kind) => kind switch
    {
        DoubtMeaning.Expanded => "expanded uncertainty, k = 2",
        DoubtMeaning.Standard => "standard uncertainty",
        _ => "limit to both sides",
    };

    public static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    public static string Small(string text) => text.Length > 1 && char.IsUpper(text[0]) && char.IsLower(text[1]) ? char.ToLowerInvariant(text[0]) + text[1..] : text;

    /// <summary>“two”, “13”.</summary>
    public static string Count(int count) => VerdictWords.Count(count);

    /// <summary>“third”, “13th”.</summary>
    public static string Nth(int n) => n switch
    {
        1 => "first", 2 => "second", 3 => "third", 4 => "fourth", 5 => "fifth", 6 => "sixth", 7 => "seventh", 8 => "eighth", 9 => "ninth", 10 => "tenth",
        _ => string.Create(CultureInfo.InvariantCulture, $"{n}th"),
    };

    public static string List(IReadOnlyList<string> items) => items.Count switch
    {
        0 => "",
        1 => items[0],
        _ => string.Join(", ", items.Take(items.Count - 1)) + " and " + items[^1],
    };
}
