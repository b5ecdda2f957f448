using Knownwater.Quantities;
using NodaTime;
using NodaTime.Text;

namespace Knownwater.Records;

/// <summary>Reads what was typed into the fields of a form and collects every fault, so that none is told one at a time.</summary>
internal sealed class TypedFields(DecimalSign? sign)
{
    private readonly List<FieldFault> _faults = [];

    public IReadOnlyList<FieldFault> Faults => _faults;

    public bool Ok => _faults.Count == 0;

    public void Fault(string field, string sentence, params IReadOnlyList<Offer> offers) => _faults.Add(new FieldFault(field, sentence, offers));

    public void Add(IEnumerable<FieldFault> faults) => _faults.AddRange(faults);

    /// <summary>A text that must be there.</summary>
    public string Needed(string field, string? typed, string sentence, int longest = 200)
    {
        var text = Optional(field, typed, longest);
        if (text.Length == 0)
            Fault(field, sentence);
        return text;
    }

    /// <summary>A text that may be empty.</summary>
    public string Optional(string field, string? typed, int longest = 200)
    {
        var text = typed?.Trim() ?? "";
        if (text.Length > longest)
            Fault(field, $"That is {text.Length} characters long; {longest} fit. Shorten it.");
        return text.Contains('\0', StringComparison.Ordinal) ? text.Replace("\0", "", StringComparison.Ordinal) : text;
    }

    /// <summary>A number that may be missing.</summary>
    /// <param name="field">Name of the field.</param>
    /// <param name="typed">What was typed.</param>
    /// <param name="what">What it is, “the display step”.</param>
    /// <param name="least">Least value allowed.</param>
    /// <param name="greatest">Greatest value allowed.</param>
    /// <param name="aboveLeast">Whether the least value itself is refused.</param>
    public double? Number(string field, string? typed, string what, double least = double.NegativeInfinity, double greatest = double.PositiveInfinity, bool aboveLeast = false)
    {
        if (string.IsNullOrWhiteSpace(typed))
            return null;
        if (Read(field, typed) is not { } reading)
            return null;
        if (reading.Censoring != Censoring.None)
        {
            Fault(field, $"“{typed.Trim()}” is a limit, but {what} is one number. Leave the sign away.", new Offer($"Use {Bare(typed)}", Bare(typed)));
            return null;
        }
        var value = reading.Value;
        if (value < least || (aboveLeast && value <= least))
        {
            var limit = Show(least);
            Fault(field, aboveLeast
                ? $"{typed.Trim()} does not do: {what} is above {limit}."
                : $"{typed.Trim()} is below {limit}; {what} is {limit} or more.");
            return null;
        }
        if (value > greatest)
        {
            Fault(field, $"{typed.Trim()} is above {Show(greatest)}; {what} is at most that.");
            return null;
        }
        return value;
    }

    /// <summary>A number that must be there.</summary>
    public double? NeededNumber(string field, string? typed, string what, string missing, double least = double.NegativeInfinity, double greatest = double.PositiveInfinity, bool aboveLeast = false)
    {
        if (!string.IsNullOrWhiteSpace(typed))
            return Number(field, typed, what, least, greatest, aboveLeast);
        Fault(field, missing);
        return null;
    }

    /// <summary>A whole number that must be there.</summary>
    public int? Whole(string field, string? typed, string what, string missing, int least, int greatest)
    {
        if (NeededNumber(field, typed, what, missing, least, greatest) is not { } value)
            return null;
        if (value == Math.Floor(value))
            return (int)value;
        Fault(field, $"{typed!.Trim()} is not whole; {what} is a whole number from {least} to {greatest}.");
        return null;
    }

    /// <summary>A reading, which may be a limit; null where it is no number.</summary>
    public NumberReading? Read(string field, string? typed)
    {
        var reading = NumberText.Read(typed, sign);
        if (!reading.Ok)
        {
            Fault(field, reading.Error!, reading.Offers.Select(o => new Offer($"Use {o.Text}", o.Text)).ToArray());
            return null;
        }
        return reading;
    }

    /// <summary>A day, which may be missing.</summary>
    public LocalDate? Day(string field, string? typed)
    {
        if (string.IsNullOrWhiteSpace(typed))
            return null;
        var parsed = LocalDatePattern.Iso.Parse(typed.Trim());
        if (parsed.Success && parsed.Value.Year is >= 1900 and <= 2999)
            return parsed.Value;
        Fault(field, $"“{typed.Trim()}” is not a day. Write year, month and day as in 2026-09-03.");
        return null;
    }

    private string Show(double value) => NumberWords.Plain(value, 6, sign ?? DecimalSign.Point);

    private static string Bare(string typed) => typed.Trim().TrimStart('<', '>', '≤', '≥', '=', ' ');
}
