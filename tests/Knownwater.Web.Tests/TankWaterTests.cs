using System.Net;

namespace Knownwater.Web.Tests;

public sealed class TankWaterTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    private Task<Sheet> Ask(string query) => app.Open().Get("/tanks/water?" + query);

    [Fact]
    public async Task Seawater_its_instruments_its_carbonate_and_its_ammonia()
    {
        Assert.Contains("What water is it?", (await app.Open().Get("/tanks/water")).Text, StringComparison.Ordinal);
        Assert.Contains("/tanks/water", (await app.Open().Get("/tanks")).Links);
        var page = await Ask("Kind=sea&Temperature=77&Degrees=F&By=Salinity&Saltiness=35&Alkalinity=8.0&AlkalinityForm=dKH&Ph=8.2&Scale=buffers&Ammonia=0.2");
        // 1023.34 kg/m³ and 53.07 mS/cm at 25 °C; 1.0264 at 25/25, 1.0234 at 25/4 (gsw)
        Assert.Contains("Salinity 35.0, 1023.3 kg/m³ at 25.0 °C", page.Text, StringComparison.Ordinal);
        Assert.Contains("53.07 mS/cm", page.Text, StringComparison.Ordinal);
        Assert.Contains("made for 25 °C against 25 °C 1.0264", page.Text, StringComparison.Ordinal);
        Assert.Contains("made for 25 °C against 4 °C 1.0234", page.Text, StringComparison.Ordinal);
        // 8.2 less 0.115; R seacarb and python give the carbonate at 8.085 (see the library's tests)
        Assert.Contains("On the total scale that is 8.08 give or take 0.02.", page.Text, StringComparison.Ordinal);
        Assert.Contains("Saturation of aragonite 4.43 ± 0.13", page.Text, StringComparison.Ordinal);
        // 0.2 mg/L N, 6.46 % (Bell), as NH3: 0.0157 mg/L; with the lower pKa 8.1 % and 0.0197, below 0.02
        Assert.Contains("Un-ionised 0.016 mg/L NH₃, 6.5 %", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("animals suffer", page.Text, StringComparison.Ordinal);
        Assert.Contains("animals suffer", (await Ask("Kind=sea&Temperature=25&Saltiness=35&Ph=8.2&Ammonia=0.5&AlkalinityForm=dKH")).Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("By=Conductivity&Saltiness=53.07")]
    [InlineData("By=SpecificGravity&Saltiness=1.02637")]
    public async Task Saltiness_by_what_was_measured(string query) =>
        Assert.Contains("Salinity 35.0,", (await Ask("Kind=sea&Temperature=25&AlkalinityForm=dKH&" + query)).Text, StringComparison.Ordinal);

    [Fact]
    public async Task Fresh_water_says_its_gas_with_its_doubt_and_its_caveat()
    {
        var page = await Ask("Kind=fresh&Temperature=25&Alkalinity=4&AlkalinityForm=dKH&Hardness=8&Ph=7.0&Ammonia=0.5");
        Assert.Contains("1.43 meq/L, 71.4 mg/L CaCO₃", page.Text, StringComparison.Ordinal);
        // a German degree is 10 mg/L CaO: 17.85 mg/L CaCO3, 0.1783 mmol/L
        Assert.Contains("8 dGH, 143 mg/L CaCO₃, 1.43 mmol/L", page.Text, StringComparison.Ordinal);
        Assert.Contains("4 dGH of it", page.Text, StringComparison.Ordinal);
        // 13.4 mg/L by hand; a pH right to 0.1 (rectangular) is 13 % of it, one standard uncertainty
        Assert.Contains("Carbon dioxide 13.4 ± 3.5 mg/L", page.Text, StringComparison.Ordinal);
        Assert.Contains("driftwood", page.Text, StringComparison.Ordinal);
        Assert.Contains("Emerson et al. 1975", page.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Kind=sea&Temperature=&Saltiness=35", "temperature is missing")]
    [InlineData("Kind=sea&Temperature=77&Saltiness=35", "outside 0 to 40 °C")]
    [InlineData("Kind=sea&Temperature=25&Saltiness=", "salinity is missing")]
    [InlineData("Kind=sea&Temperature=25&Saltiness=60", "0 to 42")]
    [InlineData("Kind=sea&Temperature=25&Saltiness=35&Ph=83", "at most")]
    [InlineData("Kind=sea&Temperature=25&Saltiness=35&Ammonia=0.5", "hangs on the pH")]
    [InlineData("Kind=sea&Temperature=25&Saltiness=35&Alkalinity=a lot&Ph=8.2", "a lot")]
    [InlineData("Kind=fresh&Temperature=25&Alkalinity=4&Ph=10.5", "5 to 9.5")]
    public async Task What_cannot_be_is_said_beside_its_field_and_stays(string query, string says)
    {
        var page = await Ask(query + "&AlkalinityForm=dKH");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains(says, page.Text, StringComparison.Ordinal);
    }
}
