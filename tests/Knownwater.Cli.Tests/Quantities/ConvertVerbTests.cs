namespace Knownwater.Cli.Tests.Quantities;

public class ConvertVerbTests
{
    // 4.426644: molar mass ratio by the IUPAC 2021 abridged weights, M(NO3)/A(N) = 62.004/14.007
    [Fact]
    public async Task Json_holds_the_agreed_keys()
    {
        var json = (await Called.With("convert", "5,2 mg/L NO3-N", "mg/L NO3", "--json")).Json;

        Assert.Equal(["value", "unit", "factor", "steps"], Called.Keys(json));
        Assert.Equal(5.2 * 62.004 / 14.007, json.GetProperty("value").GetDouble(), 1e-12);
        Assert.Equal("mg/L NO3", json.GetProperty("unit").GetString());
        Assert.Equal(62.004 / 14.007, json.GetProperty("factor").GetDouble(), 1e-12);
        Assert.NotEmpty(json.GetProperty("steps").EnumerateArray());
    }

    [Fact]
    public async Task Density_is_asked_for() =>
        Assert.Contains("salinity", (await Called.With("convert", "5 mg/L NO3", "umol/kg NO3")).Refused().Error, StringComparison.Ordinal);

    // Density of seawater, S 35, 25 °C: 1.023343 kg/L (EOS-80 check value 1023.343 kg/m³, UNESCO 44); TEOS-10 agrees to 1e-6
    [Fact]
    public async Task Density_of_the_stated_water_is_used() =>
        Assert.Equal(1000 * 5 / 62.004 / 1.023343, (await Called.With("convert", "5 mg/L NO3", "umol/kg NO3", "--salinity", "35", "--temperature", "77 F", "--json")).Json.GetProperty("value").GetDouble(), 1e-3);

    [Theory]
    [InlineData("same species", "convert", "5 mg/L NO3", "mg/L PO4")]
    [InlineData("ppm", "convert", "5 ppm", "mg/L NO3")]
    [InlineData("needed together", "convert", "5 mg/L NO3", "umol/kg NO3", "--salinity", "35")]
    public async Task Bad_call_is_refused_with_one_sentence(string says, params string[] args)
    {
        Assert.Contains(says, (await Called.With(args)).Refused().Error, StringComparison.Ordinal);
    }
}
