using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Preparation;

public sealed class GravimetricProofTests
{
    private static Glassware Balance(double step, double? limit = null) => new() { Id = Guid.NewGuid(), Name = "B", Kind = GlasswareKind.Balance, Tolerance = limit ?? 2 * step, Readability = step };

    private static GravimetricTrial Trial(Glassware balance, double setting = 1, double limit = 0.008, params double[] grams) =>
        new() { Setting = setting, WeighingsGrams = grams, Balance = balance, TemperatureCelsius = 22, Limit = limit };

    // tests/data/proving/SOURCE.md: Tanaka 2001, OIML R 111-1, made by a command that stands there
    [Fact]
    public void Z_follows_water_and_air_at_every_temperature()
    {
        var rows = CheckData.Rows("proving/z_factors.csv");
        Assert.Equal(16, rows.Count);
        foreach (var row in rows)
        {
            Assert.Equal(row["rho_air"], AirBuoyancy.AirDensityKilogramsPerCubicMetre(row["celsius"]), 0.5e-4);
            Assert.Equal(row["z"], AirBuoyancy.MillilitresPerGram(row["celsius"]), 0.5e-5);
        }
        // at 850 hPa and 20 °C 1.00268 instead of 1.00285; humidity changes nothing in the fifth digit
        Assert.Equal(1.00268, AirBuoyancy.MillilitresPerGram(20, 850), 0.5e-5);
        Assert.Equal(1.00285, AirBuoyancy.MillilitresPerGram(20, humidityPercent: 20), 0.5e-5);
        Assert.Equal(1.00285, AirBuoyancy.MillilitresPerGram(20, humidityPercent: 80), 0.5e-5);
        // borosilicate at 25 °C: 0.005 % less at 20 °C
        Assert.Equal(99.995, AirBuoyancy.At20Celsius(100, 25, AirBuoyancy.BorosilicatePerCelsius), 1e-12);
    }

    [Theory]
    [InlineData(-1, 1013, 50, "0 to 40")]
    [InlineData(41, 1013, 50, "0 to 40")]
    [InlineData(20, 29.9, 50, "500 to 1100")]
    [InlineData(20, 1013, 101, "0 to 100")]
    public void Air_outside_the_range_is_refused_by_its_range(double t, double p, double h, string range) =>
        Assert.Contains(range, Assert.Throws<ArgumentOutOfRangeException>(() => AirBuoyancy.MillilitresPerGram(t, p, h)).Message, StringComparison.Ordinal);

    // worked by hand: mean of the ten 0.9933 g · 1.00328 = 0.99656 mL; sd 0.00177 mL; √(0.00056² + 0.00116² + 0.00013²) = 0.0013 mL
    [Fact]
    public void The_worked_pipette_delivers_a_third_of_a_percent_less()
    {
        var trial = Trial(Balance(0.001), 1, 0.008, 0.992, 0.995, 0.991, 0.994, 0.996, 0.992, 0.994, 0.993, 0.995, 0.991);
        var proof = GravimetricProof.Of(trial);
        Assert.Equal(0.9966, proof.Mean, 0.5e-4);
        Assert.Equal(-0.0034, proof.Bias, 0.5e-4);
        Assert.Equal(0.0018, proof.Sd, 0.5e-4);
        Assert.Equal(9, proof.SdDof);
        Assert.Equal(0.0013, proof.BiasU, 0.5e-4);
        Assert.Equal(ProofPower.Proves, proof.Power);
        // Welch–Satterthwaite, u⁴/((s/√n)⁴/9), from the same weighings by a few lines of python3
        Assert.Equal(255.3048, proof.BiasDof, 0.01);
        // chi-square, 9 degrees of freedom: factors 0.6878 and 1.8256 (any table of the chi-square distribution: 2.7004, 19.0228)
        Assert.Equal(proof.Sd * Math.Sqrt(9 / 19.0228), proof.SdInterval!.Value.Low, 1e-7);
        Assert.Equal(proof.Sd * Math.Sqrt(9 / 2.7004), proof.SdInterval!.Value.High, 1e-6);
        Assert.Equal(0.0033, 3 * proof.Reach!.Balance, 0.0003);

        // it replaces the limits of the piece: 1 mL set is 0.9966 mL
        var id = Guid.NewGuid();
        var pipette = new Glassware { Id = Guid.NewGuid(), Name = "P1", Kind = GlasswareKind.PistonPipette, Nominal = 1, Tolerance = 0.008, Repeatability = 0.003, Proofs = [proof.ToProof(id)] };
        var volume = pipette.Measure(1, Guid.NewGuid());
        Assert.Equal(proof.Mean, volume.Value, 1e-15);
        Assert.Equal(Math.Sqrt(proof.BiasU * proof.BiasU + proof.Sd * proof.Sd), volume.StandardUncertainty, 1e-15);
        Assert.Contains(volume.Contributions, c => c.Source.Id == SourceIdentity.Of(id, "bias"));
    }

