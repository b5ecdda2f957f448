using System.Text.Json;

namespace Knownwater.Cli.Tests.Comparison;

public sealed class CompareVerbTests : IDisposable
{
    private readonly string _file = Path.Combine(Path.GetTempPath(), $"compare-{Guid.NewGuid():N}.csv");

    // Bland and Altman 1986, The Lancet 327, 307: first readings, x by one flow meter and y by the other
    private const string PeakFlow = "x,y\n494,512\n395,430\n516,520\n434,428\n476,500\n557,600\n413,364\n442,380\n650,658\n433,445\n417,432\n656,626\n267,260\n478,477\n178,259\n423,350\n427,451\n";

    // Pearson 1901 with the weights of York 1966, u = 1/√weight to 17 digits
    private const string Pearson = """
        x,y,ux,uy
        0,5.9,0.03162277660168379,1
        0.9,5.4,0.03162277660168379,0.74535599249992990
        1.8,4.4,0.04472135954999579,0.5
        2.6,4.6,0.03535533905932738,0.35355339059327379
        3.3,3.5,0.07071067811865475,0.22360679774997896
        4.4,3.7,0.11180339887498948,0.22360679774997896
        5.2,2.8,0.12909944487358055,0.11952286093343936
        6.1,2.8,0.22360679774997896,0.11952286093343936
        6.5,2.4,0.74535599249992990,0.1
        7.4,1.5,1,0.04472135954999579

        """;

    public void Dispose() => File.Delete(_file);

    private async Task<Called> Compare(string table, params string[] more)
    {
        await File.WriteAllTextAsync(_file, table, TestContext.Current.CancellationToken);
        return await Called.With(["compare", _file, .. more]);
    }

    [Fact]
    public async Task Json_holds_the_agreed_keys()
    {
        var json = (await Compare(PeakFlow, "--by", "deming", "--json")).Json;

        Assert.Equal(["by", "n", "sentence", "slope", "intercept", "bias", "sd", "limits_of_agreement", "prediction_interval", "ratio", "reliability", "chi_square"], Called.Keys(json));
        Assert.Equal(["value", "u", "expanded", "k", "dof", "unit", "low", "high"], Called.Keys(json.GetProperty("slope")));
        Assert.Equal(["value", "u", "expanded", "k", "dof", "unit", "low", "high"], Called.Keys(json.GetProperty("bias")));
        Assert.Equal(["low", "high", "low_from", "low_to", "high_from", "high_to"], Called.Keys(json.GetProperty("limits_of_agreement")));
        Assert.Equal(["low", "high"], Called.Keys(json.GetProperty("prediction_interval")));
        Assert.Equal(17, json.GetProperty("n").GetInt32());
        // closed form computed apart from this project
        Assert.Equal(0.9708808197649392, json.GetProperty("slope").GetProperty("value").GetDouble(), 1e-14);
        Assert.Equal(15, json.GetProperty("slope").GetProperty("dof").GetDouble());
        Assert.Equal(JsonValueKind.Null, json.GetProperty("chi_square").ValueKind);
    }

