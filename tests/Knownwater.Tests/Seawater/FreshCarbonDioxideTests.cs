using Knownwater.Seawater;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Seawater;

public sealed class FreshCarbonDioxideTests
{
    // Plummer & Busenberg 1982, printed values at 25 °C, from memory: log K1 −6.352, log K2 −10.329, log KH −1.468
    [Fact]
    public void Constants_at_25_degrees()
    {
        var (pk1, pk2, pkh) = FreshCarbonDioxide.Constants(25);
        Assert.Equal(6.352, pk1, 0.0006);
        Assert.Equal(10.329, pk2, 0.0006);
        Assert.Equal(1.468, pkh, 0.0006);
    }

    // by hand at 25 °C, 4 dKH = 1.42661 meq/L, pH 7.0: I = 0.00214, γ = 10^(−0.509(0.0442 − 0.0006)) = 0.9501; [HCO3] = 1.42661e-3 to one in ten thousand; 0.9501 · 1.42661e-3 · 1e-7 / 10^−6.352 · 44009 mg/mol = 13.4
    [Fact]
    public void The_common_aquarium_case()
    {
        Assert.Equal(13.4, FreshCarbonDioxide.MilligramsPerLitre(Estimate.Exact(1.42661), Estimate.Exact(7), 25).Value, 0.05);
        // the rule of the trade, 3 · KH · 10^(7 − pH), gives 12 (common practice): of the same size
        Assert.InRange(FreshCarbonDioxide.MilligramsPerLitre(Estimate.Exact(1.42661), Estimate.Exact(7), 25).Value, 12 * 0.8, 12 * 1.2);
    }

    [Fact]
    public void A_tenth_of_pH_is_a_quarter_of_the_gas()
    {
        var gas = FreshCarbonDioxide.MilligramsPerLitre(Estimate.Exact(1.5), Estimate.From(7.2, ErrorSource.Normal("pH", 0.1)), 25);
        Assert.Equal(Math.Log(10) * 0.1, gas.StandardUncertainty / gas.Value, 0.003);
        var doubled = FreshCarbonDioxide.MilligramsPerLitre(Estimate.From(1.5, ErrorSource.Normal("alkalinity", 0.15)), Estimate.Exact(7.2), 25);
        Assert.Equal(0.1, doubled.StandardUncertainty / doubled.Value, 0.001);
    }

    [Fact]
    public void Out_of_range_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => FreshCarbonDioxide.Constants(77));
        Assert.Contains("5 to 9.5", Assert.Throws<ArgumentOutOfRangeException>(() => FreshCarbonDioxide.MilligramsPerLitre(Estimate.Exact(1), Estimate.Exact(11), 25)).Message, StringComparison.Ordinal);
        Assert.Contains("meq/L", Assert.Throws<ArgumentOutOfRangeException>(() => FreshCarbonDioxide.MilligramsPerLitre(Estimate.Exact(0), Estimate.Exact(7), 25)).Message, StringComparison.Ordinal);
    }
}
