using System.Globalization;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Preparation;

/// <summary>What age does to a known water.</summary>
/// <remarks>
/// Losses (walls, microbes, oxidation) go down, evaporation goes up, neither to both sides. After d days a loss lies anywhere between low·d and high·d, all equally likely: the value is moved by the middle, (low + high)·d/2, and
/// the half-width (high − low)·d/2 is a rectangular source, u = half-width/√3 (JCGM 100:2008, 4.3.7). No loss takes more than there is: both ends stop at 100 %. The two sources belong to the water, so that one
/// bottle on two days has one loss and one evaporation.
/// </remarks>
public static class Ageing
{
    private static readonly Lazy<IReadOnlyList<Row>> Rows = new(() => [.. EmbeddedTable.Read("Preparation.ageing.csv").Select(row => new Row(row))]);

    /// <summary>What nutrient-free water does: its background rises. Percent of the background.</summary>
    public static AgeingKind Background => Rows.Value.First(r => r.Medium == "background").Kind;

    /// <summary>How a water ages.</summary>
    /// <param name="parameter">What is known in it.</param>
    /// <param name="value">Its value; at least zero.</param>
    /// <param name="form">Form of the value; per litre, or one that needs no density to get there.</param>
    /// <param name="medium">What kind of water it is.</param>
    /// <returns>The kind; null where nothing is known: then its certificate or its maker decides.</returns>
    /// <remarks>A value between two rows takes the weaker, faster one; a metal that is not in acid takes its neutral row at any strength.</remarks>
    public static AgeingKind? Find(Parameter parameter, double value, ReportingForm form, AgeingMedium medium)
    {
        ArgumentNullException.ThrowIfNull(parameter);
        ArgumentNullException.ThrowIfNull(form);
        foreach (var row in Rows.Value)
        {
            if (!row.Parameters.Contains(parameter.Key, StringComparer.Ordinal) || !row.Fits(medium))
                continue;
            if (row.AtLeast == 0)
                return row.Kind;
            try
            {
                // a border written in decimals must not be missed by the last bit of a conversion
                if (FormConversion.Convert(value, form, row.Form!, parameter: parameter).Value >= row.AtLeast * (1 - 1e-12))
                    return row.Kind;
            }
            catch (Exception e) when (e is FormConversionException or MissingWaterStateException)
            {
                return null;
            }
        }
        return null;
    }

    /// <summary>How many days a bottle keeps.</summary>
    /// <param name="kind">How it ages; null where nothing is known.</param>
    /// <param name="isCertifiedBottle">Whether it is a bought bottle with a certificate: then 30 days from its opening, unless its maker says another time, and no longer than its kind keeps.</param>
    /// <returns>Days, parts of a day for hours; null where nothing is said.</returns>
    public static double? LifeDays(AgeingKind? kind, bool isCertifiedBottle)
    {
        var bottle = isCertifiedBottle ? Rows.Value.First(r => r.Medium == "certified").Kind.LifeDays : null;
        return (bottle, kind?.LifeDays) switch
        {
            ({ } a, { } b) => Math.Min(a, b),
            ({ } a, null) => a,
            (null, var b) => b,
        };
    }

    /// <summary>What the value is to be multiplied with after some days.</summary>
    /// <param name="kind">How it ages; null where only evaporation counts.</param>
    /// <param name="use">How the bottle was kept.</param>
    /// <param name="days">Days since it was made or opened; at least zero.</param>
    /// <param name="owner">Identity of the water: its losses and its evaporation are its own.</param>
    /// <param name="name">What stands on it, for the budget.</param>
    /// <returns>The factor with its two sources; exactly 1 at no age.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The age is below zero or not finite.</exception>
    public static Estimate Factor(AgeingKind? kind, BottleUse use, double days, Guid owner, string name)
    {
        if (!double.IsFinite(days) || days < 0)
            throw new ArgumentOutOfRangeException(nameof(days), days, $"The age is {days.ToString(CultureInfo.InvariantCulture)} days; it is zero or more.");
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        var air = Rows.Value.First(r => r.Medium == use switch { BottleUse.Closed => "closed", BottleUse.OpenedDaily => "opened", _ => "beaker" }).Kind;
        var change = kind is null ? Estimate.Exact(0) : Change(kind, days, owner, "losses", kind.IsUpward ? $"growth in {name} with age" : $"losses in {name} with age");
        return (1 + change) * (1 + Change(air, days, owner, "evaporation", $"evaporation from {name}"));
    }

    private static Estimate Change(AgeingKind kind, double days, Guid owner, string role, string name)
    {
        double End(double percentPerDay) => kind.IsUpward ? percentPerDay / 100 * days : Math.Min(1, percentPerDay / 100 * days);
        var (low, high) = (End(kind.LowPercentPerDay), End(kind.HighPercentPerDay));
        var middle = (kind.IsUpward ? 1 : -1) * (low + high) / 2;
        return high > low ? Estimate.From(middle, ErrorSource.Rectangular(name, (high - low) / 2, id: SourceIdentity.Of(owner, role))) : Estimate.Exact(middle);
    }

    private sealed class Row
    {
        public Row(Dictionary<string, string> row)
        {
            double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);
            Parameters = row["parameters"].Split(';');
            Medium = row["medium"];
            AtLeast = Number(row["at_least"]);
            Form = row["form"].Length > 0 ? ReportingForm.Parse(row["form"]) : null;
            Kind = new AgeingKind
            {
                Key = row["key"],
                Name = row["name"],
                IsUpward = row["direction"] == "up",
                LowPercentPerDay = Number(row["low"]),
                HighPercentPerDay = Number(row["high"]),
                LifeDays = row["expiry_days"].Length > 0 ? Number(row["expiry_days"]) : null,
                CountsFromOpening = row["counts_from"] == "opened",
                Container = row["container"],
                Mechanism = row["mechanism"],
                Source = row["source"],
            };
        }

        public string[] Parameters { get; }

        public string Medium { get; }

        public double AtLeast { get; }

        public ReportingForm? Form { get; }

        public AgeingKind Kind { get; }

        public bool Fits(AgeingMedium medium) => Medium switch
        {
            "any" => medium != AgeingMedium.Acid || Parameters is not ["iron"] and not ["copper"],
            "pure" => medium == AgeingMedium.PureWater,
            "acid" => medium == AgeingMedium.Acid,
            _ => false,
        };
    }
}
