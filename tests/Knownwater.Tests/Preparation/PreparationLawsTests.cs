using CsCheck;
using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Preparation;

/// <summary>Laws that hold for every preparation, tried on random ones.</summary>
public class PreparationLawsTests
{
    private static readonly ReportingForm Form = ReportingForm.Parse("mg/L NO3");

    private static Glassware Pipette(Guid id, double nominal, double relative) => new() { Id = id, Name = "P", Kind = GlasswareKind.PistonPipette, Nominal = nominal, Tolerance = relative * nominal };

    private static Glassware Flask(double size, double relative) => new() { Id = Guid.NewGuid(), Name = $"F{size}", Kind = GlasswareKind.Flask, Nominal = size, Tolerance = relative * size };

    private static PreparationStep Step(double aliquot, Glassware with, double made, Glassware inside) =>
        new() { Id = Guid.NewGuid(), Aliquot = Portion.Volume(aliquot), With = with, Made = Portion.Volume(made), In = inside };

    private static PreparedWater Make(double stockU, params PreparationStep[] steps) => Preparations.Of(new PreparationPlan
    {
        Form = Form,
        Stock = new StockSolution { Name = "stock", Concentration = Estimate.From(1000, ErrorSource.Normal("certificate", 1000 * stockU)) },
        Matrix = new MatrixWater { Kind = Matrix.FreshWater },
        Steps = steps,
    });

    private static double Relative(PreparedWater water) => water.Concentration.StandardUncertainty / water.Concentration.Value;

    private static readonly Gen<(double StockU, double First, double Second, double Pipette, double Flask)> Any =
        Gen.Select(Gen.Double[1e-4, 0.02], Gen.Double[0.5, 5], Gen.Double[0.5, 5], Gen.Double[1e-4, 0.02], Gen.Double[1e-4, 0.005]);

    [Fact]
    public void No_preparation_is_known_better_than_its_stock() =>
        Any.Sample(x =>
        {
            var pipette = Pipette(Guid.NewGuid(), 5, x.Pipette);
            var water = Make(x.StockU, Step(x.First, pipette, 100, Flask(100, x.Flask)), Step(x.Second, pipette, 500, Flask(500, x.Flask)));
            return Relative(water) >= x.StockU * (1 - 1e-12);
        });

    [Fact]
    public void The_order_of_independent_steps_does_not_matter() =>
        Any.Sample(x =>
        {
            var (a, b) = (Step(x.First, Pipette(Guid.NewGuid(), 5, x.Pipette), 100, Flask(100, x.Flask)), Step(x.Second, Pipette(Guid.NewGuid(), 5, x.Pipette), 500, Flask(500, x.Flask)));
            var (one, other) = (Make(x.StockU, a, b), Make(x.StockU, b, a));
            return Close(one.Concentration.Value, other.Concentration.Value) && Close(Relative(one), Relative(other));
        });

    [Fact]
    public void One_pipette_used_twice_is_never_better_in_a_product_than_two_of_the_same_tolerance() =>
        Any.Sample(x =>
        {
            var shared = Pipette(Guid.NewGuid(), 5, x.Pipette);
            PreparedWater Twice(Glassware first, Glassware second) => Make(x.StockU, Step(x.First, first, 100, Flask(100, x.Flask)), Step(x.Second, second, 500, Flask(500, x.Flask)));
            return Relative(Twice(shared, shared)) >= Relative(Twice(shared, Pipette(Guid.NewGuid(), 5, x.Pipette))) * (1 - 1e-12);
        });

    [Fact]
    public void Scaling_all_volumes_with_their_glassware_leaves_value_and_relative_doubt_alone() =>
        Gen.Select(Any, Gen.Double[0.1, 50]).Sample((x, scale) =>
        {
            PreparedWater At(double by) => Make(x.StockU, Step(by * x.First, Pipette(Guid.NewGuid(), by * 5, x.Pipette), by * 100, Flask(by * 100, x.Flask)));
            return Close(At(1).Concentration.Value, At(scale).Concentration.Value) && Close(Relative(At(1)), Relative(At(scale)));
        });

    [Fact]
    public void The_value_after_the_last_step_is_that_of_the_water() =>
        Any.Sample(x =>
        {
            var balance = new Glassware { Id = Guid.NewGuid(), Name = "balance", Kind = GlasswareKind.Balance, Tolerance = 0.02 };
            var weighed = new PreparationStep { Id = Guid.NewGuid(), Aliquot = Portion.Mass(x.First), With = balance, Made = Portion.Mass(400), In = balance };
            var water = Make(x.StockU, Step(x.First, Pipette(Guid.NewGuid(), 5, x.Pipette), 100, Flask(100, x.Flask)), weighed);
            return Close(water.AfterSteps[^1], water.Concentration.Value);
        });

    // the adaptive run stops where two standard errors of mean, u and both ends fall below the numerical tolerance (JCGM 101, 7.9.4): x₁ + x₂ of unit normal sources, u = √2 by hand
    [Fact]
    public void An_adaptive_run_stops_by_itself_and_agrees()
    {
        var run = MonteCarlo.Adaptive(new Sum(), [Estimate.From(1, 1, "a"), Estimate.From(2, 1, "b")], seed: 3);
        Assert.InRange(run.Trials, 10 * MonteCarlo.Block, 10_000_000);
        Assert.Equal(Math.Sqrt(2), run.StandardUncertainty, 0.05);
        Assert.Equal(3, run.Mean, 0.05);
        Assert.Equal(run, MonteCarlo.Adaptive(new Sum(), [Estimate.From(1, 1, "a"), Estimate.From(2, 1, "b")], seed: 3, threads: 1));
    }

    private static bool Close(double a, double b) => Math.Abs(a - b) <= 1e-9 * Math.Abs(a);

    private readonly struct Sum : IModel
    {
        public int Inputs => 2;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => x[0] + x[1];
    }
}
