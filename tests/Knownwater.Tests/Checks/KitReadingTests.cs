using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Uncertainty;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Knownwater.Tests.Checks;

public class KitReadingTests
{
    private static readonly ColourCard Even = new([0, 5, 10, 15]);
    private static readonly ColourCard Uneven = new([1, 2, 5, 10, 25]);

    // JCGM 100:2008, F.2.2.1: a step of width δ gives u = 0.29 δ, exactly δ/√12.
    [Fact]
    public void Like_a_step_of_an_even_card_is_rectangular_over_one_step()
    {
        var reading = Even.Like(2);

        Assert.Equal(new KitReading(10, 7.5, 12.5), reading);
        Assert.Equal(5, reading.Resolution);
        Assert.Equal(5 / Math.Sqrt(12), reading.ToEstimate("card").StandardUncertainty, 1e-12);
        Assert.Equal(0.29, reading.ToEstimate("card").StandardUncertainty / 5, 0.005);
    }

    [Fact]
    public void Between_two_steps_is_the_middle_and_open_over_the_whole_step()
    {
        var reading = Uneven.Between(3);

        Assert.Equal(new KitReading(17.5, 10, 25), reading);
        Assert.Equal(15 / Math.Sqrt(12), reading.ToEstimate("card").StandardUncertainty, 1e-12);
        Assert.Equal(15, Uneven.ResolutionAt(17.5));
    }

    // JCGM 100:2008, 4.3.8 and F.2.4.5: variance about the middle is width²/12, and the uncorrected shift adds its square.
    [Theory]
    [InlineData(1, 1.5, 3.5, 3)]
    [InlineData(2, 3.5, 7.5, 5)]
    [InlineData(3, 7.5, 17.5, 15)]
    public void An_uneven_card_keeps_the_number_and_never_counts_less_than_the_mean_square_distance_from_it(int step, double low, double high, double width)
    {
        var reading = Uneven.Like(step);
        var (w, shift) = (high - low, (high + low) / 2 - reading.Value);

        Assert.Equal((low, high), (reading.Low, reading.High));
        Assert.Equal(width, reading.Resolution, 1e-12);
        Assert.Equal(width, Uneven.ResolutionAt(reading.Value), 1e-12);
        Assert.True(reading.ToEstimate("card").StandardUncertainty >= Math.Sqrt(w * w / 12 + shift * shift) - 1e-12);
    }

