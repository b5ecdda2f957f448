using System.Net;

namespace Knownwater.Web.Tests;

public sealed class BeforePageTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    /// <summary>A check of alkalinity on an analyser, begun by the button that leads to what must hold.</summary>
    private static async Task<Sheet> Begin(Reader reader, params (string Name, string Value)[] method)
    {
        var instrument = (await reader.Send(await reader.Get("/instruments/new"), "/instruments/new", "", ("Name", "the harbour analyser"))).Address;
        var page = await reader.Send(await reader.Get(instrument + "/methods/new"), "/methods/new", "save", [("What", "alkalinity|dKH"), ("RangeHigh", "15"), ("Resolution", "0.1"), .. method]);
        var check = page.Links.First(l => l.StartsWith("/checks/new?method=", StringComparison.Ordinal));
        page = await reader.Send(await reader.Get(check), "/checks/new", "plan", ("Levels[0].Known", "7.90"), ("Levels[0].Doubt", "0.08"), ("ToleranceAbsolute", "0.3"), ("TolerancePercent", "2"));
        Assert.Contains("value=\"steps\"", page.Html, StringComparison.Ordinal);
        return await reader.Send(page, "/checks/new", "steps", ("Replicates", "3"));
    }

    private static readonly (string, string)[] Said =
        [("Dosing", "paused"), ("PausedAt", "00:00"), ("Confirmed.Matrix", "yes"), ("Confirmed.UseBy", "yes"), ("Confirmed.Amount", "yes"), ("Confirmed.Lots", "yes"), ("Confirmed.Temperature", "yes")];

    [Fact]
    public async Task Starting_a_check_leads_to_what_must_hold_and_on_to_the_run_sheet()
    {
        var reader = app.Open();
        var page = await Begin(reader, ("SampleVolume", "5"));
        Assert.EndsWith("/before", page.Address, StringComparison.Ordinal);
        var check = page.Address[..^"/before".Length];
        foreach (var part in new[] { "Automatic dosing", "Kind of water", "Date of the known water", "Range of the method", "Enough known water", "Reagents", "Sample volume", "Temperature", "Number of readings", "needs you", "holds" })
            Assert.Contains(part, page.Text, StringComparison.Ordinal);
        Assert.Contains("6 rinses of 10 mL and 3 samples of 5 mL", page.Text, StringComparison.Ordinal);
        Assert.Equal(1, page.Html.Split("<h1").Length - 1);

        page = await reader.Send(page, "/before", "run", ("Confirmed.Temperature", "yes"), ("Who", "MJ"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains("Say that it is paused, or that nothing listens.", page.Text, StringComparison.Ordinal);
        Assert.Equal("MJ", page.Field("Who"));
        page = await reader.Send(page, "/before", "run", Said);
        Assert.EndsWith("/run", page.Address, StringComparison.Ordinal);
        Assert.Contains("Step 1 of", page.Text, StringComparison.Ordinal);

        Assert.Contains($"{check}/dosing", (await reader.Get("/due")).Links);
        page = await reader.Get(check);
        Assert.DoesNotContain("What must hold before the first reading", page.Text, StringComparison.Ordinal);
        page = await reader.Send(await reader.Get(check + "/dosing"), "/dosing", "", ("At", "99:00"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains("“99:00” is not a time.", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/dosing", "", ("At", ""));
        Assert.Contains("Automatic dosing listens again since", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain($"{check}/dosing", (await reader.Get("/due")).Links);
    }

    [Fact]
    public async Task It_leads_to_the_readings_as_well_and_what_stood_in_the_way_is_on_the_verdict()
    {
        var reader = app.Open();
        var page = await Begin(reader);
        var check = page.Address[..^"/before".Length];
        Assert.Contains("stands in the way", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/before", "readings", Said);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains("The sample volume is not noted. Write it here, or say why you go on without it.", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/before", "readings", ("Reasons.SampleVolume", "the <leaflet> is lost"));
        Assert.Equal(check, page.Address);
        page = await Walk.Read(reader, page, "8.6", "8.8", "8.7");
        Assert.Contains("Begun all the same", page.Text, StringComparison.Ordinal);
        Assert.Contains("Because: the <leaflet> is lost", page.Text, StringComparison.Ordinal);
        Assert.Contains("Begun although how much sample the method takes is not noted: the <leaflet> is lost.", page.Text, StringComparison.Ordinal);
        Assert.Contains($"{check}/dosing", page.Links);
        // the check is closed: what must hold before it is no question any more
        Assert.Equal(check, (await reader.Get(check + "/before")).Address);
    }

    [Fact]
    public async Task A_sample_volume_written_here_is_kept_with_the_method()
    {
        var reader = app.Open();
        var page = await Begin(reader);
        page = await reader.Send(page, "/before", "run", [.. Said, ("SampleVolume", "a spoon")]);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal("a spoon", page.Field("SampleVolume"));
        Assert.Equal("00:00", page.Field("PausedAt"));
        page = await reader.Send(page, "/before", "run", ("SampleVolume", "4,5"));
        Assert.EndsWith("/run", page.Address, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_a_method_there_is_nothing_to_look_at_and_a_check_that_is_not_there_is_missing()
    {
        var reader = app.Open();
        var quick = await Walk.Start(reader);
        var page = await reader.Get(quick.Address + "/before");
        Assert.Contains("names no method", page.Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get($"/checks/{Guid.NewGuid()}/before")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get(quick.Address + "/dosing")).Status);
    }
}
