namespace Knownwater.Cli.Tests.Checks;

public class JudgeVerbTests
{
    private static readonly string[] Level = ["judge", "--reference", "7.9 dKH", "--reference-u", "0.04 dKH", "--tolerance", "0.3 dKH + 2%"];

    [Fact]
    public async Task Sentence_comes_first()
    {
        var called = await Called.With([.. Level, "8.6", "8.8", "8.7", "8.9", "8.7"]);

        Assert.Equal(0, called.Exit);
        Assert.StartsWith("Reads high by 10.6\u202F%, and that matters.", called.Output, StringComparison.Ordinal);
    }

    // By hand: mean 8.74, bias 0.84, u² = 0.013/5 + 0.04²
    [Fact]
    public async Task Json_holds_the_agreed_keys_in_full_precision()
    {
        var json = (await Called.With([.. Level, "--json", "8.6", "8.8", "8.7", "8.9", "8.7"])).Json;

        Assert.Equal(
            ["verdict", "sentence", "how_sure", "matters", "n", "censored", "unit", "mean", "sd", "sd_used", "reference", "tolerance", "bias", "recovery_percent", "probability_within_tolerance", "bias_over_expanded", "scatter", "smallest_visible_bias", "largest_irreducible_source", "trend_p", "remedy", "outliers", "statement"],
            Called.Keys(json));
        Assert.Equal("reads_high", json.GetProperty("verdict").GetString());
        Assert.Equal(5, json.GetProperty("n").GetInt32());
        var bias = json.GetProperty("bias");
        Assert.Equal(["value", "u", "expanded", "k", "dof", "unit", "low", "high", "coverage"], Called.Keys(bias));
        Assert.Equal(["value", "u", "expanded", "k", "dof", "unit"], Called.Keys(json.GetProperty("reference")));
        Assert.Equal(0.84, bias.GetProperty("value").GetDouble(), 1e-12);
        Assert.Equal(Math.Sqrt(0.013 / 5 + 0.0016), bias.GetProperty("u").GetDouble(), 1e-12);
        Assert.Equal("dKH", bias.GetProperty("unit").GetString());
    }

    [Fact]
    public async Task Value_that_begins_with_minus_is_a_value()
    {
        var called = await Called.With("judge", "--reference", "0 mg/L PO4", "--reference-u", "0", "--tolerance", "0.05 mg/L PO4", "--json", "-0.01", "0.01", "-0.02");

        Assert.Equal(0, called.Exit);
        Assert.Equal(-0.02 / 3, called.Json.GetProperty("mean").GetDouble(), 1e-12);
        Assert.Equal(System.Text.Json.JsonValueKind.Null, called.Json.GetProperty("recovery_percent").ValueKind);
    }

    [Fact]
    public async Task Censored_values_and_commas_are_read()
    {
        var json = (await Called.With("judge", "--reference", "0,1 mg/L PO4", "--reference-u", "0.001", "--tolerance", "0,02 mg/L PO4", "--json", "<0.02", "<0,02", "<0.02")).Json;

        Assert.Equal("reads_low", json.GetProperty("verdict").GetString());
        Assert.Equal(3, json.GetProperty("censored").GetInt32());
    }

    [Theory]
    [InlineData("--reference-expanded", "0.08", 0.04)]
    [InlineData("--reference-u", "1%", 0.079)]
    [InlineData("--reference-u", "0.01426610 meq/L", 0.04)]
    public async Task Doubt_of_the_known_value_is_taken_in_several_ways(string option, string text, double u)
    {
        var json = (await Called.With("judge", "--reference", "7.9 dKH", option, text, "--tolerance", "5%", "--json", "8", "8.1")).Json;

        Assert.Equal(u, json.GetProperty("reference").GetProperty("u").GetDouble(), 1e-7);
    }

    [Theory]
    [InlineData("7.9 dKH", "--reference-u", "0")]
    [InlineData("7.9 dKH", "--reference-expanded", "0 dKH")]
    [InlineData("7.9 dKH ± 0 dKH")]
    public async Task Doubt_of_zero_counts_the_known_value_as_exact(string known, params string[] doubt)
    {
        var json = (await Called.With(["judge", "--reference", known, .. doubt, "--tolerance", "5%", "--json", "8", "8.1"])).Json;

        Assert.Equal(0, json.GetProperty("reference").GetProperty("u").GetDouble());
        Assert.Equal(1, json.GetProperty("bias").GetProperty("dof").GetDouble(), 1e-9);
    }

