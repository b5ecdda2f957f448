using System.Globalization;
using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Preparation;

public sealed class AgeingTests
{
    private static readonly Guid Bottle = new("0198f1a0-0000-7000-8000-000000000001");

    private static AgeingKind? Find(string parameter, double value, string form, AgeingMedium medium) => Ageing.Find(Parameter.Find(parameter)!, value, ReportingForm.Parse(form), medium);

    // each row of ageing.csv at both sides of its border; the figures are the row's
    [Theory]
    [InlineData("nitrate", 100, "mg/L NO3", AgeingMedium.PureWater, "nitrate stock, one salt")]
    [InlineData("nitrate", 99.9, "mg/L NO3", AgeingMedium.PureWater, "intermediate dilution, N or P")]
    [InlineData("nitrate", 5, "mg/L NO3", AgeingMedium.PureWater, "intermediate dilution, N or P")]
    [InlineData("nitrate", 4.9, "mg/L NO3", AgeingMedium.PureWater, "working water, nitrate")]
    [InlineData("nitrate", 50, "mg/L NO3", AgeingMedium.Water, "working water, nitrate")]
    [InlineData("nitrate", 1000, "mg/L NO3-N", AgeingMedium.PureWater, "nitrate stock, one salt")]
    [InlineData("nitrate", 22.6, "mg/L NO3-N", AgeingMedium.PureWater, "nitrate stock, one salt")]
    [InlineData("phosphate", 100, "mg/L PO4", AgeingMedium.PureWater, "phosphate stock, one salt")]
    [InlineData("phosphate", 99, "mg/L PO4", AgeingMedium.PureWater, "intermediate dilution, N or P")]
    [InlineData("phosphate", 0.1, "mg/L PO4", AgeingMedium.Water, "working water, phosphate")]
    [InlineData("phosphate", 0.099, "mg/L PO4", AgeingMedium.Water, "working water, dilute phosphate")]
    [InlineData("phosphate", 32.6, "ug/L PO4-P", AgeingMedium.Water, "working water, dilute phosphate")]
    [InlineData("phosphate", 32.7, "ug/L PO4-P", AgeingMedium.Water, "working water, phosphate")]
    [InlineData("ammonia", 100, "mg/L NH3-N", AgeingMedium.PureWater, "ammonium stock")]
    [InlineData("ammonia", 0.5, "mg/L NH3-N", AgeingMedium.Water, "working water, ammonia")]
    [InlineData("ammonia", 0.49, "mg/L NH3-N", AgeingMedium.Water, "working water, dilute ammonia")]
    [InlineData("ammonia", 0.65, "mg/L NH4", AgeingMedium.Water, "working water, ammonia")]
    [InlineData("ammonia", 0.64, "mg/L NH4", AgeingMedium.Water, "working water, dilute ammonia")]
    [InlineData("nitrite", 100, "mg/L NO2", AgeingMedium.PureWater, "nitrite stock")]
    [InlineData("nitrite", 99, "mg/L NO2", AgeingMedium.PureWater, "intermediate dilution, N or P")]
    [InlineData("nitrite", 0.1, "mg/L NO2", AgeingMedium.Water, "working water, nitrite")]
    [InlineData("silicate", 100, "mg/L SiO2", AgeingMedium.PureWater, "silicate stock")]
    [InlineData("silicate", 99, "mg/L SiO2", AgeingMedium.PureWater, "working water, silicate")]
    [InlineData("silicate", 1, "mg/L SiO2", AgeingMedium.Water, "working water, silicate")]
    [InlineData("alkalinity", 7, "dKH", AgeingMedium.Water, "alkalinity reference, NaHCO3")]
    [InlineData("alkalinity", 100, "meq/L", AgeingMedium.PureWater, "alkalinity titrant standard, Na2CO3")]
    [InlineData("alkalinity", 49, "meq/L", AgeingMedium.PureWater, "alkalinity reference, NaHCO3")]
    [InlineData("calcium", 420, "mg/L Ca", AgeingMedium.Water, "calcium, magnesium, potassium, strontium stock or reference, chloride form")]
    [InlineData("boron", 4.5, "mg/L B", AgeingMedium.Water, "boron stock")]
    [InlineData("iodine", 0.06, "mg/L I", AgeingMedium.Water, "iodide, dilute")]
    [InlineData("iron", 0.1, "mg/L Fe", AgeingMedium.Water, "iron, neutral")]
    [InlineData("iron", 1000, "mg/L Fe", AgeingMedium.Acid, "metal standard in dilute acid")]
    [InlineData("copper", 0.1, "mg/L Cu", AgeingMedium.Water, "copper, dilute")]
    [InlineData("copper", 1000, "mg/L Cu", AgeingMedium.Acid, "metal standard in dilute acid")]
    [InlineData("chlorine", 0.1, "mg/L Cl2", AgeingMedium.PureWater, "free chlorine standard")]
    public void Every_kind_of_water_has_the_rates_of_its_row(string parameter, double value, string form, AgeingMedium medium, string named)
    {
        var row = Table.Rows("standards/ageing.csv").Single(r => r[0] == named);
        var kind = Find(parameter, value, form, medium)!;
        Assert.Equal(Table.Number(row[4]), kind.LowPercentPerDay);
        Assert.Equal(Table.Number(row[5]), kind.HighPercentPerDay);
        Assert.Equal(Table.Number(row[7]), kind.LifeDays);
        Assert.Equal(row[3] == "up", kind.IsUpward);
        Assert.Equal(row[8] == "opened", kind.CountsFromOpening);
    }