    [Fact]
    public void What_a_balance_can_prove_is_as_in_the_table()
    {
        foreach (var row in CheckData.Rows("proving/balances.csv"))
        {
            var (step, volume) = (row["step"], row["volume"]);
            // the table leaves out temperature, pressure and Z − 1
            var trial = Trial(Balance(step), volume, row["iso_percent"] / 100 * volume) with { TemperatureLimit = 0, PressureLimit = 0 };
            var ten = BalanceReach.Of(trial, 10);
            var sum = BalanceReach.Of(trial with { DeliveriesEach = 10 }, 1);
            double Percent(double u) => 100 * u / volume;
            // half of the second digit as printed, and Z − 1
            void Same(string column, double percent) => Assert.True(Math.Abs(percent - row[column]) <= HalfDigit(row[column]) + 0.004 * percent, $"{step} g, {volume} mL, {column}: {percent}");
            Same("one_rounding", Percent(BalanceReach.Of(trial, 1).Rounding));
            Same("ten_rounding", Percent(ten.Rounding));
            Same("ten_limit", Percent(ten.StandardUncertainty));
            Same("sum_limit", Percent(sum.StandardUncertainty));
            Assert.Equal(row.Text("ten_verdict"), Word(ten.Power));
            Assert.Equal(row.Text("sum_verdict"), Word(sum.Power));
        }
    }

    [Fact]
    public void What_a_balance_can_prove_of_a_flask_is_as_in_the_table()
    {
        foreach (var row in CheckData.Rows("proving/flasks.csv"))
        {
            var trial = Trial(Balance(row["step"]), row["volume"], row["limit"]) with { TemperatureCelsius = 20, TemperatureLimit = 0.5, PressureLimit = 0 };
            var reach = BalanceReach.Of(trial, 1);
            // half of the second digit as printed; the table takes 2.1·10⁻⁴ /°C where water at 20 °C has 2.05·10⁻⁴, and leaves out the glass
            var expanded = 2 * reach.StandardUncertainty;
            Assert.True(Math.Abs(expanded - row["expanded"]) <= HalfDigit(row["expanded"]) + 0.025 * expanded, $"{row["volume"]} mL: {expanded}");
            Assert.Equal(row.Text("verdict"), Word(reach.Power));
        }
    }

    private static double HalfDigit(double printed) => 0.5 * Math.Pow(10, Math.Floor(Math.Log10(printed)) - 1) * (1 + 1e-9);

    private static string Word(ProofPower power) => power switch { ProofPower.Proves => "proves it", ProofPower.GrossFaultsOnly => "gross faults only", _ => "no" };

    [Fact]
    public void A_balance_too_coarse_is_refused_with_what_would_do()
    {
        var trial = Trial(Balance(0.01), 1, 0.008, 0.99, 1.00, 0.99, 1.00, 0.99);
        var proof = GravimetricProof.Of(trial);
        Assert.Equal(ProofPower.TooCoarse, proof.Power);
        var refusal = Assert.Throws<PreparationException>(() => proof.ToProof(Guid.NewGuid())).Message;
        Assert.Contains("too coarse", refusal, StringComparison.Ordinal);
        Assert.Contains("10 deliveries as one sum", refusal, StringComparison.Ordinal);
        Assert.Contains("0.001\u00A0g", refusal, StringComparison.Ordinal);
        Assert.Equal(10, proof.Reach!.SumThatProves);
        Assert.Equal(0.001, proof.Reach.StepThatProves);
        // rounding alone, 0.00409 mL twice, is above a third of 0.008: no check weight helps here
        Assert.False(proof.Reach.CheckWeightProves);
        // a flask of 10 mL ± 0.025 mL: the limit 0.02 g leaves 0.0123 mL; five readings of a weight leave 0.0018 mL, with the rounding 0.0041 mL: 2u is 0.0089, above a third; of ± 0.06 mL not
        Assert.False(BalanceReach.Of(Trial(Balance(0.01), 10, 0.025), 1).CheckWeightProves);
        Assert.True(BalanceReach.Of(Trial(Balance(0.01), 10, 0.06), 1).CheckWeightProves);
        Assert.Contains("0,001", proof.Refusal(DecimalSign.Comma), StringComparison.Ordinal);
        // the sum of ten proves it, and says nothing of the scatter
        var sum = GravimetricProof.Of(trial with { WeighingsGrams = [9.93], DeliveriesEach = 10, AssumedSd = 0.003 });
        Assert.Equal(ProofPower.Proves, sum.Power);
        Assert.Equal(9.93 * 1.00328 / 10 - 1, sum.Bias, 1e-5);
        Assert.Equal(0.003, sum.Sd);
        Assert.Null(sum.SdInterval);
        // 0.0012 mL of the balance, and 0.003/√10 of the deliveries
        Assert.Equal(Math.Sqrt(0.00123 * 0.00123 + 0.003 * 0.003 / 10), sum.BiasU, 1e-5);
    }