    [Fact]
    public void Paler_than_the_first_and_darker_than_the_last_are_limits()
    {
        Assert.Equal(new Indication(1, Censoring.Below), Uneven.PalerThanFirst().Indication);
        Assert.Equal(new Indication(25, Censoring.Above), Uneven.DarkerThanLast().Indication);
        // rectangular between zero and the limit: mean 0.5, u = 1/√12
        var below = Uneven.PalerThanFirst().ToEstimate("card");
        Assert.Equal(0.5, below.Value, 1e-12);
        Assert.Equal(1 / Math.Sqrt(12), below.StandardUncertainty, 1e-12);
        Assert.Contains("Read it as like the first step", Assert.Throws<InvalidOperationException>(() => Even.PalerThanFirst()).Message, StringComparison.Ordinal);
        Assert.Contains("Dilute", Assert.Throws<InvalidOperationException>(() => Uneven.DarkerThanLast().ToEstimate("card")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_card_that_does_not_rise_is_refused_by_its_steps()
    {
        Assert.Contains("Step 5 follows 10", Assert.Throws<ArgumentException>(() => new ColourCard([0, 10, 5])).Message, StringComparison.Ordinal);
        Assert.Contains("has 1 steps", Assert.Throws<ArgumentException>(() => new ColourCard([5])).Message, StringComparison.Ordinal);
        Assert.Contains("is -1", Assert.Throws<ArgumentException>(() => new ColourCard([-1, 5])).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_neighbours_of_a_value_are_the_steps_around_it()
    {
        Assert.Equal((2, 3), Uneven.Neighbours(7));
        Assert.Equal((2, 2), Uneven.Neighbours(5));
        Assert.Equal((null, 0), Uneven.Neighbours(0.5));
        Assert.Equal((4, null), Uneven.Neighbours(30));
    }

    // A uniform place within the last drop: the mean of n drops' worth is n − ½, the variance 1/12 of a drop squared.
    [Fact]
    public void Drops_take_half_a_drop_off_unless_the_table_does()
    {
        var (plain, table) = (new DropCount(0.5), new DropCount(0.5, tableAllowsForLastDrop: true));

        Assert.Equal(new KitReading(5.75, 5.5, 6), plain.Turned(12));
        Assert.Equal(new KitReading(6, 5.75, 6.25), table.Turned(12));
        Assert.Equal(0.5 / Math.Sqrt(12), plain.ToEstimate(12).StandardUncertainty, 1e-12);
        Assert.Equal(0.5, plain.Turned(12).Resolution, 1e-12);
        Assert.Equal(12, plain.DropsFor(5.75));
        Assert.Equal(12, table.DropsFor(6));
        Assert.Null(plain.DropsFor(6));
        Assert.Equal(new Indication(0.5, Censoring.Below), plain.TurnedBeforeFirst().Indication);
        Assert.Equal(new Indication(15, Censoring.Above), plain.NotTurned(30).Indication);
        Assert.Contains("0 drops", Assert.Throws<ArgumentOutOfRangeException>(() => plain.Turned(0)).Message, StringComparison.Ordinal);
    }

    // Two rectangular errors of half-width a in a difference are triangular on ± 2a: u = 2a/√6 (JCGM 100:2008, 4.3.9), a = v/2.
    [Fact]
    public void The_difference_of_two_counts_is_triangular_and_the_dropper_they_share_cancels_by_value()
    {
        var kit = new DropCount(0.5);
        var (dropper, syringe) = (ErrorSource.Normal("dropper", 0.03), ErrorSource.Normal("syringe", 0.02));
        var apart = kit.ToEstimate(12) - kit.ToEstimate(12);
        var shared = kit.ToEstimate(12, 0, dropper, syringe) - kit.ToEstimate(12, 0, dropper, syringe);

        Assert.Equal(0.5 / Math.Sqrt(6), apart.StandardUncertainty, 1e-12);
        Assert.Equal(0.5 / Math.Sqrt(6), shared.StandardUncertainty, 1e-12);
        // apart by five drops the gain acts on those: (5 · 0.5)² · (0.03² + 0.02²)
        var five = kit.ToEstimate(17, 0, dropper, syringe) - kit.ToEstimate(12, 0, dropper, syringe);
        Assert.Equal(Math.Sqrt(0.25 / 6 + 2.5 * 2.5 * (0.0009 + 0.0004)), five.StandardUncertainty, 1e-12);
    }

    // By hand, 20 drops of 0.4: (0.4²)/12 + 0.4²·0.05²·(20 − ⅔) + (19.5·0.4)²·(0.03² + 0.01²)
    [Fact]
    public void Last_drop_single_drops_dropper_and_syringe_add_in_squares()
    {
        var estimate = new DropCount(0.4).ToEstimate(20, 0.05, ErrorSource.Normal("dropper", 0.03), ErrorSource.Normal("syringe", 0.01), "dKH");

        Assert.Equal(7.8, estimate.Value, 1e-12);
        Assert.Equal(Math.Sqrt(0.16 / 12 + 0.16 * 0.0025 * (20 - 2.0 / 3) + 7.8 * 7.8 * (0.0009 + 0.0001)), estimate.StandardUncertainty, 1e-12);
        Assert.Equal(4, estimate.Contributions.Count);
    }

    // What was needed is drawn, then dropped: the simulation knows nothing of the formulas. 40 000 titrations; chance moves a rate by 0.2 points.
    [Fact]
    public void Counts_of_simulated_titrations_have_no_bias_and_their_intervals_hold_95_in_100()
    {
        var random = new Xoshiro256StarStar(20260903);
        var normal = new Normal(0, 1, random);
        const double drop = 0.5, single = 0.08, dropper = 0.04, syringe = 0.02;
        const int runs = 40_000;
        double bias = 0, uncorrected = 0;
        var held = 0;
        var scatter = 0.0;
        for (var run = 0; run < runs; run++)
        {
            var truth = 4 + 6 * random.NextDouble();
            var sample = 1 + syringe * normal.Sample();
            var size = drop * (1 + dropper * normal.Sample());
            double given = 0;
            var drops = 0;
            while (given < truth * sample)
            {
                given += size * (1 + single * normal.Sample());
                drops++;
            }
            var kit = new DropCount(drop);
            var estimate = kit.ToEstimate(drops, single, ErrorSource.Normal("dropper", dropper), ErrorSource.Normal("syringe", syringe));
            bias += (estimate.Value - truth) / runs;
            uncorrected += (drops * drop - truth) / runs;
            scatter += Math.Pow((estimate.Value - truth) / estimate.StandardUncertainty, 2) / runs;
            held += Math.Abs(estimate.Value - truth) <= 1.96 * estimate.StandardUncertainty ? 1 : 0;
        }
        // a dropper of random gain has 1/(1 + g), mean 1 + 0.04², worth 0.011 at 7
        Assert.Equal(0.011, bias, 0.008);
        Assert.Equal(drop / 2, uncorrected - bias, 1e-9);
        Assert.InRange(scatter, 0.95, 1.08);
        Assert.InRange(100.0 * held / runs, 94, 96);
    }

    // With the last drop alone the exact 95 % interval of a rectangular error is ± 0.475 drops (JCGM 100:2008, G.1.3 does not apply: ± 1.96 u would hold all).
    [Fact]
    public void Where_only_the_last_drop_counts_its_rectangle_holds_as_much_as_it_says()
    {
        var random = new Xoshiro256StarStar(7);
        var kit = new DropCount(1);
        var source = kit.ToEstimate(9).Contributions[0].Source;
        var reach = source.Quantile(0.975);
        var held = 0;
        for (var run = 0; run < 40_000; run++)
        {
            var truth = 5 + 10 * random.NextDouble();
            held += Math.Abs(kit.Turned((int)Math.Ceiling(truth)).Value - truth) <= reach ? 1 : 0;
        }
        Assert.Equal(0.475, reach, 1e-12);
        Assert.InRange(held / 400.0, 94.7, 95.3);
    }

    // An eye that scatters by a third of a step, on an uneven card, three looks a level: the interval of the check with its one conservative step.
    [Fact]
    public void A_check_on_an_uneven_card_holds_the_bias_at_least_94_times_in_100()
    {
        var random = new Xoshiro256StarStar(11);
        var normal = new Normal(0, 1, random);
        var held = 0;
        const int runs = 2_000;
        for (var run = 0; run < runs; run++)
        {
            var known = 2.5 + 9.5 * random.NextDouble();
            var readings = Enumerable.Range(0, 3).Select(_ => Seen(known + 0.9 * normal.Sample())).ToArray();
            var plan = new LevelPlan
            {
                Reference = Estimate.Exact(known), Form = ReportingForm.Parse("mg/L NO3"), Tolerance = new Tolerance(5, 0),
                Resolution = readings.Max(r => Uneven.ResolutionAt(r.Value)),
            };
            var bias = LevelCheck.Judge(plan, [.. readings.Select(r => r.Indication)]).Bias;
            held += bias.Low <= 0 && bias.High >= 0 ? 1 : 0;
        }
        Assert.True(held >= 0.94 * runs, $"{100.0 * held / runs} % of intervals hold the bias.");

        KitReading Seen(double value)
        {
            // every fourth look is told as “between” where it falls near the middle of a step
            if (Uneven.Neighbours(value) is ({ } below, { } above) && below != above)
            {
                var part = (value - Uneven.Steps[below]) / (Uneven.Steps[above] - Uneven.Steps[below]);
                if (part is > 0.35 and < 0.65 && random.NextDouble() < 0.25)
                    return Uneven.Between(below);
                return Uneven.Like(part < 0.5 ? below : above);
            }
            return value < Uneven.Steps[0] ? Uneven.Like(0) : Uneven.Like(Uneven.Steps.Count - 1);
        }
    }
}
