using Knownwater.Quantities;

namespace Knownwater.Records;

/// <summary>What is measured and how its number is written: a listed parameter or another analyte, in one reporting form.</summary>
internal sealed record Measured(string Key, string OtherName, Parameter Parameter, ReportingForm Form)
{
    /// <summary>Key that stands for an analyte that is not listed.</summary>
    public const string Other = "other";

    public string Name => Parameter.Name;

    /// <summary>“Alkalinity, in dKH”.</summary>
    public string NameWithForm => $"{Name}, in {Form.Display}";

    public static Measured Of(string key, string otherName, string form)
    {
        var parsed = ReportingForm.Parse(form);
        return new Measured(key, otherName, key == Other ? Parameter.Other(otherName, parsed) : Parameter.Find(key) ?? Parameter.Other(key, parsed), parsed);
    }

    /// <summary>Reads it from the fields <c>Parameter</c>, <c>OtherName</c> and <c>Form</c> of a form; null with a fault where it cannot be.</summary>
    public static Measured? Read(TypedFields fields, string key, string otherName, string formText, string? formIfEmpty = null)
    {
        key = key.Trim();
        var text = formText.Trim().Length > 0 ? formText.Trim() : formIfEmpty ?? "";
        if (string.Equals(key, Other, StringComparison.OrdinalIgnoreCase))
        {
            var name = fields.Needed("OtherName", otherName, "The analyte has no name yet. Write what it is, as in Cadmium.", 60);
            if (text.Length == 0)
            {
                fields.Fault("Form", "The unit is missing. Write it with the species, as in mg/L Cd.");
                return null;
            }
            return Parsed(fields, text) is { } own && name.Length > 0 ? new Measured(Other, name, Parameter.Other(name, own), own) : null;
        }
        if (Parameter.Find(key) is not { } parameter)
        {
            fields.Fault("Parameter", key.Length == 0
                ? "Nothing is chosen yet. Choose what you measure."
                : $"“{key}” is not in the list. Choose one of it, or choose another analyte and name it.");
            return null;
        }
        if (text.Length == 0)
            return new Measured(parameter.Key, "", parameter, parameter.DefaultForm);
        if (Parsed(fields, text) is not { } form)
            return null;
        if (!parameter.Forms.Contains(form))
        {
            fields.Fault("Form", $"{form.Display} is no way to write {Words.Small(parameter.Name)} here. It may be {string.Join("; ", parameter.Forms.Select(f => f.Display))}.",
                parameter.Forms.Select(f => new Offer($"Use {f.Display}", f.Text)).ToArray());
            return null;
        }
        return new Measured(parameter.Key, "", parameter, form);
    }

    /// <summary>The factor that turns a value in another form into this one; null where it hangs on the water's density or there is none.</summary>
    public double? FactorFrom(ReportingForm form)
    {
        if (form.Equals(Form))
            return 1;
        try
        {
            return FormConversion.Convert(1, form, Form, parameter: Key == Other ? null : Parameter).Factor;
        }
        catch (Exception fault) when (fault is MissingWaterStateException or FormConversionException)
        {
            return null;
        }
    }

    public bool IsSameAs(string key, string otherName) =>
        Key == key && (Key != Other || string.Equals(OtherName, otherName, StringComparison.OrdinalIgnoreCase));

    private static ReportingForm? Parsed(TypedFields fields, string text)
    {
        if (ReportingForm.TryParse(text, out var form, out var error))
            return form;
        fields.Fault("Form", error ?? $"“{text}” is not a unit of water. Write one as in mg/L NO3.");
        return null;
    }
}