    // By hand: bias −0.5, s = 0 and no resolution, so the interval is the point
    [Fact]
    public async Task Readings_without_any_scatter_and_doubt_give_a_point()
    {
        var json = (await Called.With("judge", "--reference", "8 dKH", "--reference-u", "0", "--tolerance", "0.1 dKH", "--json", "7.5", "7.5", "7.5")).Json;

        Assert.Equal("reads_low", json.GetProperty("verdict").GetString());
        Assert.Equal(-0.5, json.GetProperty("bias").GetProperty("low").GetDouble(), 1e-12);
        Assert.Equal(-0.5, json.GetProperty("bias").GetProperty("high").GetDouble(), 1e-12);
    }

    [Theory]
    [InlineData("-0.01")]
    [InlineData("-0,01")]
    [InlineData("-1e-2")]
    [InlineData("-.01")]
    [InlineData("\u22120.01")]
    public async Task Minus_may_be_written_in_several_ways(string text)
    {
        var json = (await Called.With("judge", "--json", "--reference", "0 mg/L PO4", "--reference-u", "0", "--tolerance", "0.05 mg/L PO4", text, "0")).Json;

        Assert.Equal(-0.005, json.GetProperty("mean").GetDouble(), 1e-15);
    }

    [Fact]
    public async Task Half_width_behind_the_value_is_rectangular()
    {
        var json = (await Called.With("judge", "--reference", "7.9 dKH ± 0.1 dKH", "--tolerance", "5%", "--json", "8", "8.1")).Json;

        Assert.Equal(0.1 / Math.Sqrt(3), json.GetProperty("reference").GetProperty("u").GetDouble(), 1e-12);
    }

    [Fact]
    public async Task One_reading_without_a_prior_gives_nulls_and_no_verdict()
    {
        var json = (await Called.With([.. Level, "--json", "9"])).Json;

        Assert.Equal("cannot_tell", json.GetProperty("verdict").GetString());
        Assert.Equal(System.Text.Json.JsonValueKind.Null, json.GetProperty("bias").GetProperty("expanded").ValueKind);
        Assert.Equal(System.Text.Json.JsonValueKind.Null, json.GetProperty("sd").ValueKind);
        Assert.Equal(System.Text.Json.JsonValueKind.Null, json.GetProperty("probability_within_tolerance").ValueKind);
    }

    [Theory]
    [InlineData("7,9o", "letter o")]
    [InlineData("1,234", "1.234")]
    [InlineData("8.1 meq/L", "Convert one of them")]
    [InlineData("--fast", "--fast")]
    public async Task Bad_reading_is_named(string reading, string says) =>
        Assert.Contains(says, (await Called.With([.. Level, "8.0", reading])).Refused().Error, StringComparison.Ordinal);

    [Theory]
    [InlineData("How well is", "judge", "--reference", "7.9 dKH", "--tolerance", "5%", "8")]
    [InlineData("more than once", "judge", "--reference", "7.9 dKH ± 0.1", "--reference-u", "0.1", "--tolerance", "5%", "8")]
    [InlineData("belong together", "judge", "--reference", "7.9 dKH", "--reference-u", "0.1", "--tolerance", "5%", "--prior-sd", "0.1", "8")]
    [InlineData("--tolerance", "judge", "--reference", "7.9 dKH", "--reference-u", "0.1", "8")]
    [InlineData("VALUE", "judge", "--reference", "7.9 dKH", "--reference-u", "0.1", "--tolerance", "5%")]
    [InlineData("zero or more", "judge", "--reference", "7.9 dKH", "--reference-u", "-0.1", "--tolerance", "5%", "8")]
    [InlineData("give 1 or 2", "judge", "--reference", "7.9 dKH", "--reference-u", "0.1", "--tolerance", "5%", "--looks", "3", "8")]
    [InlineData("give 1 or 2", "judge", "--reference", "7.9 dKH", "--reference-u", "0.1", "--tolerance", "5%", "--looks", "1.4", "8")]
    [InlineData("coverage factor", "judge", "--reference", "7.9 dKH", "--reference-expanded", "0.1", "--k", "0", "--tolerance", "5%", "8")]
    [InlineData("--reference-expanded", "judge", "--reference", "7.9 dKH", "--reference-u", "0.1", "--k", "2", "--tolerance", "5%", "8")]
    [InlineData("above zero", "judge", "--reference", "0 mg/L PO4", "--reference-u", "0", "--tolerance", "5%", "0.01", "0.02")]
    [InlineData("more than zero", "judge", "--reference", "7.9 dKH", "--reference-u", "0.1", "--tolerance", "5%", "--prior-sd", "0.1", "--prior-dof", "0", "8", "8.1")]
    public async Task Bad_call_is_refused_with_one_sentence(string says, params string[] args) =>
        Assert.Contains(says, (await Called.With(args)).Refused().Error, StringComparison.Ordinal);
}
