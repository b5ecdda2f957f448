using Knownwater.Preparation;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Preparation;

public sealed class GlasswareTests
{
    private static readonly double Root3 = Math.Sqrt(3);

    private static Glassware Piece(GlasswareKind kind, double tolerance, string name = "piece") => new() { Id = Guid.NewGuid(), Name = name, Kind = kind, Tolerance = tolerance };

    private static Estimate Use(Glassware piece, double setting) => piece.Measure(setting, Guid.NewGuid());

    // QUAM:2012, example A1: 100 mL ± 0.1 mL triangular gives 0.04 mL, with 0.02 mL of repeatability beside it; in quadrature 0.04546 by hand
    [Fact]
    public void A_flask_has_its_limits_and_its_filling()
    {
        var flask = Piece(GlasswareKind.Flask, 0.1) with { Nominal = 100, Shape = SourceShape.Triangular, Repeatability = 0.02 };
        var volume = Use(flask, 100);
        Assert.Equal(100, volume.Value);
        Assert.Equal(Math.Sqrt(0.01 / 6 + 0.0004), volume.StandardUncertainty, 1e-15);
        Assert.Equal([SourceShape.Triangular, SourceShape.Normal], volume.Budget().Select(line => line.Source.Shape));
    }

    [Fact]
    public void Two_uses_share_the_limits_and_not_the_repeatability()
    {
        var pipette = Piece(GlasswareKind.BulbPipette, 0.05) with { Nominal = 50, Repeatability = 0.02 };
        Assert.Equal(0.05 * 0.05 / 3, Estimate.Covariance(Use(pipette, 50), Use(pipette, 50)), 1e-15);
        Assert.Equal(0, Estimate.Covariance(Use(pipette, 50), Use(pipette with { Id = Guid.NewGuid() }, 50)));
        var occasion = Guid.NewGuid();
        Assert.Equal(0, (pipette.Measure(50, occasion) - pipette.Measure(50, occasion)).StandardUncertainty);
    }

    // ISO 8655-2 gives one limit for the whole range; by hand for 2.5 mL of 5 mL: gain 0.5·a, offset √0.75·a, so that r(2.5, 5) = 0.5 and r(2.5, 4) = 0.5·0.8 + √0.75·0.6
    [Fact]
    public void Two_settings_of_a_piston_pipette_are_correlated_as_far_as_they_share_gain_and_offset()
    {
        var pipette = Piece(GlasswareKind.PistonPipette, 0.04) with { Nominal = 5 };
        foreach (var setting in new[] { 0.5, 2.5, 4, 5 })
            Assert.Equal(0.04 / Root3, Use(pipette, setting).StandardUncertainty, 1e-15);
        Assert.Equal(0.5, Estimate.Correlation(Use(pipette, 2.5), Use(pipette, 5)), 1e-14);
        Assert.Equal(0.4 + Math.Sqrt(0.75) * 0.6, Estimate.Correlation(Use(pipette, 2.5), Use(pipette, 4)), 1e-14);
        Assert.Equal(1, Estimate.Correlation(Use(pipette, 2.5), Use(pipette, 2.5)), 1e-14);
    }

    [Fact]
    public void A_piston_pipette_of_unknown_size_has_one_offset()
    {
        var pipette = Piece(GlasswareKind.PistonPipette, 0.04);
        Assert.Equal(1, Estimate.Correlation(Use(pipette, 2.5), Use(pipette, 5)), 1e-14);
        Assert.Equal(0.04 / Root3, Use(pipette, 2.5).StandardUncertainty, 1e-15);
    }

    [Fact]
    public void A_relative_tolerance_is_a_gain()
    {
        var pipette = Piece(GlasswareKind.PistonPipette, 0.008) with { ToleranceIsRelative = true, Nominal = 5 };
        Assert.Equal(0.008 * 2.5 / Root3, Use(pipette, 2.5).StandardUncertainty, 1e-15);
        Assert.Equal(0, (Use(pipette, 5) / Use(pipette, 2.5)).StandardUncertainty, 1e-17);
    }

