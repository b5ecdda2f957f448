using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Records.Shelf;

/// <summary>A known value with its doubt, read from what was typed.</summary>
internal sealed record KnownValue(double Value, double Doubt, DoubtMeaning Kind)
{
    /// <summary>Standard uncertainty of the doubt.</summary>
    public double StandardUncertainty => Kind switch
    {
        DoubtMeaning.Expanded => Doubt / 2,
        DoubtMeaning.Standard => Doubt,
        _ => Doubt / Math.Sqrt(3),
    };

    /// <summary>Reads value and doubt; the doubt may be in percent of the value. Null with faults where they cannot be.</summary>
    public static KnownValue? Read(TypedFields fields, string prefix, string known, string doubt, DoubtMeaning kind, ReportingForm form)
    {
        var value = fields.NeededNumber(prefix + "Known", known, "a known value", "The known value is missing. Write what the bottle or your preparation says.", 0);
        double? u;
        if (doubt.Trim().EndsWith('%'))
        {
            var percent = fields.Number(prefix + "Doubt", doubt.Trim().TrimEnd('%'), "a doubt", 0, 100);
            u = percent / 100 * value;
        }
        else
        {
            u = fields.NeededNumber(prefix + "Doubt", doubt, "a doubt", $"The doubt is missing. Write how far the known value may be off, in {form.UnitDisplay}; 0 takes it as exact.", 0);
        }
        if (value is not { } v || u is not { } d)
            return null;
        if (d > v && v > 0)
        {
            fields.Fault(prefix + "Doubt", $"The doubt of {doubt.Trim()} is larger than the known value of {known.Trim()}. A known value is known better than that; see that both are in {form.UnitDisplay}.");
            return null;
        }
        return new KnownValue(v, d, kind);
    }

    /// <summary>The estimate with one source of its own; exact where there is no doubt.</summary>
    public Estimate ToEstimate(Guid source, string name, ReportingForm form) =>
        StandardUncertainty == 0
            ? Estimate.Exact(Value)
            : Estimate.From(Value, new ErrorSource(source, name, StandardUncertainty, form.Text, double.PositiveInfinity, Kind == DoubtMeaning.HalfWidth ? SourceShape.Rectangular : SourceShape.Normal));
}
