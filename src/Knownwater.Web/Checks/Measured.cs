using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Checks;

/// <summary>What a form measures: parameter and reporting form chosen together, or another analyte by its formula.</summary>
internal sealed record Measured(string Parameter, string Form)
{
    /// <summary>The key under which an analyte outside the list goes.</summary>
    public const string Other = "other";

    public static IReadOnlyList<Choice> Choices { get; } =
    [
        .. Knownwater.Quantities.Parameter.All.SelectMany(p => p.Forms.OrderByDescending(f => f.Equals(p.DefaultForm)).Select(f => new Choice($"{p.Key}|{f.Text}", $"{p.Name}, in {f.Display}", p.Name))),
        new Choice(Other + "|", "Something else, by its formula", "Anything else"),
    ];

    public string Key => Parameter == Other ? Other + "|" : $"{Parameter}|{Form}";

    /// <summary>The unit beside a number; empty while it is not known.</summary>
    public string Unit => ReportingForm.TryParse(Form, out var form, out _) ? form.Display : "";

    public static Measured Of(FormState form)
    {
        var what = form["What"];
        var cut = what.IndexOf('|', StringComparison.Ordinal);
        if (cut <= 0)
            return Default;
        var key = what[..cut];
        return key == Other ? new Measured(Other, form["Form"].Trim()) : new Measured(key, what[(cut + 1)..]);
    }

    public static Measured Default => Of(Knownwater.Quantities.Parameter.Find("alkalinity") ?? Knownwater.Quantities.Parameter.All[0]);

    public static Measured Of(Parameter parameter) => new(parameter.Key, parameter.DefaultForm.Text);

    /// <summary>The default tolerance as it stands in the fields; empty where there is none in this form.</summary>
    public (string Absolute, string Percent) DefaultTolerance(BenchView bench, Matrix? matrix)
    {
        if (Knownwater.Quantities.Parameter.Find(Parameter) is not { } parameter || !ReportingForm.TryParse(Form, out var form, out _))
            return ("", "");
        if (parameter.DefaultTolerance(UsualUse.For(bench.MainUse, matrix)) is not { } tolerance)
            return ("", "");
        try
        {
            var absolute = FormConversion.Convert(tolerance.Absolute, parameter.DefaultForm, form, parameter: parameter).Value;
            return (Typed(absolute, bench.Sign), Typed(tolerance.Percent, bench.Sign));
        }
        catch (Exception fault) when (fault is FormConversionException or MissingWaterStateException)
        {
            return ("", "");            // per mass and per volume: the salinity is not known here
        }
    }

    private static string Typed(double value, DecimalSign sign) => NumberWords.Plain(value, 2, sign);
}
