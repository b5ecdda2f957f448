using System.Globalization;
using System.Text.RegularExpressions;
using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Preparation;

public sealed partial class PreparationsTests
{
    private static readonly Dictionary<double, double> FlaskLimits = new() { [100] = 0.1, [200] = 0.15, [250] = 0.15, [500] = 0.25, [1000] = 0.4 };
    private static readonly Dictionary<double, double> BulbLimits = new() { [1] = 0.008, [2] = 0.01, [5] = 0.015 };

    private static Glassware Piece(GlasswareKind kind, double nominal, double tolerance) => new() { Id = Guid.NewGuid(), Name = $"{kind} {nominal}", Kind = kind, Nominal = nominal, Tolerance = tolerance };

    private static Glassware Piston(double nominal) => Piece(GlasswareKind.PistonPipette, nominal, 0.008 * nominal) with { Repeatability = 0.003 * nominal };

    private static Estimate Stock(double value) => Estimate.From(value, ErrorSource.Rectangular("stock", 0.005 * value));

    private static PreparationPlan Plan(ReportingForm form, Estimate stock, IReadOnlyList<PreparationStep> steps) =>
        new() { Form = form, Stock = new StockSolution { Name = "stock", Concentration = stock }, Matrix = new MatrixWater { Kind = Matrix.Seawater, Salinity = 35 }, Steps = steps };

    private static PreparationStep Step(double aliquot, Glassware with, double to) => new()
    {
        Id = Guid.NewGuid(), Aliquot = Portion.Volume(aliquot), With = with, Made = Portion.Volume(to), In = Piece(GlasswareKind.Flask, to, FlaskLimits[to]),
    };

    private static double Percent(Estimate value) => 100 * value.StandardUncertainty / value.Value;

    [GeneratedRegex(@"([\d.]+) (mL|g) into (\d+) mL flask", RegexOptions.CultureInvariant, 1000)]
    private static partial Regex Steps();

    public static TheoryData<int> Rows => [.. Enumerable.Range(0, Table.Rows("reference-water/reference_water_examples.csv").Count)];

    // tests/data/reference-water: to the four printed decimals of a percent
    [Theory]
    [MemberData(nameof(Rows))]
    public void A_worked_dilution_has_the_doubt_that_was_computed_apart(int index)
    {
        var row = Table.Rows("reference-water/reference_water_examples.csv")[index];
        var (form, printed) = (ReportingForm.Parse(row[1] == "dKH" ? "dKH" : "mg/L " + row[1]), Table.Number(row[10]));
        var steps = Steps().Matches(row[6]).Select(m => (Amount: Table.Number(m.Groups[1].Value), IsMass: m.Groups[2].Value == "g", To: Table.Number(m.Groups[3].Value))).ToList();
        Assert.NotEmpty(steps);
        if (steps[0].IsMass)
        {
            var salt = ChemicalFormula.Parse(row[5].Split(' ')[0]);
            var grams = steps[0].Amount;
            var flask = Piece(GlasswareKind.Flask, steps[0].To, FlaskLimits[steps[0].To]);
            var weighed = new WeighedSalt
            {
                Formula = salt,
                Mass = new Glassware { Id = Guid.NewGuid(), Name = "balance", Kind = GlasswareKind.Balance, Tolerance = 0.002 }.Measure(grams, Guid.NewGuid()),
                Purity = Estimate.From(1, ErrorSource.Rectangular("purity", 0.005)),
                Volume = flask.Measure(steps[0].To, Guid.NewGuid()),
            };
            var made = Preparations.Of(new PreparationPlan { Form = form, Stock = new StockSolution { Name = salt.Text, Salt = weighed }, Matrix = new MatrixWater { Kind = Matrix.FreshWater } });
            Assert.Equal(printed, Percent(made.Concentration), 5.1e-5);
            // the mass is printed to 0.1 mg, and the table’s molar mass of MgCl2.6H2O lies 4e-5 beside that of the abridged weights of 2021
            var target = Table.Number(row[7]);
            Assert.Equal(target, made.Concentration.Value, target * (5e-5 / grams + 5e-5));
            return;
        }

        var stock = Table.Number(row[5].Split(' ')[0]);
        var nominals = row[9].Split(" / ").Select(p => double.Parse(p.Split('-')[1].Split(' ')[0], CultureInfo.InvariantCulture)).ToList();
        var gainOnly = row[14].Contains("pure gain", StringComparison.Ordinal);
        var pistons = nominals.Distinct().ToDictionary(n => n, n => gainOnly ? Piston(n) with { Tolerance = 0.008, ToleranceIsRelative = true } : Piston(n));
        Estimate Of(Func<int, Glassware> with) => Preparations.Of(Plan(form, Stock(stock), [.. steps.Select((s, i) => Step(s.Amount, with(i), s.To))])).Concentration;
        var value = Of(i => pistons[nominals[i]]);
        Assert.Equal(Table.Number(row[7]), value.Value, 6e-6 * value.Value);
        Assert.Equal(printed, Percent(value), 5.1e-5);
        Assert.Equal(Table.Number(row[11]), Percent(Of(i => pistons[nominals[i]] with { Id = Guid.NewGuid() })), 5.1e-5);
        if (gainOnly)
        {
            // the note of the row: the whole limit a shared offset
            var offset = Piston(5) with { Nominal = null };
            Assert.Equal(1.5668, Percent(Of(_ => offset)), 5.1e-5);
        }
        if (row[12].Length > 0)
        {
            var bulbs = steps.Select(s => s.Amount).Distinct().ToDictionary(v => v, v => Piece(GlasswareKind.BulbPipette, v, BulbLimits[v]));
            Assert.Equal(Table.Number(row[12]), Percent(Of(i => bulbs[steps[i].Amount])), 5.1e-5);
        }
    }

