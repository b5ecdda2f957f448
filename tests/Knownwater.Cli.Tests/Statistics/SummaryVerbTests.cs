using System.Globalization;
using System.Text.Json;

namespace Knownwater.Cli.Tests.Statistics;

public sealed class SummaryVerbTests : IDisposable
{
    private readonly string _file = Path.GetTempFileName();

    public void Dispose() => File.Delete(_file);

    private Task<Called> Summary(string table, params string[] options)
    {
        File.WriteAllText(_file, table);
        return Called.With(["summary", _file, .. options]);
    }

    // NIST StRD NumAcc1 and SmLs07 with their certified values: what the doubles allow of F are 4.41 digits, and exact arithmetic reaches them
    [Fact]
    public async Task Certified_values_of_the_univariate_and_the_analysis_of_variance()
    {
        var moments = (await Summary("value\n10000001\n10000003\n10000002\n", "--json")).Json;
        Assert.Equal((10000002, 1, -0.5), (moments.GetProperty("mean").GetDouble(), moments.GetProperty("sd").GetDouble(), moments.GetProperty("autocorrelation").GetDouble()));
        Assert.Equal(JsonValueKind.Null, moments.GetProperty("f").ValueKind);

        var rows = Enumerable.Range(0, 9).SelectMany(g => Enumerable.Range(0, 21).Select(i => $"{g},{1000000000000 + (g == 0 ? 0.4m : g % 2 == 1 ? 0.3m : 0.5m) + (i == 0 ? 0 : i % 2 == 1 ? -0.1m : 0.1m)}"));
        var anova = (await Summary("treatment,value\n" + string.Join('\n', rows), "--group", "treatment", "--json")).Json;
        Assert.InRange(-Math.Log10(Math.Abs(anova.GetProperty("f").GetDouble() / 21 - 1)), 4.41, 15);
        Assert.Equal(0.01, anova.GetProperty("within_ms").GetDouble(), 1e-6);
        Assert.Equal(0.21, anova.GetProperty("between_ms").GetDouble(), 1e-4);
        Assert.Equal(0.1, anova.GetProperty("repeatability_sd").GetDouble(), 1e-5);
        Assert.Equal(Math.Sqrt(0.2 / 21), anova.GetProperty("between_sd").GetDouble(), 1e-4);
        Assert.Equal(9, anova.GetProperty("groups").GetArrayLength());
    }

    [Fact]
    public async Task Json_holds_the_agreed_keys() =>
        Assert.Equal(
            ["n", "mean", "mean_low", "mean_high", "sd", "sd_low", "sd_high", "autocorrelation", "f", "p", "between_dof", "within_dof", "between_ms", "within_ms", "repeatability_sd", "between_sd", "groups"],
            Called.Keys((await Summary("value\n1\n2\n", "--json")).Json));

    [Theory]
    [InlineData("value;day\n7,95;a\n8,05;a\n7,8;b\n7,7;b")]
    [InlineData("\uFEFFday\tValue\na\t7.95\na\t8.05\n\nb\t7.80\r\nb\t7.70\n")]
    [InlineData("day,\"value\"\na,7.950\n\"a\",8.050\nb,\"7.8\"\nb,7.7")]
    public async Task Comma_semicolon_and_tab_with_either_decimal_sign_are_read(string table)
    {
        var json = (await Summary(table, "--group", "day", "--json")).Json;
        Assert.Equal(7.875, json.GetProperty("mean").GetDouble(), 1e-15);
        Assert.Equal(12.5, json.GetProperty("f").GetDouble(), 1e-11);   // means 8 and 7.75: 4·0.125²/1 over (2·0.05² + 2·0.05²)/2
        Assert.Equal(["a", "b"], json.GetProperty("groups").EnumerateArray().Select(g => g.GetProperty("name").GetString()));
    }

    [Fact]
    public async Task One_value_and_equal_values_say_what_they_cannot_tell()
    {
        var one = (await Summary("value\n7.9", "--json")).Json;
        Assert.Equal(7.9, one.GetProperty("mean").GetDouble());
        Assert.Equal(JsonValueKind.Null, one.GetProperty("sd").ValueKind);
        var equal = (await Summary("value,day\n7.9,1\n7.9,1\n7.9,2", "--group", "day", "--json")).Json;
        Assert.Equal((0, 7.9), (equal.GetProperty("sd").GetDouble(), equal.GetProperty("mean").GetDouble()));
        Assert.Equal(JsonValueKind.Null, equal.GetProperty("f").ValueKind);
        Assert.Equal(JsonValueKind.Null, equal.GetProperty("autocorrelation").ValueKind);
        Assert.Contains("All values are equal", (await Summary("value\n7.9\n7.9")).Output, StringComparison.Ordinal);
    }

    // scipy 1.10: mean 7.9289, t·s/√n 0.10529, f_oneway 15.304 with p 0.004403
    [Fact]
    public async Task The_text_shows_no_more_digits_than_are_known()
    {
        var said = (await Summary("day,value\nmon,7.91\nmon,7.98\nmon,7.83\ntue,8.12\ntue,8.05\ntue,8.08\nwed,7.77\nwed,7.88\nwed,7.74", "--group", "day")).Output;
        Assert.Contains("7.93 ± 0.11 (95 %)", said, StringComparison.Ordinal);
        Assert.Contains("0.137 (95 %: 0.093 to 0.262)", said, StringComparison.Ordinal);
        Assert.Contains("F = 15.3, which chance alone gives in 0.44 % of cases", said, StringComparison.Ordinal);
        Assert.Contains("tue", said, StringComparison.Ordinal);
        Assert.DoesNotContain("resemble each other", said, StringComparison.Ordinal);
        var drifting = string.Join('\n', Enumerable.Range(0, 30).Select(i => (8 + 0.01 * i).ToString(CultureInfo.InvariantCulture)));
        Assert.Contains("resemble each other", (await Summary("value\n" + drifting)).Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "nothing in")]
    [InlineData("reading\n1", "no column “value”")]
    [InlineData("value", "no row")]
    [InlineData("value,day\n1,2\n3", "Line 3")]
    [InlineData("value\n1\nx\ny", "and 1 more like it")]
    [InlineData("value\n1\n<0.02", "limit")]
    [InlineData("value\n1\nNaN", "not a number")]
    public async Task A_table_that_cannot_be_read_is_refused_with_its_place(string table, string says) =>
        Assert.Contains(says, (await Summary(table)).Refused().Error, StringComparison.Ordinal);

    [Theory]
    [InlineData("value,day\n1,a\n2,a", "at least 2")]
    [InlineData("value,day\n1,a\n2,b", "at least one group")]
    public async Task Groups_that_tell_nothing_are_refused(string table, string says) =>
        Assert.Contains(says, (await Summary(table, "--group", "day")).Refused().Error, StringComparison.Ordinal);

    [Fact]
    public async Task A_missing_file_is_refused_by_name() =>
        Assert.Contains("nowhere.csv", (await Called.With("summary", "nowhere.csv")).Refused().Error, StringComparison.Ordinal);
}
