using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Checks;

public class VerdictWordsTests
{
    private static string Plainly(string text) => text.Replace('\u00A0', ' ').Replace('\u202F', ' ');

    private static (VerdictText Text, LevelPlan Plan, LevelJudgement Judged) Say(double reference, double u, double tolerance, double percent, string form, DecimalSign sign, params double[] readings)
    {
        var plan = new LevelPlan
        {
            Reference = Estimate.From(reference, ErrorSource.Normal("stock", u)),
            Form = ReportingForm.Parse(form),
            Tolerance = new Tolerance(tolerance, percent),
            MinutesPerReplicate = 12,
        };
        var judged = LevelCheck.Judge(plan, [.. readings.Select(r => new Indication(r))]);
        var text = VerdictWords.Say(plan, judged, sign);
        return (new VerdictText(text.Word, Plainly(text.Rest), Plainly(text.Sure)), plan, judged);
    }

    [Fact]
    public void High_by_percent_well_above_zero()
    {
        var (text, _, _) = Say(7.9, 0.04, 0.3, 2, "dKH", DecimalSign.Point, 8.6, 8.8, 8.7, 8.9, 8.7);

        Assert.Equal("Reads high by 10.6 %, and that matters.", text.Sentence);
        Assert.Equal("95 %: 8.6 to 12.7 % · 0.84 ± 0.16 dKH", text.Sure);
    }

    [Fact]
    public void High_in_the_unit_near_zero_and_with_a_decimal_comma()
    {
        var (text, _, _) = Say(0.1, 0.002, 0.03, 10, "mg/L PO4", DecimalSign.Comma, 0.155, 0.135, 0.145, 0.15, 0.145);

        Assert.Equal("Reads high by 0,046 mg/L; that may or may not matter.", text.Sentence);
    }

    [Fact]
    public void Right_says_how_far_inside()
    {
        var (text, _, _) = Say(10, 0.05, 1, 10, "mg/L NO3", DecimalSign.Point, 10.1, 9.9, 10.0, 10.1);

        Assert.StartsWith("Reads right, well inside your tolerance of 20 %.", text.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Right_with_a_bias_that_does_not_matter()
    {
        var (text, _, _) = Say(10, 0.02, 1, 10, "mg/L NO3", DecimalSign.Point, 10.3, 10.31, 10.29, 10.3);

        Assert.StartsWith("Reads right, with a small bias that does not matter: 3.00 ± 0.41 % high; your tolerance is 20 %.", text.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Low_is_low()
    {
        var (text, _, _) = Say(10, 0.02, 1, 0, "mg/L NO3", DecimalSign.Point, 7.5, 7.4, 7.6, 7.5);

        Assert.StartsWith("Reads low by 25.0 %, and that matters.", text.Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain("−", text.Sure, StringComparison.Ordinal);
    }

    [Fact]
    public void Cannot_tell_names_the_remedy_and_its_cost()
    {
        var (text, _, _) = Say(0.1, 0.003, 0.03, 10, "mg/L PO4", DecimalSign.Point, 0.14, 0.10, 0.13);

        Assert.StartsWith("Can’t tell yet: a new check of ", text.Sentence, StringComparison.Ordinal);
        Assert.StartsWith("It may read anything from 0.0", text.Sure, StringComparison.Ordinal);
    }

    [Fact]
    public void Statement_names_what_is_known_and_nothing_else()
    {
        var (_, plan, _) = Say(7.9, 0.04, 0.3, 2, "dKH", DecimalSign.Point, 8.0, 7.9);
        var said = Plainly(VerdictWords.Statement(plan, new StatementFacts { Matrix = Matrix.Seawater, Salinity = 35, TemperatureCelsius = 24, Lots = ["A-19"], Day = "3 September 2026" }, DecimalSign.Point));

        Assert.Equal("At 7.900 ± 0.078 dKH, in seawater of salinity 35, at 24 °C, with reagent lot A-19, on 3 September 2026. It says nothing about other levels.", said);
    }

    [Theory]
    [InlineData(36, "36 minutes")]
    [InlineData(60, "an hour")]
    [InlineData(120, "2 hours")]
    public void Durations_are_words(double minutes, string words) => Assert.Equal(words, Plainly(VerdictWords.Duration(minutes)));
}
