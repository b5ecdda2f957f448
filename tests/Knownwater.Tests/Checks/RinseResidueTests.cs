using CsCheck;
using Knownwater.Checks;
using Knownwater.Quantities;

namespace Knownwater.Tests.Checks;

public sealed class RinseResidueTests
{
    private static Volume Ml(double millilitres) => Volume.FromMillilitres(millilitres);

    private static RinseResidue Of(double residual, double fill, int rinses, double? rinse = null) => new(Ml(residual), Ml(fill), Ml(rinse ?? fill), rinses);

    // By hand: −(r/(V + r))ⁿ⁺¹ of the reference value, the residue being pure water, as printed to the digits given:
    // 0.2/5.2 = 0.038462, squared 0.0014793, cubed 0.000056896; 0.3/10.3 = 0.029126, cubed 27/1092727 = 0.000024709; 0.5/5.5 = 0.090909; 0.5/4.5 = 0.111111.
    // Tolerance: half of the last digit printed.
    [Theory]
    [InlineData(0.2, 5, 0, -3.85, 0.005)]
    [InlineData(0.2, 5, 1, -0.148, 0.0005)]
    [InlineData(0.2, 5, 2, -0.006, 0.0005)]
    [InlineData(0.3, 10, 0, -2.91, 0.005)]
    [InlineData(0.3, 10, 1, -0.085, 0.0005)]
    [InlineData(0.3, 10, 2, -0.00247, 0.000005)]
    [InlineData(0.5, 5, 0, -9.09, 0.005)]
    [InlineData(0.5, 5, 1, -0.83, 0.005)]
    [InlineData(0.5, 5, 2, -0.075, 0.0005)]
    [InlineData(0.5, 4, 0, -11.1, 0.05)]
    [InlineData(0.5, 4, 1, -1.23, 0.005)]
    [InlineData(0.5, 4, 2, -0.14, 0.005)]
    public void Pure_water_left_behind_lowers_what_is_measured_after_the_fill(double residual, double fill, int rinses, double percent, double within) =>
        Assert.Equal(percent, 100 * Of(residual, fill, rinses).CarryOver(0, 1), within);

    // By hand: in the emptied chamber all is old without a rinse; then 0.2/5.2 = 1/26 = 3.85 %, then 1/676 = 0.148 %.
    [Theory]
    [InlineData(0, 1.0)]
    [InlineData(1, 1.0 / 26)]
    [InlineData(2, 1.0 / 676)]
    public void Before_the_fill_the_share_is_that_of_the_emptied_chamber(int rinses, double share) =>
        Assert.Equal(share, Of(0.2, 5, rinses).ShareBeforeFill, 1e-15);

    // By hand: former 20, reference 2 mg/L, r 0.5, V 4: 18/9 = 2; 18/81 = 0.2222; 18/729 = 0.024691 mg/L.
    [Theory]
    [InlineData(0, 2.0)]
    [InlineData(1, 18.0 / 81)]
    [InlineData(2, 18.0 / 729)]
    public void A_strong_sample_before_a_weak_one_raises_it(int rinses, double bias) =>
        Assert.Equal(bias, Of(0.5, 4, rinses).CarryOver(20, 2), 1e-13);

    // By hand: rinses of 2 mL against 0.5 left: (0.5/2.5)² · 0.5/5.5 = 0.04/11 = 0.0036364; of 10 mL: (0.5/10.5)² · 0.5/5.5 = 1/441/11 = 0.00020614.
    [Theory]
    [InlineData(2, 0.04 / 11)]
    [InlineData(10, 1.0 / 441 / 11)]
    public void A_rinse_of_another_volume_than_the_fill_counts_with_its_own(double rinse, double share) =>
        Assert.Equal(share, Of(0.5, 5, 2, rinse).ShareAfterFill, 1e-15);