    [Fact]
    public void Equal_readings_bound_the_scatter_and_never_make_it_nothing()
    {
        var proof = GravimetricProof.Of(Trial(Balance(0.001), 1, 0.008, [.. Enumerable.Repeat(0.997, 10)]));
        Assert.True(proof.SdIsBound);
        Assert.Equal(0.001 / Math.Sqrt(6) * 1.00328, proof.Sd, 1e-8);
        Assert.Null(proof.SdInterval);
        // the roundings all go one way: they are not averaged
        Assert.Equal(proof.Sd, proof.Reach!.Rounding, 1e-12);
    }

    [Fact]
    public void Evaporation_is_added_back_and_its_half_is_doubt()
    {
        var trial = Trial(Balance(0.0001, 0), 1, 0.008, 0.9960, 0.9970);
        var (still, dry) = (GravimetricProof.Of(trial), GravimetricProof.Of(trial with { EvaporationGrams = 0.0008 }));
        Assert.Equal(0.0008 * 1.00328, dry.Bias - still.Bias, 1e-8);
        Assert.Equal(0.0004 * 1.00328 / Math.Sqrt(3), dry.Reach!.Evaporation, 1e-9);
    }

    [Fact]
    public void A_balance_is_proven_by_a_check_weight_and_then_corrects_what_it_weighs()
    {
        // 10 g M1 (± 2 mg) on a 0.01 g balance that shows 16 mg too much
        var balance = Balance(0.01);
        var proof = GravimetricProof.OfBalance(balance, 10, 0.002, [10.01, 10.02, 10.01, 10.02, 10.02]);
        Assert.Equal(0.016, proof.Bias, 1e-12);
        Assert.Equal(ProofPower.Proves, proof.Power);
        Assert.Equal("g", proof.Unit);
        // s² = 3·10⁻⁵ by hand, above half a step, so that the rounding averages; and 0.002/√3 of the weight
        Assert.Equal(Math.Sqrt(3e-5 / 5 + 0.002 * 0.002 / 3 + 0.0001 / 6 / 5), proof.BiasU, 1e-12);
        var proven = balance with { Proofs = [proof.ToProof(Guid.NewGuid())] };
        // what it shows as 10 g is 9.984 g
        Assert.Equal(9.984, proven.Measure(10, Guid.NewGuid()).Value, 1e-12);
        var weighed = GravimetricProof.Of(Trial(proven, 10, 0.06, 10, 10.01, 9.99));
        Assert.Equal(9.984 * 1.00328, weighed.Mean, 1e-4);
        Assert.Equal(proof.BiasU * 1.00328, weighed.Reach!.Balance, 1e-7);
        // the same weight is too coarse for a balance of 0.001 g
        var fine = GravimetricProof.OfBalance(Balance(0.001), 10, 0.002, [10.000, 10.001, 10.001]);
        Assert.Equal(ProofPower.GrossFaultsOnly, fine.Power);
        Assert.Contains("finer class", fine.Refusal(DecimalSign.Point), StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => GravimetricProof.OfBalance(new Glassware { Id = Guid.NewGuid(), Name = "P1", Kind = GlasswareKind.PistonPipette, Tolerance = 0.008 }, 10, 0.002, [10, 10]));
    }

