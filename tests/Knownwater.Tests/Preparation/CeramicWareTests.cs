using Knownwater.Uncertainty;

namespace Knownwater.Tests.Preparation;

/// <summary>Eurachem/CITAC CG 4 (QUAM), example A5, second edition: cadmium released from ceramic ware, r = c₀·V_L/a_V·d·f_acid·f_time·f_temp.</summary>
public class CeramicWareTests
{
    private readonly struct Release : IModel
    {
        public int Inputs => 7;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => x[0] * x[1] / x[2] * x[3] * x[4] * x[5] * x[6];
    }

    // published: 0.036 mg/dm², u 0.0033 mg/dm², 0.09 relative. The calibration of the same example gives c₀ = 0.26017 ± 0.01784 mg/L, printed 0.26 ± 0.018; from the unrounded figures
    // √((0.0178446/0.260166)² + (0.0018/0.332)² + (0.06/2.37)² + 0.0008² + 0.001² + 0.06²) = 0.0947 by hand. The product of the printed 0.09 and 0.036 is the printed 0.0033.
    [Fact]
    public void Budget_of_example_A5()
    {
        Estimate[] inputs =
        [
            Estimate.From(0.260166, 0.0178446, "c0", "mg/L"), Estimate.From(0.332, 0.0018, "V_L", "L"), Estimate.From(2.37, 0.06, "a_V", "dm2"), Estimate.Exact(1),
            Estimate.From(1, 0.0008, "f_acid"), Estimate.From(1, 0.001, "f_time"), Estimate.From(1, 0.06, "f_temp"),
        ];
        var release = Estimate.Of(new Release(), inputs);
        Assert.Equal(0.036, release.Value, 0.0005);
        Assert.Equal(0.09, release.StandardUncertainty / release.Value, 0.005);
        var relative = Math.Sqrt(Math.Pow(0.0178446 / 0.260166, 2) + Math.Pow(0.0018 / 0.332, 2) + Math.Pow(0.06 / 2.37, 2) + 0.0008 * 0.0008 + 0.001 * 0.001 + 0.06 * 0.06);
        Assert.Equal(relative * 0.260166 * 0.332 / 2.37, release.StandardUncertainty, 1e-15);
        // the budget: the calibration leads, then the temperature, then the area
        var budget = release.Budget().OrderByDescending(b => b.Share).Select(b => b.Name).ToList();
        Assert.Equal(["c0", "f_temp", "a_V"], budget.Take(3));
        Assert.Equal(1, release.Budget().Sum(b => b.Share), 1e-12);
        // Monte Carlo of the same model agrees with the law of propagation within its sampling error (10⁶ trials: five times 0.1 % of u, and 0.2 % for the curvature of 1/a_V)
        var simulated = MonteCarlo.Of(new Release(), inputs, seed: 5);
        Assert.Equal(release.StandardUncertainty, simulated.StandardUncertainty, 0.007 * release.StandardUncertainty);
    }
}