    [Fact]
    public void A_chamber_that_empties_wholly_carries_nothing_over()
    {
        Assert.Equal(1, Of(0, 5, 0).ShareBeforeFill);
        Assert.Equal(0, Of(0, 5, 0).ShareAfterFill);
        Assert.Equal(0, RinseResidue.RinsesFor(Ml(0), Ml(5), Ml(5), 20, 2, 1e-9));
    }

    // By hand: 9.09 %, 0.83 %, 0.075 % after no, one, two rinses; 1/11² = 0.826446 % is met exactly by one.
    [Theory]
    [InlineData(0.1, 0)]
    [InlineData(0.09, 1)]
    [InlineData(0.00827, 1)]
    [InlineData(0.00826, 2)]
    [InlineData(0.0005, 3)]
    public void The_number_of_rinses_is_the_least_that_keeps_the_bias_within(double limit, int rinses) =>
        Assert.Equal(rinses, RinseResidue.RinsesFor(Ml(0.5), Ml(5), Ml(5), 0, 1, limit));

    // A simulation of the bench, water by water: mix, empty, mix again. It shares no formula with the closed form. Tolerance: rounding of some twenty products.
    [Fact]
    public void Mixing_and_emptying_step_by_step_leads_to_the_same_share() =>
        Gen.Select(Gen.Double[0, 3], Gen.Double[0.5, 50], Gen.Double[0.5, 50], Gen.Int[0, 8]).Sample((residual, fill, rinse, n) =>
        {
            var old = residual;
            for (var i = 0; i < n; i++)
                old = old / (residual + rinse) * residual;
            Assert.Equal(old / (residual + fill), new RinseResidue(Ml(residual), Ml(fill), Ml(rinse), n).ShareAfterFill, 1e-13);
        });

    [Fact]
    public void One_rinse_fewer_than_advised_is_always_too_few() =>
        Gen.Select(Gen.Double[0.01, 3], Gen.Double[0.5, 50], Gen.Double[0.5, 50], Gen.Double[1e-9, 0.5]).Sample((residual, fill, rinse, limit) =>
        {
            var n = RinseResidue.RinsesFor(Ml(residual), Ml(fill), Ml(rinse), 0, 1, limit);
            Assert.True(new RinseResidue(Ml(residual), Ml(fill), Ml(rinse), n).ShareAfterFill <= limit);
            Assert.True(n == 0 || new RinseResidue(Ml(residual), Ml(fill), Ml(rinse), n - 1).ShareAfterFill > limit);
        });

    [Fact]
    public void What_cannot_be_is_refused_with_its_value_and_limit()
    {
        Assert.Contains("-0.1 mL", Assert.Throws<ArgumentOutOfRangeException>(() => Of(-0.1, 5, 1)).Message, StringComparison.Ordinal);
        Assert.Contains("above 0 mL", Assert.Throws<ArgumentOutOfRangeException>(() => Of(0.1, 0, 1)).Message, StringComparison.Ordinal);
        Assert.Contains("A rinse is 0 mL", Assert.Throws<ArgumentOutOfRangeException>(() => Of(0.1, 5, 1, 0)).Message, StringComparison.Ordinal);
        Assert.Contains("-1", Assert.Throws<ArgumentOutOfRangeException>(() => Of(0.1, 5, -1)).Message, StringComparison.Ordinal);
        Assert.Contains("former", Assert.Throws<ArgumentOutOfRangeException>(() => Of(0.1, 5, 1).CarryOver(double.NaN, 1)).Message, StringComparison.Ordinal);
        Assert.Contains("The limit is 0", Assert.Throws<ArgumentOutOfRangeException>(() => RinseResidue.RinsesFor(Ml(0.1), Ml(5), Ml(5), 0, 1, 0)).Message, StringComparison.Ordinal);
        Assert.Contains("1000000 rinses", Assert.Throws<ArgumentOutOfRangeException>(() => RinseResidue.RinsesFor(Ml(1e9), Ml(5), Ml(1), 0, 1, 1e-3)).Message, StringComparison.Ordinal);
    }
}
