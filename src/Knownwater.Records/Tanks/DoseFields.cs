using System.Buffers;
using Knownwater.Quantities;
using Knownwater.Records.Benches;

namespace Knownwater.Records.Tanks;

/// <summary>The fields of a dose as typed.</summary>
internal sealed record DoseFields(string What, string Amount, string Parameter, DoseKind Kind, bool IsAutomatic, string At, string Who, string Note)
{
    private static readonly SearchValues<char> OfNumbers = SearchValues.Create("0123456789., \u00A0\u202F'’+");

    /// <summary>Reads them into a dose.</summary>
    public void Read(BenchSetting bench, TypedFields fields, Dose dose, NodaTime.Instant? former)
    {
        dose.What = fields.Needed("What", What, "What was dosed is not said. Write it as it stands on the bottle.", 120);
        ReadAmount(bench, fields, dose);
        dose.ParameterKey = Parameter.Trim();
        if (dose.ParameterKey.Length > 0 && Knownwater.Quantities.Parameter.Find(dose.ParameterKey) is null)
            fields.Fault("Parameter", $"“{dose.ParameterKey}” is not in the list. Choose what it moves, or leave it open.");
        (dose.Kind, dose.IsAutomatic) = (Kind, IsAutomatic);
        dose.At = EntryTime.Read(fields, bench, "At", At, former) ?? default;
        dose.Who = fields.Optional("Who", Who, 40);
        dose.Note = fields.Optional("Note", Note, 500);
    }

    /// <summary>“38 mL”, “38 mL a day”: a number above zero and whatever unit follows it.</summary>
    private void ReadAmount(BenchSetting bench, TypedFields fields, Dose dose)
    {
        var text = Amount.Trim();
        var cut = text.AsSpan().IndexOfAnyExcept(OfNumbers);
        var (number, unit) = cut < 0 ? (text, "") : (text[..cut].Trim(), text[cut..].Trim());
        (dose.AmountTyped, dose.Unit) = (text, unit);
        if (number.Length == 0)
        {
            fields.Fault("Amount", text.Length == 0 ? "How much is not said. Write it with its unit, as in 38 mL." : $"“{text}” does not begin with a number. Write it with its unit, as in 38 mL.");
            return;
        }
        var reading = NumberText.Read(number, bench.OwnSign);
        if (!reading.Ok)
            fields.Fault("Amount", reading.Error!, [.. reading.Offers.Select(o => new Offer($"Use {o.Text} {unit}".TrimEnd(), $"{o.Text} {unit}".TrimEnd()))]);
        else if (reading.Value <= 0)
            fields.Fault("Amount", $"{text} does not do: a dose is above 0.");
        else if (unit.Length == 0)
            fields.Fault("Amount", $"{text} of what? Write the unit with it.", new Offer($"Use {text} mL", $"{text} mL"), new Offer($"Use {text} g", $"{text} g"));
        else if (unit.Length > 40)
            fields.Fault("Amount", "That is too long for an amount. Write a number and its unit; the rest goes into the note.");
        else
            dose.Amount = reading.Value;
    }
}