    [Fact]
    public void A_proof_replaces_the_limits_near_its_setting_and_nowhere_else()
    {
        var proof = new GlasswareProof { Id = Guid.NewGuid(), Setting = 1, Bias = -0.0034, BiasU = 0.0008, BiasDof = 12, Sd = 0.002, SdDof = 9 };
        var pipette = Piece(GlasswareKind.PistonPipette, 0.008) with { Nominal = 1, Repeatability = 0.003, Proofs = [proof] };
        var first = Use(pipette, 1);
        Assert.Equal(0.9966, first.Value, 1e-15);
        Assert.Equal(Math.Sqrt(0.0008 * 0.0008 + 0.002 * 0.002), first.StandardUncertainty, 1e-15);
        Assert.Equal(0.0008 * 0.0008, Estimate.Covariance(first, Use(pipette, 0.9)), 1e-18);
        // one sd for all deliveries: the noise of a sum of two still has 9 degrees of freedom
        var pair = Use(pipette with { Proofs = [proof with { BiasU = 0 }] }, 1) + Use(pipette with { Proofs = [proof with { BiasU = 0 }] }, 1);
        Assert.Equal(9, pair.EffectiveDof, 1e-12);
        Assert.Equal(Math.Sqrt(0.008 * 0.008 / 3 + 0.003 * 0.003), Use(pipette, 0.89).StandardUncertainty, 1e-15);
        Assert.Equal(0.89, Use(pipette, 0.89).Value);
        // of two proofs of one setting the later one counts, and is another source
        var again = proof with { Id = Guid.NewGuid(), Bias = 0.001 };
        var renewed = Use(pipette with { Proofs = [proof, again] }, 1);
        Assert.Equal(1.001, renewed.Value, 1e-15);
        Assert.Equal(0, Estimate.Covariance(first, renewed));
    }

    // two readings, each d/√12 (JCGM 100:2008, F.2.2.1): together d/√6
    [Fact]
    public void A_weighing_is_two_readings_of_one_balance()
    {
        var balance = Piece(GlasswareKind.Balance, 0.002) with { Readability = 0.001, Repeatability = 0.0005 };
        var mass = Use(balance, 0.0749);
        Assert.Equal(Math.Sqrt(0.002 * 0.002 / 3 + 0.001 * 0.001 / 6 + 0.0005 * 0.0005), mass.StandardUncertainty, 1e-15);
        Assert.Equal(4, mass.Contributions.Count);
        Assert.Equal(0.002 * 0.002 / 3, Estimate.Covariance(mass, Use(balance, 20)), 1e-15);
        Assert.All(mass.Contributions, c => Assert.Equal("g", c.Source.Unit));
    }

    [Theory]
    [InlineData(GlasswareKind.Flask, 50, "100 mL", "50 mL")]
    [InlineData(GlasswareKind.BulbPipette, 99, "100 mL", "99 mL")]
    [InlineData(GlasswareKind.PistonPipette, 101, "100 mL", "101 mL")]
    [InlineData(GlasswareKind.PistonPipette, 9, "10 mL", "9 mL")]
    [InlineData(GlasswareKind.Balance, 101, "100 g", "101 g")]
    [InlineData(GlasswareKind.Cylinder, 0, "above zero", "0 mL")]
    [InlineData(GlasswareKind.Cylinder, -1, "above zero", "-1 mL")]
    [InlineData(GlasswareKind.Cylinder, double.NaN, "above zero", "NaN mL")]
    public void What_a_piece_cannot_do_is_refused_with_value_and_limit(GlasswareKind kind, double setting, string limit, string value)
    {
        var said = Assert.Throws<PreparationException>(() => Use(Piece(kind, 0.1, "P5") with { Nominal = 100, Least = 10 }, setting)).Message;
        Assert.Contains("P5", said);
        Assert.Contains(limit, said);
        Assert.Contains(value, said);
        Assert.EndsWith(".", said);
    }

    [Fact]
    public void Figures_outside_their_limits_are_refused()
    {
        Assert.ThrowsAny<ArgumentException>(() => Use(Piece(GlasswareKind.Flask, -0.1), 10));
        Assert.ThrowsAny<ArgumentException>(() => Use(Piece(GlasswareKind.Flask, 0.1) with { Repeatability = double.NaN }, 10));
        Assert.ThrowsAny<ArgumentException>(() => Use(Piece(GlasswareKind.Flask, 0.1) with { Shape = SourceShape.ArcSine }, 10));
        Assert.ThrowsAny<ArgumentException>(() => Use(Piece(GlasswareKind.Flask, 0.1) with { Id = Guid.Empty }, 10));
        Assert.ThrowsAny<ArgumentException>(() => Piece(GlasswareKind.Flask, 0.1).Measure(10, Guid.Empty));
        Assert.ThrowsAny<ArgumentException>(() => Use(Piece(GlasswareKind.Flask, 0.1) with { Nominal = 0 }, 10));
    }

    [Fact]
    public void A_piece_without_limits_is_exact() => Assert.True(Use(Piece(GlasswareKind.Syringe, 0), 10).IsExact);
}