    [Fact]
    public void What_nothing_is_known_of_has_no_kind()
    {
        Assert.Null(Ageing.Find(Parameter.Other("Cadmium", ReportingForm.Parse("mg/L Cd")), 1, ReportingForm.Parse("mg/L Cd"), AgeingMedium.Water));
        Assert.Null(Find("oxygen", 6, "mg/L O2", AgeingMedium.Water));
    }

    // 0.1–2 mg/L PO4: 0.5 to 3 % a day, closed bottle 0.001 to 0.01 %. Two days: losses 1 to 6 %, middle 3.5 %, half-width 2.5 %; evaporation 0.002 to 0.02 %, middle 0.011 %, half-width 0.009 %
    [Fact]
    public void A_one_sided_loss_moves_the_value_by_its_middle()
    {
        var factor = Ageing.Factor(Find("phosphate", 0.5, "mg/L PO4", AgeingMedium.Water), BottleUse.Closed, 2, Bottle, "KW-35");
        Assert.Equal((1 - 0.035) * (1 + 0.00011), factor.Value, 1e-15);
        Assert.Equal(Math.Sqrt(Math.Pow(0.025 / Math.Sqrt(3) * 1.00011, 2) + Math.Pow(0.00009 / Math.Sqrt(3) * 0.965, 2)), factor.StandardUncertainty, 1e-15);
        Assert.Equal([SourceIdentity.Of(Bottle, "losses"), SourceIdentity.Of(Bottle, "evaporation")], factor.Budget().Select(l => l.Source.Id));
        Assert.All(factor.Budget(), l => Assert.Equal(SourceShape.Rectangular, l.Source.Shape));
    }

    [Fact]
    public void One_bottle_on_two_days_has_one_loss()
    {
        var kind = Find("phosphate", 0.5, "mg/L PO4", AgeingMedium.Water);
        Estimate On(double days, Guid bottle) => Ageing.Factor(kind, BottleUse.Closed, days, bottle, "KW-35");
        // not quite 1: losses and evaporation multiply, so that their shares shift a little from day to day
        Assert.InRange(Estimate.Correlation(On(1, Bottle), On(2, Bottle)), 0.999999, 1);
        Assert.Equal(0, Estimate.Covariance(On(1, Bottle), On(1, Guid.NewGuid())));
        Assert.True(On(0, Bottle).IsExact);
        Assert.Equal(1, On(0, Bottle).Value);
    }

    // iron rusts 10 to 100 % a day: after two days 20 to 100 % are gone, never more
    [Fact]
    public void No_loss_takes_more_than_there_is()
    {
        var factor = Ageing.Factor(Find("iron", 0.1, "mg/L Fe", AgeingMedium.Water), BottleUse.Closed, 2, Bottle, "Fe");
        Assert.Equal(0.4, factor.Value, 1e-3);
        var late = Ageing.Factor(Find("iron", 0.1, "mg/L Fe", AgeingMedium.Water), BottleUse.Closed, 20, Bottle, "Fe");
        Assert.Equal(0, late.Value, 1e-12);
    }

    // ageing.csv: closed 0.001–0.01, opened daily 0.01–0.05, open beaker 1–5 % a day
    [Theory]
    [InlineData(BottleUse.Closed, 0.0055)]
    [InlineData(BottleUse.OpenedDaily, 0.03)]
    [InlineData(BottleUse.OpenBeaker, 3)]
    public void Evaporation_adds_upward_to_every_kind(BottleUse use, double percent)
    {
        Assert.Equal(1 + percent / 100, Ageing.Factor(Find("calcium", 420, "mg/L Ca", AgeingMedium.Water), use, 1, Bottle, "Ca").Value, 1e-15);
        Assert.Equal(1 + percent / 100, Ageing.Factor(null, use, 1, Bottle, "Cd").Value, 1e-15);
    }

    [Fact]
    public void A_certified_bottle_keeps_thirty_days_from_its_opening_unless_its_kind_keeps_less()
    {
        Assert.Equal(30, Ageing.LifeDays(Find("nitrate", 1000, "mg/L NO3", AgeingMedium.PureWater), isCertifiedBottle: true));
        Assert.Equal(180, Ageing.LifeDays(Find("nitrate", 1000, "mg/L NO3", AgeingMedium.PureWater), isCertifiedBottle: false));
        Assert.Equal(0.25, Ageing.LifeDays(Find("phosphate", 0.05, "mg/L PO4", AgeingMedium.Water), isCertifiedBottle: true));
        Assert.Equal(30, Ageing.LifeDays(null, isCertifiedBottle: true));
        Assert.Null(Ageing.LifeDays(null, isCertifiedBottle: false));
    }

    // nutrient-free water: its background grows by up to 1 % of itself a day, 90 days from the opening
    [Fact]
    public void A_background_grows()
    {
        Assert.Equal((true, 0, 1, 90), (Ageing.Background.IsUpward, Ageing.Background.LowPercentPerDay, Ageing.Background.HighPercentPerDay, Ageing.Background.LifeDays!.Value));
        Assert.Equal(1.05, Ageing.Factor(Ageing.Background, BottleUse.Closed, 10, Bottle, "sea").Value, 1e-3);
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    public void An_age_is_zero_or_more(double days) =>
        Assert.Contains(days.ToString(CultureInfo.InvariantCulture), Assert.Throws<ArgumentOutOfRangeException>(() => Ageing.Factor(null, BottleUse.Closed, days, Bottle, "x")).Message);
}