    // the printed digits: bias −2.1 of x − y, ±38.8
    [Fact]
    public async Task Differences_are_those_printed()
    {
        var json = (await Compare(PeakFlow, "--by", "difference", "--json")).Json;

        Assert.Equal(2.1, json.GetProperty("bias").GetProperty("value").GetDouble(), 0.05);
        Assert.Equal(38.8, json.GetProperty("sd").GetDouble(), 0.05);
        Assert.Equal(JsonValueKind.Null, json.GetProperty("slope").ValueKind);
        Assert.Equal(JsonValueKind.Null, json.GetProperty("intercept").ValueKind);
        Assert.StartsWith("On average no difference shows", json.GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    // York et al. 2004, American Journal of Physics 72, 367
    [Fact]
    public async Task York_gives_the_printed_line_not_scaled_by_chi_square()
    {
        var json = (await Compare(Pearson, "--by", "york", "--json")).Json;

        Assert.Equal(-0.480533407, json.GetProperty("slope").GetProperty("value").GetDouble(), 5e-10);
        Assert.Equal(0.057985009, json.GetProperty("slope").GetProperty("u").GetDouble(), 5e-10);
        Assert.Equal(0.294970735, json.GetProperty("intercept").GetProperty("u").GetDouble(), 6e-10);
        Assert.Equal(JsonValueKind.Null, json.GetProperty("slope").GetProperty("dof").ValueKind);
        Assert.Equal(1.483294149 * 8, json.GetProperty("chi_square").GetProperty("value").GetDouble(), 4e-9);
        Assert.Equal(8, json.GetProperty("chi_square").GetProperty("dof").GetInt32());
        Assert.InRange(json.GetProperty("chi_square").GetProperty("p").GetDouble(), 0.1, 0.2);
    }

    [Fact]
    public async Task Passing_Bablok_has_limits_and_no_standard_uncertainty()
    {
        var slope = (await Compare(PeakFlow, "--by", "passing-bablok", "--json")).Json.GetProperty("slope");

        Assert.Equal(1.0648148148148149, slope.GetProperty("value").GetDouble(), 1e-15);
        Assert.Equal(0.8370786516853933, slope.GetProperty("low").GetDouble(), 1e-15);
        Assert.Equal(JsonValueKind.Null, slope.GetProperty("u").ValueKind);
        var open = (await Compare("x,y\n1,1.1\n2,2\n3,3.2\n4,3.9\n", "--by", "passing-bablok", "--json")).Json.GetProperty("slope");
        Assert.Equal(JsonValueKind.Null, open.GetProperty("low").ValueKind);
        Assert.Equal(JsonValueKind.Null, open.GetProperty("expanded").ValueKind);
    }

    [Fact]
    public async Task The_ratio_is_that_of_y_over_x()
    {
        var steep = (await Compare(PeakFlow, "--by", "deming", "--ratio", "0,0001", "--json")).Json.GetProperty("slope").GetProperty("value").GetDouble();
        var flat = (await Compare(PeakFlow, "--by", "deming", "--ratio", "10000", "--json")).Json.GetProperty("slope").GetProperty("value").GetDouble();

        Assert.True(flat < steep);
    }

    [Fact]
    public async Task A_table_with_decimal_commas_and_correlations_is_read()
    {
        var called = await Compare("X;Y;ux;uy;r\n1,0;1,1;0,1;0,1;0,5\n2,0;2,2;0,1;0,1;0,5\n3,0;2,9;0,1;0,1;0,5\n4,0;4,1;0,1;0,1;0,5\n", "--by", "york");

        Assert.Equal(0, called.Exit);
        Assert.Contains("Slope", called.Output, StringComparison.Ordinal);
        Assert.Contains("chi-square", called.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("x,y\n1,1\n2,2\n3,3.1\n", "“nonsense”", "--by", "nonsense")]
    [InlineData("x,y\n1,1\n2,2\n3,3.1\n", "--ratio 2", "--by", "york", "--ratio", "2")]
    [InlineData("x,y\n1,1\n2,2\n3,3.1\n", "ratio is 0", "--by", "deming", "--ratio", "0")]
    [InlineData("x,y\n1,1\n2,2\n3,3.1\n", "“ux”", "--by", "york")]
    [InlineData("x,z\n1,1\n2,2\n3,3.1\n", "“y”", "--by", "deming")]
    [InlineData("x,y\n1,1\n2,high\n3,3.1\n", "Line 3", "--by", "deming")]
    [InlineData("x,y\n1,1\n", "1 values", "--by", "difference")]
    [InlineData("x,y\n1,1\n1,2\n1,3\n", "All 3 values of x are 1", "--by", "deming")]
    [InlineData("x,y\n1,1\n2,2\n3,3.1\n", "--by")]
    public async Task Bad_input_is_refused_with_what_would_help(string table, string says, params string[] more) =>
        Assert.Contains(says, (await Compare(table, more)).Refused().Error, StringComparison.Ordinal);
}
