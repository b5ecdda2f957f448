using CsCheck;
using Knownwater.Checks;
using Knownwater.Quantities;

namespace Knownwater.Tests.Checks;

public sealed class SampleVolumeTests
{
    private static Volume Ml(double millilitres) => Volume.FromMillilitres(millilitres);

    // By hand, Vr/(Vs + Vr) for 1 % of volume: 0.5/10.5 = 0.0476 %, 1/6 = 0.1667 %, 5/10 = 0.5 %, 3/4 = 0.75 %. Tolerance: half of the last digit printed.
    [Theory]
    [InlineData(10, 0.5, 0.05, 0.005)]
    [InlineData(5, 1, 0.17, 0.005)]
    [InlineData(5, 5, 0.5, 1e-12)]
    [InlineData(1, 3, 0.75, 1e-12)]
    public void One_per_cent_of_volume_moves_a_colour_by_the_share_of_reagent(double sample, double reagent, double percent, double within) =>
        Assert.Equal(percent, SampleVolume.PhotometricSensitivity(Ml(sample), Ml(reagent)), within);

    // By hand: 4 mL for 5 mL with 1 mL of reagent: (4/5)/(5/6) − 1 = 0.96 − 1 = −4 %; 6 mL: (6/7)/(5/6) − 1 = 36/35 − 1 = 1/35.
    [Theory]
    [InlineData(4, 5, 1, -0.04)]
    [InlineData(6, 5, 1, 1.0 / 35)]
    [InlineData(5, 5, 1, 0)]
    [InlineData(0, 5, 1, -1)]
    [InlineData(4, 5, 0, 0)]
    public void A_wrong_volume_is_reckoned_in_full(double taken, double sample, double reagent, double bias) =>
        Assert.Equal(bias, SampleVolume.PhotometricBias(Ml(taken), Ml(sample), Ml(reagent)), 1e-15);

    // By hand: 4.95 mL for 5 mL is one per cent short, and a titration reads one per cent low.
    [Theory]
    [InlineData(4.95, 5, -0.01)]
    [InlineData(5, 5, 0)]
    [InlineData(10, 5, 1)]
    [InlineData(0, 5, -1)]
    public void A_titration_takes_the_error_in_full(double taken, double sample, double bias) =>
        Assert.Equal(bias, SampleVolume.TitrationBias(Ml(taken), Ml(sample)), 1e-15);

    // The sensitivity is the slope of the exact form: a central difference of 1e-6 agrees to its own order, 1e-9 with rounding.
    [Fact]
    public void The_sensitivity_is_the_slope_of_the_bias() =>
        Gen.Select(Gen.Double[0.1, 50], Gen.Double[0, 50]).Sample((sample, reagent) =>
        {
            const double H = 1e-6;
            var slope = (SampleVolume.PhotometricBias(Ml(sample * (1 + H)), Ml(sample), Ml(reagent)) - SampleVolume.PhotometricBias(Ml(sample * (1 - H)), Ml(sample), Ml(reagent))) / (2 * H);
            Assert.Equal(slope, SampleVolume.PhotometricSensitivity(Ml(sample), Ml(reagent)), 1e-8);
        });

    [Fact]
    public void What_cannot_be_is_refused_with_its_value_and_limit()
    {
        Assert.Contains("The sample volume is 0 mL, but it must be above 0 mL", Assert.Throws<ArgumentOutOfRangeException>(() => SampleVolume.PhotometricSensitivity(Ml(0), Ml(1))).Message, StringComparison.Ordinal);
        Assert.Contains("The reagent volume is -1 mL", Assert.Throws<ArgumentOutOfRangeException>(() => SampleVolume.PhotometricBias(Ml(5), Ml(5), Ml(-1))).Message, StringComparison.Ordinal);
        Assert.Contains("The volume taken is -2 mL", Assert.Throws<ArgumentOutOfRangeException>(() => SampleVolume.TitrationBias(Ml(-2), Ml(5))).Message, StringComparison.Ordinal);
    }
}
