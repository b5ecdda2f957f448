using Knownwater.Quantities;

namespace Knownwater.Tests.Quantities;

public class ParameterTests
{
    [Fact]
    public void The_parameters_asked_for_are_listed()
    {
        foreach (var key in (string[])["nitrate", "nitrite", "ammonia", "phosphate", "silicate", "alkalinity", "calcium", "magnesium", "potassium", "iron"])
            Assert.Equal(key, Parameter.Find(key)!.Key);
        Assert.Same(Parameter.Find("nitrate"), Parameter.Find(" NITRATE "));
        Assert.Null(Parameter.Find("unheard of"));
        Assert.Null(Parameter.Find(null));
        Assert.Equal(Parameter.All.Count, Parameter.All.Select(each => each.Key).Distinct(StringComparer.OrdinalIgnoreCase).Count());
    }

    // Common practice, as listed with the parameters.
    [Theory]
    [InlineData("nitrate", MainUse.Reef, 1, 10)]
    [InlineData("nitrate", MainUse.FishOnlyMarine, 3, 10)]
    [InlineData("phosphate", MainUse.Reef, 0.03, 10)]
    [InlineData("alkalinity", MainUse.Reef, 0.3, 2)]
    [InlineData("alkalinity", MainUse.FreshWater, 0.5, 5)]
    [InlineData("calcium", MainUse.FreshWater, 5, 10)]
    [InlineData("ph", MainUse.FreshWater, 0.2, 0)]
    public void Default_tolerances_follow_the_main_use(string key, MainUse use, double absolute, double percent) =>
        Assert.Equal(new Tolerance(absolute, percent), Parameter.Find(key)!.DefaultTolerance(use));

    [Fact]
    public void Where_a_parameter_is_not_used_there_is_no_tolerance()
    {
        var strontium = Parameter.Find("strontium")!;
        Assert.Null(strontium.DefaultTolerance(MainUse.FreshWater));
        Assert.Empty(strontium.TypicalLevels(MainUse.FreshWater));
        Assert.Equal([MainUse.Reef, MainUse.FishOnlyMarine], strontium.MainUses);
    }

    [Fact]
    public void The_typical_scatter_follows_level_and_matrix()
    {
        var nitrate = Parameter.Find("nitrate")!.TypicalSd(Matrix.Seawater)!;
        Assert.Equal(0.5, nitrate.At(0));
        // √(0.5² + (0.03 · 20)²) by hand
        Assert.Equal(Math.Sqrt(0.25 + 0.36), nitrate.At(20), 1e-15);
        Assert.StartsWith("common practice", nitrate.Source, StringComparison.Ordinal);
        var calcium = Parameter.Find("calcium")!;
        Assert.Equal(11, calcium.TypicalSd(Matrix.Seawater)!.At(420));
        Assert.Equal(Math.Sqrt(4 + (1.2 * 1.2)), calcium.TypicalSd(Matrix.FreshWater)!.At(40), 1e-15);
    }

    [Fact]
    public void Every_listed_parameter_is_complete()
    {
        foreach (var each in Parameter.All)
        {
            Assert.True(each.IsListed);
            Assert.NotEmpty(each.Name);
            Assert.NotEmpty(each.Forms);
            Assert.Equal(each.Forms[0], each.DefaultForm);
            Assert.False(each.CanBeNegative);
            Assert.StartsWith("common practice", each.Source, StringComparison.Ordinal);
            Assert.NotEmpty(each.MainUses);
            foreach (var use in each.MainUses)
            {
                var tolerance = each.DefaultTolerance(use)!;
                var levels = each.TypicalLevels(use);
                Assert.Equal(3, levels.Count);
                Assert.Equal(levels.Order(), levels);
                // A default tolerance is never below twice the typical standard deviation, at any typical level.
                var matrix = use == MainUse.FreshWater ? Matrix.FreshWater : Matrix.Seawater;
                foreach (var level in levels)
                    Assert.True(tolerance.At(level) >= 2 * each.TypicalSd(matrix)!.At(level) * (1 - 1e-12), $"{each.Key} {use} at {level}");
            }
        }
    }

    [Fact]
    public void Any_analyte_may_be_named_by_its_formula()
    {
        var cadmium = Parameter.Other(" Cadmium ", ReportingForm.Parse("ug/L Cd"));
        Assert.Equal(("other:Cd", "Cadmium", false), (cadmium.Key, cadmium.Name, cadmium.IsListed));
        Assert.Null(cadmium.DefaultTolerance(MainUse.Reef));
        Assert.Null(cadmium.TypicalSd(Matrix.Seawater));
        Assert.Empty(cadmium.TypicalLevels(MainUse.Reef));
        Assert.Empty(cadmium.MainUses);
        Assert.False(cadmium.CanBeNegative);
        Assert.Equal(cadmium, Parameter.Other("Cadmium", ReportingForm.Parse("ug/L Cd")));
        Assert.StartsWith("The parameter has no name.", Assert.Throws<ArgumentException>(() => Parameter.Other(" ", cadmium.DefaultForm)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_tolerance_adds_its_parts_at_a_reference()
    {
        Assert.Equal(0.04, new Tolerance(0.03, 10).At(0.1), 1e-15);
        Assert.Equal(0.04, new Tolerance(0.03, 10).At(-0.1), 1e-15);
        Assert.Throws<ArgumentOutOfRangeException>(() => new Tolerance(-1, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Tolerance(0, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Tolerance(1, 1).At(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => new TypicalSd(-1, 0, ""));
        Assert.Throws<ArgumentOutOfRangeException>(() => new TypicalSd(0, double.PositiveInfinity, ""));
    }
}
