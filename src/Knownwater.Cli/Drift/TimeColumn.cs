using System.Globalization;
using System.Text.Json.Nodes;
using Knownwater.Quantities;

namespace Knownwater.Cli.Drift;

/// <summary>The times of a table as days, and the way back to the form that they came in.</summary>
/// <remarks>
/// ISO 8601 dates, dates with a time of day, the same with an offset from UTC, or plain numbers of days; one of them throughout, except that a date may stand among times of day and counts as its midnight. Days of dates count from
/// the beginning of 1970.
/// </remarks>
internal sealed class TimeColumn
{
    private const string Wanted = "a date (2026-03-05), a date with a time of day (2026-03-05T09:30, with or without +01:00), or a number of days";

    // a date of the year 9900 lies nearer
    private const double Farthest = 2_900_000;

    private static readonly string[] Dates = ["yyyy-MM-dd", "yyyyMMdd"];
    private static readonly string[] Moments = ["yyyy-MM-dd'T'HH:mmK", "yyyy-MM-dd'T'HH:mm:ssK", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFK", "yyyy-MM-dd HH:mmK", "yyyy-MM-dd HH:mm:ssK", "yyyy-MM-dd HH:mm:ss.FFFFFFFK"];

    // a tenth of a second: nearer days are one
    private const int Decimals = 6;

    private readonly Dictionary<double, (double Day, string Text)> _typed;
    private readonly Form _form;
    private readonly TimeSpan _offset;

    private TimeColumn(double[] days, string[] texts, Form form, TimeSpan offset)
    {
        (Days, _form, _offset) = (days, form, offset);
        _typed = days.Zip(texts).DistinctBy(pair => Math.Round(pair.First, Decimals)).ToDictionary(pair => Math.Round(pair.First, Decimals), pair => (pair.First, pair.Second));
    }

    private enum Form
    {
        Number,
        Date,
        Moment,
        MomentWithOffset,
    }

    /// <summary>The day of each row.</summary>
    public double[] Days { get; }

    /// <summary>Reads the column.</summary>
    /// <exception cref="ArgumentException">A cell is no time, or of another kind than those above it; the message names its line.</exception>
    public static TimeColumn Read(CsvTable table, string column)
    {
        var texts = table.Texts(column);
        var days = new double[texts.Length];
        var (form, offset) = (Form.Number, TimeSpan.Zero);
        for (var row = 0; row < texts.Length; row++)
        {
            if (One(texts[row], table.Sign) is not var (own, day, its))
                throw new ArgumentException($"{table.Where(row)}, column {column}: “{texts[row]}” is no time. Write {Wanted}.");
            if (Math.Abs(day) > Farthest)
                throw new ArgumentException($"{table.Where(row)}, column {column}: “{texts[row]}” lies more than {Farthest} days off. Write days, not seconds, counted from any day near the checks.");
            if (row > 0 && own != form && !(own is Form.Date or Form.Moment && form is Form.Date or Form.Moment))
                throw new ArgumentException($"{table.Where(row)}, column {column}: “{texts[row]}” is {Name(own)}, but {Name(form)} stands above it. Write all times alike.");
            (days[row], form, offset) = (day, row == 0 || own > form ? own : form, its);
        }
        return new TimeColumn(days, texts, form, offset);
    }

    /// <summary>A day in the form of the column: as it was typed where a row has it; a number where the column has numbers.</summary>
    public JsonNode Json(double day) => _form == Form.Number ? JsonValue.Create(_typed.TryGetValue(Math.Round(day, Decimals), out var typed) ? typed.Day : Math.Round(day, Decimals)) : JsonValue.Create(Text(day));

    /// <summary>The same for people: “2026-03-05”, “day 12.5”.</summary>
    public string Words(double day) => _form == Form.Number ? $"day {NumberWords.Plain(day, 6, DecimalSign.Point)}" : Text(day);

    private string Text(double day)
    {
        if (_typed.TryGetValue(Math.Round(day, Decimals), out var typed))
            return typed.Text;
        if (_form == Form.Date)
            return Epoch.AddDays((int)Math.Floor(day)).ToString(Dates[0], CultureInfo.InvariantCulture);
        var at = DateTimeOffset.UnixEpoch.AddSeconds(Math.Round(day * 86400)).ToOffset(_offset);
        var ending = _form == Form.Moment ? "" : _offset == TimeSpan.Zero ? "'Z'" : "zzz";
        return at.ToString("yyyy-MM-dd'T'HH:mm:ss" + ending, CultureInfo.InvariantCulture);
    }

    private static DateOnly Epoch => DateOnly.FromDateTime(DateTime.UnixEpoch);

    private static (Form Form, double Day, TimeSpan Offset)? One(string text, DecimalSign? sign)
    {
        var culture = CultureInfo.InvariantCulture;
        if (DateOnly.TryParseExact(text, Dates, culture, DateTimeStyles.None, out var date))
            return (Form.Date, date.DayNumber - Epoch.DayNumber, TimeSpan.Zero);
        if (DateTimeOffset.TryParseExact(text, Moments, culture, DateTimeStyles.AssumeUniversal, out var at))
            return (HasOffset(text) ? Form.MomentWithOffset : Form.Moment, (at - DateTimeOffset.UnixEpoch).TotalDays, at.Offset);
        return NumberText.Read(text, sign) is { Ok: true, Censoring: Censoring.None } number ? (Form.Number, number.Value, TimeSpan.Zero) : null;
    }

    private static bool HasOffset(string text) => text[^1] == 'Z' || text[^6] is '+' or '-';

    private static string Name(Form form) => form switch
    {
        Form.Number => "a number of days",
        Form.Date => "a date",
        Form.Moment => "a time without an offset from UTC",
        _ => "a time with an offset from UTC",
    };
}