    [Fact]
    public void A_flask_is_proven_by_its_fillings()
    {
        // 99.72 g at 20 °C fill 99.72·1.00285 = 100.004 mL; the meniscus is assumed where there is one filling
        var trial = Trial(Balance(0.01), 100, 0.1, 99.72) with { TemperatureCelsius = 20, TemperatureLimit = 0.5, AssumedSd = 0.05, ExpansionPerCelsius = AirBuoyancy.BorosilicatePerCelsius };
        var once = GravimetricProof.Of(trial);
        Assert.Equal(0.004, once.Bias, 1e-3);
        Assert.Equal(Math.Sqrt(0.05 * 0.05 + 0.0136 * 0.0136), once.BiasU, 1e-3);
        Assert.Null(once.SdInterval);
        var thrice = GravimetricProof.Of(trial with { WeighingsGrams = [99.72, 99.76, 99.70] });
        Assert.Equal(2, thrice.SdDof);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    public void Figures_outside_their_limits_are_refused(double setting)
    {
        Assert.ThrowsAny<ArgumentException>(() => GravimetricProof.Of(Trial(Balance(0.001), setting, 0.008, 1)));
        Assert.ThrowsAny<ArgumentException>(() => GravimetricProof.Of(Trial(Balance(0.001), 1, 0.008)));
        Assert.ThrowsAny<ArgumentException>(() => GravimetricProof.Of(Trial(Balance(0.001), 1, 0.008, 1, double.NaN)));
        Assert.ThrowsAny<ArgumentException>(() => BalanceReach.Of(Trial(Balance(0.001)) with { DeliveriesEach = 0 }, 10));
    }

    // 10,000 pipettes, ten deliveries each, seeded. With a proven fine balance and an exact temperature the intervals of t and chi-square are exact: 95 % within ± 1.96·√(0.95·0.05/10,000) = 0.43 %
    [Fact]
    public void Simulated_pipettes_are_found_within_their_intervals_in_95_of_100()
    {
        var (bias, sd) = Recovered(step: 1e-6, limit: 0, temperature: 0, pressure: 0, sd: 0.002);
        Assert.InRange(bias, 0.944, 0.956);
        Assert.InRange(sd, 0.944, 0.956);
    }

    // with the working limit of the balance and the doubt of the thermometer drawn as they are claimed, the interval covers at least as much
    [Fact]
    public void A_real_balance_and_thermometer_are_within_the_interval()
    {
        var (bias, sd) = Recovered(step: 0.001, limit: 0.002, temperature: 0.2, pressure: 10, sd: 0.003);
        Assert.InRange(bias, 0.944, 1);
        Assert.InRange(sd, 0.94, 0.956);
    }

    private static (double Bias, double Sd) Recovered(double step, double limit, double temperature, double pressure, double sd)
    {
        const int Runs = 10_000, Deliveries = 10;
        var random = new Random(20260903);
        double Rectangular(double half) => half * (2 * random.NextDouble() - 1);
        double Gauss() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var balance = Balance(step, limit);
        int biasFound = 0, sdFound = 0;
        for (var run = 0; run < Runs; run++)
        {
            var bias = Rectangular(0.01);
            var shown = Rectangular(limit);
            // water density from its own formula, air as 1.19 kg/m³ is for 22 °C: the truth does not run through the code under test
            var (t, p) = (22 + Rectangular(temperature), 1013 + Rectangular(pressure));
            var water = 999.974950 * (1 - (t - 3.983035) * (t - 3.983035) * (t + 301.797) / (522528.9 * (t + 69.34881)));
            var air = (0.34848 * p - 0.009 * 50 * Math.Exp(0.061 * t)) / (273.15 + t);
            var grams = new double[Deliveries];
            for (var i = 0; i < Deliveries; i++)
            {
                var mass = (1 + bias + sd * Gauss()) * (water - air) / 1000 / (1 - air / 8000) + shown;
                var tare = Math.Round(10 * random.NextDouble() / step) * step;
                var from = tare + Rectangular(step / 2);
                grams[i] = Math.Round((from + mass) / step) * step - tare;
            }
            var proof = GravimetricProof.Of(Trial(balance, 1, 0.008, grams) with { TemperatureLimit = temperature, PressureLimit = pressure });
            biasFound += proof.BiasInterval.Contains(bias) ? 1 : 0;
            sdFound += (proof.SdInterval ?? new Interval(0, proof.Sd)).Contains(sd) ? 1 : 0;
        }
        return ((double)biasFound / Runs, (double)sdFound / Runs);
    }
}