    // c = (c₀·Vₐ + b·(Vₜ − Vₐ))/Vₜ by hand: both levels hold 0.99·b and 0.98·b, so of u(b) = 0.05 only 0.01·0.05 is left in their difference
    [Fact]
    public void In_the_difference_of_two_levels_the_background_cancels()
    {
        var background = Estimate.From(0.2, 0.05, "background");
        Estimate Level(double aliquot) => Preparations.Of(Plan(ReportingForm.Parse("mg/L NO3"), 1000, [Step(aliquot, Piece(GlasswareKind.PistonPipette, 5, 0), 100)]) with
        {
            Matrix = new MatrixWater { Kind = Matrix.Seawater, Salinity = 35, Background = background },
        }).Concentration;
        var left = (Level(2) - Level(1)).Contributions.Single(c => c.Source.Name == "background");
        Assert.Equal(0.01 * 0.05, left.StandardUncertainty, 1e-12);
    }

    [Fact]
    public void Two_waters_of_one_stock_covary_by_its_certificate()
    {
        var stock = Stock(1000);
        Estimate Water(double aliquot) => Preparations.Of(Plan(ReportingForm.Parse("mg/L NO3"), stock, [Step(aliquot, Piston(5), 100)])).Concentration;
        var (low, high) = (Water(1), Water(5));
        Assert.Equal(10 * 50 * 0.005 * 0.005 / 3, Estimate.Covariance(low, high), 1e-12);
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(3)]
    public void No_preparation_is_known_better_than_its_stock_and_the_volumes_scale_out(double aliquot)
    {
        var stock = Stock(1000);
        var water = Preparations.Of(Plan(ReportingForm.Parse("mg/L NO3"), stock, [Step(aliquot, Piston(5), 100)])).Concentration;
        Assert.True(Percent(water) > Percent(stock));
        var tenfold = Preparations.Of(Plan(ReportingForm.Parse("mg/L NO3"), stock, [Step(10 * aliquot, Piston(50), 1000)])).Concentration;
        Assert.Equal(water.Value, tenfold.Value, 1e-12 * water.Value);
    }
}
