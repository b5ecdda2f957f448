using System.Collections.Frozen;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Knownwater.Quantities;

/// <summary>Reads quantities, uncertain quantities and tolerances as people write them on a command line or into one field.</summary>
/// <remarks>
/// A quantity is a number and a unit, with or without a space. A doubt stands behind ±, +- or +/-, in percent of the value, in its unit
/// or as a bare number; it is the half-width of a rectangular distribution unless (k=2) follows. A tolerance is an absolute part, a
/// percentage, or both with + between. Numbers are read by <see cref="NumberText"/>, forms by <see cref="ReportingForm"/>; what is
/// ambiguous is refused with the readings offered.
/// </remarks>
public static partial class QuantityText
{
    private static readonly FrozenDictionary<string, double> Millilitres = new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase)
    {
        ["uL"] = 1e-3, ["mL"] = 1, ["cL"] = 10, ["dL"] = 100, ["L"] = 1000, ["litre"] = 1000, ["litres"] = 1000, ["liter"] = 1000, ["liters"] = 1000,
        ["cm3"] = 1, ["dm3"] = 1000, ["m3"] = 1e6,
        // One US gallon is 231 cubic inches, one imperial gallon 4.54609 L, both exact.
        ["gal"] = 3785.411784, ["USgal"] = 3785.411784, ["gallon"] = 3785.411784, ["gallons"] = 3785.411784, ["USgallon"] = 3785.411784, ["USgallons"] = 3785.411784,
        ["impgal"] = 4546.09, ["impgallon"] = 4546.09, ["impgallons"] = 4546.09,
    }.ToFrozenDictionary(StringComparer.OrdinalIgnoreCase);

    private static readonly FrozenDictionary<string, double> Grams = new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase)
    {
        ["ug"] = 1e-6, ["mg"] = 1e-3, ["g"] = 1, ["kg"] = 1000,
    }.ToFrozenDictionary(StringComparer.OrdinalIgnoreCase);

    /// <summary>Reads a quantity: "5.2 mg/L NO3-N", "8,0 dKH", "77 F".</summary>
    /// <param name="text">The text.</param>
    /// <param name="sign">The owner's decimal sign, or null where it is not known.</param>
    /// <returns>The quantity, in the form as written.</returns>
    /// <exception cref="QuantityFormatException">The text is no quantity; the message says why.</exception>
    public static Quantity ReadQuantity(string text, DecimalSign? sign = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        var (number, unit) = Parts(text, "5.2 mg/L NO3", known => ReportingForm.TryParse(known, out _, out _));
        var form = Form(text, unit, "5.2 mg/L NO3");
        return new Quantity(Number(number, sign), form);
    }

    /// <summary>Reads a quantity with its doubt: "1000 mg/L NO3 ± 0.5%", "1000 mg/L NO3 +- 5 mg/L (k=2)"; without ± the doubt is not given.</summary>
    /// <param name="text">The text.</param>
    /// <param name="sign">The owner's decimal sign, or null where it is not known.</param>
    /// <returns>The quantity; a doubt in another form of the same species is converted.</returns>
    /// <exception cref="QuantityFormatException">The text is no uncertain quantity; the message says why.</exception>
    /// <exception cref="MissingWaterStateException">The doubt is per kilogram and the value per litre, or the other way round.</exception>
    public static UncertainQuantity ReadUncertainQuantity(string text, DecimalSign? sign = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        var match = PlusMinus().Match(text);
        if (!match.Success)
        {
            var alone = ReadQuantity(text, sign);
            return new UncertainQuantity(alone.Value, alone.Form, 0, DoubtKind.NotGiven, null);
        }
        var left = text[..match.Index].Trim();
        var right = text[(match.Index + match.Length)..].Trim();
        double? factor = null;
        if (Coverage().Match(right) is { Success: true } coverage)
        {
            factor = Number(coverage.Groups["k"].Value, sign);
            if (factor <= 0)
                throw new QuantityFormatException($"{Quote.Of(text)} has a coverage factor of {coverage.Groups["k"].Value}, but it is above zero. Write (k=2) for a 95 % interval.");
            right = right[..coverage.Index].Trim();
        }
        if (left.Length == 0 || right.Length == 0)
            throw new QuantityFormatException($"{Quote.Of(text)} needs a value before ± and a doubt behind it. Write it as in 1000 mg/L NO3 ± 5 mg/L.");

        double value, doubt;
        ReportingForm form;
        if (NumberText.Read(left, sign) is { Ok: true } || !left.Any(char.IsLetter))
        {
            // "1000 ± 5 mg/L NO3": the unit stands behind both.
            var both = ReadQuantity(right, sign);
            (value, form, doubt) = (Number(left, sign), both.Form, both.Value);
        }
        else
        {
            var quantity = ReadQuantity(left, sign);
            (value, form) = (quantity.Value, quantity.Form);
            if (Percent(right, sign) is { } percent)
            {
                if (value == 0 && percent > 0)
                    throw new QuantityFormatException($"{Quote.Of(text)} gives no doubt at all, as a percentage of zero is zero. Write the doubt in {form.Unit}.");
                doubt = Math.Abs(value) * percent / 100;
            }
            else
            {
                doubt = Size(right, form, sign, null, null);
            }
        }
        if (doubt < 0)
            throw new QuantityFormatException($"{Quote.Of(text)} has a doubt below zero. Write it without a sign of its own.");
        return new UncertainQuantity(value, form, doubt, factor is null ? DoubtKind.HalfWidth : DoubtKind.Expanded, factor);
    }

    /// <summary>Reads a tolerance: "5%", "0.02 mg/L PO4", "0.02 mg/L PO4 + 5%"; the parts add.</summary>
    /// <param name="text">The text.</param>
    /// <param name="inForm">The form the tolerance shall be in; an absolute part in another form of the same species is converted, a bare number taken in this form.</param>
    /// <param name="sign">The owner's decimal sign, or null where it is not known.</param>
    /// <param name="state">Salinity and temperature of the water; needed between per litre and per kilogram only.</param>
    /// <param name="parameter">What is measured, where it is known; it settles what "mg/L CaCO3" counts.</param>
    /// <returns>The tolerance, its absolute part in <paramref name="inForm"/>.</returns>
    /// <exception cref="QuantityFormatException">The text is no tolerance in that form; the message says why.</exception>
    /// <exception cref="MissingWaterStateException">The absolute part needs the density of the water.</exception>
    public static Tolerance ReadTolerance(string text, ReportingForm inForm, DecimalSign? sign = null, WaterState? state = null, Parameter? parameter = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(inForm);
        double? absolute = null, percent = null;
        foreach (var each in Plus().Split(text))
        {
            var part = each.Trim().TrimStart('±').Trim();
            if (part.Length == 0)
                throw new QuantityFormatException($"{Quote.Of(text)} is not a tolerance. Write one such as 5%, or 0.3 {inForm.Text} + 5%.");
            if (Percent(part, sign) is { } share)
            {
                if (percent is not null)
                    throw new QuantityFormatException($"{Quote.Of(text)} has two percentages. Write one, as in 0.3 {inForm.Text} + 5%.");
                percent = share;
            }
            else
            {
                if (absolute is not null)
                    throw new QuantityFormatException($"{Quote.Of(text)} has two absolute parts. Write one, as in 0.3 {inForm.Text} + 5%.");
                absolute = Size(part, inForm, sign, state, parameter);
            }
        }
        if (absolute is < 0 || percent is < 0)
            throw new QuantityFormatException($"{Quote.Of(text)} has a part below zero. A tolerance says how wrong a reading may be, both ways; write it without a sign.");
        if ((absolute ?? 0) == 0 && (percent ?? 0) == 0)
            throw new QuantityFormatException($"{Quote.Of(text)} is a tolerance of nothing, which no reading can keep. Write how wrong a reading may be before you would act differently.");
        return new Tolerance(absolute ?? 0, percent ?? 0);
    }

    /// <summary>Writes a tolerance as <see cref="ReadTolerance"/> reads it: "0.02 mg/L PO4 + 5%", "5%".</summary>
    /// <param name="tolerance">The tolerance.</param>
    /// <param name="form">The form its absolute part is in.</param>
    /// <returns>The text, with a decimal point and full precision.</returns>
    public static string WriteTolerance(Tolerance tolerance, ReportingForm form)
    {
        ArgumentNullException.ThrowIfNull(tolerance);
        ArgumentNullException.ThrowIfNull(form);
        var absolute = string.Create(CultureInfo.InvariantCulture, $"{tolerance.Absolute:R} {form.Text}");
        var percent = string.Create(CultureInfo.InvariantCulture, $"{tolerance.Percent:R}%");
        return tolerance.Percent == 0 ? absolute : tolerance.Absolute == 0 ? percent : $"{absolute} + {percent}";
    }

    /// <summary>Reads a temperature: "25 C", "25 °C", "77 F".</summary>
    /// <param name="text">The text.</param>
    /// <param name="sign">The owner's decimal sign, or null where it is not known.</param>
    /// <returns>The temperature, °C.</returns>
    /// <exception cref="QuantityFormatException">The text is no temperature; the message says why.</exception>
    public static double ReadTemperatureCelsius(string text, DecimalSign? sign = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        var (number, unit) = Parts(text, "25 C or 77 F", known => ReportingForm.TryParse(known, out _, out _));
        var form = Form(text, unit, "25 C or 77 F");
        if (form.Kind != FormKind.Temperature)
            throw new QuantityFormatException($"{Quote.Of(text)} is in {form.Text}, but a temperature is asked for. Write one such as 25 C or 77 F.");
        return FormConversion.Convert(Number(number, sign), form, ReportingForm.Parse("degC")).Value;
    }

    /// <summary>Reads a volume: "250 mL", "500 µL", "0.5 L", "10 gal" (US gallons), "10 imp gal".</summary>
    /// <param name="text">The text.</param>
    /// <param name="sign">The owner's decimal sign, or null where it is not known.</param>
    /// <returns>The volume, mL; zero or above.</returns>
    /// <exception cref="QuantityFormatException">The text is no volume, or it is below zero; the message says why.</exception>
    public static double ReadVolumeMillilitres(string text, DecimalSign? sign = null) => Measure(text, sign, Millilitres, "a volume", "250 mL or 0.5 L");

    /// <summary>Reads a mass: "815.3 mg", "0.8153 g", "1 kg".</summary>
    /// <param name="text">The text.</param>
    /// <param name="sign">The owner's decimal sign, or null where it is not known.</param>
    /// <returns>The mass, g; zero or above.</returns>
    /// <exception cref="QuantityFormatException">The text is no mass, or it is below zero; the message says why.</exception>
    public static double ReadMassGrams(string text, DecimalSign? sign = null) => Measure(text, sign, Grams, "a mass", "0.8153 g or 815.3 mg");

    private static double Measure(string text, DecimalSign? sign, FrozenDictionary<string, double> units, string what, string example)
    {
        ArgumentNullException.ThrowIfNull(text);
        var (number, unit) = Parts(text, example, known => units.ContainsKey(known));
        if (!units.TryGetValue(Squeezed(unit), out var size))
            throw new QuantityFormatException($"{Quote.Of(text)} is in {unit}, but {what} is asked for. Write one such as {example}.");
        var value = Number(number, sign) * size;
        return value >= 0 ? value : throw new QuantityFormatException($"{Quote.Of(text)} is below zero, which {what} cannot be. Write it without a minus.");
    }

    private static string Squeezed(string unit) => unit.Replace(" ", "", StringComparison.Ordinal).Replace('µ', 'u').Replace('μ', 'u');

    /// <summary>A size in the form: a bare number, or a number with a unit or form that is scaled, never shifted.</summary>
    private static double Size(string text, ReportingForm form, DecimalSign? sign, WaterState? state, Parameter? parameter)
    {
        var reading = NumberText.Read(text, sign);
        if (reading.Ok || !text.Any(char.IsLetter))
            return Number(text, sign);
        var quantity = ReadQuantity(text, sign);
        var own = quantity.Form;
        if (own.SpeciesOfForm is null && own.UnitOfForm.TakesSpecies && form.SpeciesOfForm is { } species)
            own = own.With(species);
        try
        {
            return quantity.Value * FormConversion.Convert(1, own, form, state, parameter).Factor;
        }
        catch (FormConversionException refusal)
        {
            throw new QuantityFormatException($"{Quote.Of(text)} does not fit a value in {form.Text}: {refusal.Message}", refusal);
        }
    }

    private static double? Percent(string text, DecimalSign? sign)
    {
        var match = PercentShape().Match(text);
        return match.Success ? Number(match.Groups["number"].Value, sign) : null;
    }

    private static double Number(string text, DecimalSign? sign)
    {
        var reading = NumberText.Read(text, sign);
        if (!reading.Ok)
            throw new QuantityFormatException(reading.Error!, [.. reading.Offers.Select(offer => offer.Text)]);
        return reading.Censoring == Censoring.None
            ? reading.Value
            : throw new QuantityFormatException($"{Quote.Of(text)} is a limit, but a value is asked for. Write the number without its sign.");
    }

    private static ReportingForm Form(string text, string unit, string example)
    {
        if (ReportingForm.TryParse(unit, out var form, out var error, out var offers))
            return form;
        throw new QuantityFormatException(unit.Length == 0 ? $"{Quote.Of(text)} has no unit. Write a number and a unit, such as {example}." : error, offers);
    }

    /// <summary>Splits number from unit at the first letter that is no exponent; a letter typed for a digit stays with its number where the rest is no unit.</summary>
    private static (string Number, string Unit) Parts(string text, string example, Func<string, bool> isUnit)
    {
        var trimmed = text.Trim();
        var at = 0;
        while (at < trimmed.Length && !UnitBegins(trimmed, at))
            at++;
        var (number, unit) = (trimmed[..at].Trim(), trimmed[at..].Trim());
        if (unit.Length > 0 && !isUnit(Squeezed(unit)) && !isUnit(unit) && Lookalike().Match(trimmed) is { Success: true } lookalike)
            (number, unit) = (lookalike.Value.Trim(), trimmed[lookalike.Length..].Trim());
        if (number.Length == 0)
            throw new QuantityFormatException($"{Quote.Of(text)} has no number. Write a number and a unit, such as {example}.");
        if (unit.Length == 0)
        {
            _ = Number(number, DecimalSign.Point);
            throw new QuantityFormatException($"{Quote.Of(text)} has no unit. Write a number and a unit, such as {example}.");
        }
        return (number, unit);
    }

    private static bool UnitBegins(string text, int at)
    {
        var c = text[at];
        if (c is 'e' or 'E' && at > 0 && char.IsAsciiDigit(text[at - 1]))
        {
            var next = at + 1 < text.Length && text[at + 1] is '+' or '-' or '−' ? at + 2 : at + 1;
            if (next < text.Length && char.IsAsciiDigit(text[next]))
                return false;
        }
        return char.IsLetter(c) || c is '°' or 'º' or '˚' or 'µ' or 'μ' or '%' or '℃' or '℉' or '(';
    }

    [GeneratedRegex(@"±|\+\s*/?\s*[-−]", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex PlusMinus();

    [GeneratedRegex(@"\(?\s*k\s*=\s*(?<k>[^()\s]+)\s*\)?\s*$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Coverage();

    [GeneratedRegex(@"(?<![0-9][eE])\+", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Plus();

    [GeneratedRegex(@"^(?<number>[^%]*\d)\s*(%|percent|per cent)$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture | RegexOptions.IgnoreCase, 1000)]
    private static partial Regex PercentShape();

    [GeneratedRegex(@"^[+\-−<>]?[\doOlI|.,]*\d[\doOlI|.,]*(?=\s|$)", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Lookalike();
}
