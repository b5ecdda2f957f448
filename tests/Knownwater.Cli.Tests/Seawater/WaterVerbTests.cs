namespace Knownwater.Cli.Tests.Seawater;

public sealed class WaterVerbTests
{
    // UNESCO 44: EOS-80 at S 35 and t68 = 25 °C is 1023.343 kg/m³; TEOS-10 by gsw 3.6 at t90 = 25 °C; conductivity of gsw
    [Fact]
    public async Task Seawater_by_salinity()
    {
        var json = (await Called.With("seawater", "--salinity", "35", "--temperature", "25 C", "--json")).Json;
        Assert.Equal(["practical_salinity", "absolute_salinity_g_per_kg", "conservative_temperature_c", "density_kg_per_m3", "density_eos80_kg_per_m3", "specific_gravity", "conductivity_ms_per_cm"], Called.Keys(json));
        Assert.Equal(35.16504, json.GetProperty("absolute_salinity_g_per_kg").GetDouble(), 1e-9);
        Assert.Equal(1023.343, json.GetProperty("density_kg_per_m3").GetDouble(), 0.001);
        Assert.Equal(1023.341, json.GetProperty("density_eos80_kg_per_m3").GetDouble(), 0.0006);
        Assert.Equal(1.026373, json.GetProperty("specific_gravity").GetProperty("25C/25C").GetDouble(), 2e-6);
    }

    [Theory]
    [InlineData("--conductivity", "53.0705 mS/cm")]
    [InlineData("--conductivity", "53070.5 uS/cm")]
    [InlineData("--conductivity", "5.30705 S/m")]
    [InlineData("--density", "1023.3431 kg/m3")]
    [InlineData("--density", "1.0233431 g/mL")]
    public async Task Seawater_by_what_was_measured(string option, string value) =>
        Assert.Equal(35, (await Called.With("seawater", option, value, "--temperature", "77 F", "--json")).Json.GetProperty("practical_salinity").GetDouble(), 0.001);

    // Lueker constants, borate of Uppström; python with brentq gives 8.04579108 without fluoride, whose 68 µmol/kg move it by less than 1e-6
    [Fact]
    public async Task Carbonate_from_alkalinity_and_carbon()
    {
        var json = (await Called.With("carbonate", "--alkalinity", "2300 umol/kg", "--dic", "2000 umol/kg", "--salinity", "35", "--temperature", "25", "--json")).Json;
        Assert.Equal(["ph_total", "alkalinity_umol_per_kg", "dic_umol_per_kg", "pco2_uatm", "co2_umol_per_kg", "bicarbonate_umol_per_kg", "carbonate_umol_per_kg", "omega_aragonite", "omega_calcite", "constants"], Called.Keys(json));
        Assert.Equal(8.04579108, json.GetProperty("ph_total").GetDouble(), 1e-6);
        Assert.Equal(-5.8472, Math.Log10(json.GetProperty("constants").GetProperty("k1").GetDouble()), 0.5e-4);
        var back = (await Called.With("carbonate", "--ph", "8.045791", "--pco2", "397.053463 uatm", "--salinity", "35", "--temperature", "25 C", "--json")).Json;
        Assert.Equal(2300, back.GetProperty("alkalinity_umol_per_kg").GetDouble(), 0.01);
        var lee = (await Called.With("carbonate", "--alkalinity", "2300 umol/kg", "--ph", "8.045", "--borate", "lee", "--salinity", "35", "--temperature", "25 C", "--json")).Json;
        Assert.Equal(0.0004326029, lee.GetProperty("constants").GetProperty("borate").GetDouble(), 1e-9);
    }

    [Fact]
    public async Task A_pH_of_ordinary_buffers_is_turned_with_its_doubt()
    {
        var said = (await Called.With("carbonate", "--alkalinity", "8.0 dKH", "--ph", "8.200", "--ph-scale", "nbs", "--salinity", "35", "--temperature", "25 C")).Output;
        // 0.10 to 0.13 higher than the total scale (common practice): 8.085, and 1.96 · 0.015/√3
        Assert.StartsWith("pH 8.0850 ± 0.017 on the total scale", said, StringComparison.Ordinal);
    }

    // Emerson et al. 1975: pKa 9.24634 at 25 °C, 5.37 % at pH 8; Bell et al. 2007: 6.46 % at pH 8.2, S 35
    [Theory]
    [InlineData("8.0", null, 0.0537)]
    [InlineData("8.2", "35", 0.0646)]
    public async Task Ammonia_in_fresh_and_sea(string ph, string? salinity, double fraction)
    {
        string[] args = ["ammonia", "--total", "0.5 mg/L NH3-N", "--ph", ph, "--temperature", "25 C", "--json", .. salinity is null ? Array.Empty<string>() : ["--salinity", salinity]];
        var json = (await Called.With(args)).Json;
        Assert.Equal(fraction, json.GetProperty("fraction_unionised").GetDouble(), 0.5e-4);
        Assert.Equal(0.5 * json.GetProperty("fraction_unionised").GetDouble(), json.GetProperty("unionised").GetDouble(), 1e-12);
        Assert.Equal("mg/L NH3-N", json.GetProperty("unit").GetString());
    }

    [Theory]
    [InlineData("exactly one", "seawater", "--temperature", "25 C")]
    [InlineData("exactly one", "seawater", "--temperature", "25 C", "--salinity", "35", "--density", "1023 kg/m3")]
    [InlineData("unit is not known", "seawater", "--temperature", "25 C", "--conductivity", "53 ohm")]
    [InlineData("0 to 42", "seawater", "--temperature", "25 C", "--salinity", "50")]
    [InlineData("Give two", "carbonate", "--alkalinity", "8 dKH", "--salinity", "35", "--temperature", "25 C")]
    [InlineData("3 are given", "carbonate", "--alkalinity", "8 dKH", "--ph", "8.1", "--pco2", "400", "--salinity", "35", "--temperature", "25 C")]
    [InlineData("scale", "carbonate", "--alkalinity", "8 dKH", "--ph", "8.1", "--ph-scale", "free", "--salinity", "35", "--temperature", "25 C")]
    [InlineData("soda water", "carbonate", "--alkalinity", "2300 umol/kg", "--dic", "8000 umol/kg", "--salinity", "35", "--temperature", "25 C")]
    [InlineData("no form of ammonia", "ammonia", "--total", "5 mg/L NO3", "--ph", "8", "--temperature", "25 C")]
    [InlineData("0 to 14", "ammonia", "--total", "0.5 mg/L NH3", "--ph", "15", "--temperature", "25 C")]
    public async Task A_bad_call_is_refused_with_one_sentence(string says, params string[] args) =>
        Assert.Contains(says, (await Called.With(args)).Refused().Error, StringComparison.Ordinal);

    [Fact]
    public async Task A_point_is_the_decimal_sign_of_the_command()
    {
        // three digits behind a point are no group of a thousand; a comma may be, and is asked about
        Assert.Equal(0, (await Called.With("judge", "--reference", "8.123 dKH", "--reference-u", "0.050 dKH", "--tolerance", "0.300 dKH", "8.123", "8.205", "8.111")).Exit);
        Assert.Contains("can mean", (await Called.With("convert", "5,234 mg/L NO3-N", "mg/L NO3")).Refused().Error, StringComparison.Ordinal);
    }
}
