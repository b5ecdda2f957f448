using Knownwater.Preparation;

namespace Knownwater.Tests.Preparation;

public sealed class GlasswareCatalogueTests
{
    // ISO 1042, ISO 648, ISO 8655-2:2002, ISO 4788, ISO 385, OIML R 111-1 as printed in public tables
    [Theory]
    [InlineData(GlasswareKind.Flask, "ISO 1042", "A", 1000, 0.4)]
    [InlineData(GlasswareKind.Flask, "ISO 1042", "B", 100, 0.2)]
    [InlineData(GlasswareKind.Flask, "ASTM E288", "A", 500, 0.2)]
    [InlineData(GlasswareKind.BulbPipette, "ISO 648:2008", "A, AS", 10, 0.02)]
    [InlineData(GlasswareKind.GraduatedPipette, "ISO 835", "B", 5, 0.05)]
    [InlineData(GlasswareKind.PistonPipette, "ISO 8655-2:2002", "type A", 5, 0.04)]
    [InlineData(GlasswareKind.Cylinder, "ISO 4788:2005", "B", 100, 1)]
    [InlineData(GlasswareKind.Burette, "ISO 385:2005", "A, AS", 50, 0.05)]
    public void A_class_and_a_size_have_their_limit(GlasswareKind kind, string standard, string @class, double size, double limit)
    {
        var entry = Assert.Single(GlasswareCatalogue.Of(kind), e => e.Standard == standard && e.Class == @class && e.Nominal == size);
        Assert.Equal(limit, entry.Tolerance, 1e-12);
        Assert.Same(entry, GlasswareCatalogue.Find(entry.Key));
    }

    [Fact]
    public void A_piston_pipette_has_a_random_limit_and_begins_at_a_tenth()
    {
        var entry = GlasswareCatalogue.Find("PistonPipette, ISO 8655-2:2002, type A, 1 mL")!;
        Assert.Equal((0.008, 0.003, 0.1), (entry.Tolerance, entry.Repeatability, entry.Least!.Value));
    }

    [Fact]
    public void A_syringe_follows_its_rule()
    {
        foreach (var row in CheckData.Rows("proving/syringes.csv"))
            Assert.Equal(row["limit"], GlasswareCatalogue.SyringeLimit(row["nominal"], row["delivered"]), 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => GlasswareCatalogue.SyringeLimit(5, 6));
        // from half its volume up it is a part of what is delivered
        var entry = GlasswareCatalogue.Find("Syringe, ISO 7886-1, hypodermic, 5 mL")!;
        Assert.Equal((0.04, true, 2.5), (entry.Tolerance, entry.ToleranceIsRelative, entry.Least!.Value));
    }

    [Fact]
    public void A_balance_has_its_working_limit_and_a_check_weight_its_class()
    {
        var balance = Assert.Single(GlasswareCatalogue.Of(GlasswareKind.Balance), e => e.Readability == 0.1);
        Assert.Equal(0.2, balance.Tolerance, 1e-12);
        Assert.Equal("common practice", balance.Status);
        Assert.Equal(0.002, GlasswareCatalogue.CheckWeights.Single(w => w is { Class: "M1", Grams: 10 }).Limit, 1e-12);
        Assert.Equal(0.0005, GlasswareCatalogue.CheckWeights.Single(w => w is { Class: "F1", Grams: 100 }).Limit, 1e-12);
    }

    [Fact]
    public void Every_entry_makes_a_piece_that_measures_and_is_named_once()
    {
        Assert.Equal(GlasswareCatalogue.All.Count, GlasswareCatalogue.All.Select(e => e.Key).Distinct().Count());
        Assert.All(Enum.GetValues<GlasswareKind>(), kind => Assert.NotEmpty(GlasswareCatalogue.Of(kind)));
        foreach (var entry in GlasswareCatalogue.All)
        {
            Assert.Contains(entry.Status, new[] { "confirmed", "from memory", "common practice" });
            var piece = new Glassware { Id = Guid.NewGuid(), Name = "x", Kind = entry.Kind, Nominal = entry.Nominal, Least = entry.Least, Tolerance = entry.Tolerance, ToleranceIsRelative = entry.ToleranceIsRelative, Repeatability = entry.Repeatability, Readability = entry.Readability };
            Assert.True(piece.Measure(entry.Nominal ?? 1, Guid.NewGuid()).StandardUncertainty > 0);
        }
    }
}
