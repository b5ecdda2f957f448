using System.Net;

namespace Knownwater.Web.Tests;

public sealed class TankPagesTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    private static async Task<string> Tank(Reader reader, string name = "Lagoon", string kind = "Reef") =>
        (await reader.Send(await reader.Get("/tanks/new"), "/tanks/new", "", ("Name", name), ("Kind", kind), ("Volume", "280"), ("Salinity", kind == "Reef" ? "35" : ""))).Address;

    private static async Task Method(Reader reader, string what, string instrument = "the harbour analyser")
    {
        var page = await reader.Send(await reader.Get("/instruments/new"), "/instruments/new", "", ("Name", instrument));
        await reader.Send(await reader.Get(page.Address + "/methods/new"), "/methods/new", "save", ("What", what));
    }

    [Fact]
    public async Task Several_readings_of_a_tank_are_entered_in_one_go_and_undone()
    {
        var reader = app.Open();
        await Method(reader, "alkalinity|dKH");
        await Method(reader, "nitrate|mg/L NO3", "the second analyser");
        Assert.Contains("No tanks yet.", (await reader.Get("/tanks")).Text, StringComparison.Ordinal);
        var tank = await Tank(reader);
        var page = await reader.Get(tank + "/readings/new");
        Assert.Contains("Alkalinity, the harbour analyser", page.Text, StringComparison.Ordinal);
        Assert.Matches("^\\d{4}-\\d\\d-\\d\\dT\\d\\d:\\d\\d$", page.Field("At"));
        page = await reader.Send(page, "/readings/new", "", ("Lines[0].Typed", "8,2"), ("Lines[1].Typed", "<0.5"), ("Who", "MJ"));
        Assert.Equal(tank, page.Address);
        Assert.Contains("Lagoon: alkalinity 8.2 dKH and nitrate <0.5 mg/L NO₃ entered.", page.Text, StringComparison.Ordinal);
        Assert.Contains("last 8.2", (await reader.Get(tank + "/readings/new")).Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/undo");
        Assert.Contains("Nothing was read here yet.", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_cannot_be_read_comes_back_as_typed_beside_its_field()
    {
        var reader = app.Open();
        await Method(reader, "alkalinity|dKH");
        await Method(reader, "nitrate|mg/L NO3", "the second analyser");
        var tank = await Tank(reader);
        var page = await reader.Send(await reader.Get(tank + "/readings/new"), "/readings/new", "", ("Lines[0].Typed", "8.2"), ("Lines[1].Typed", "1,234"), ("Note", "after feeding"));
        Assert.Equal(("8.2", "1,234", "after feeding"), (page.Field("Lines[0].Typed"), page.Field("Lines[1].Typed"), page.Field("Note")));
        Assert.Contains("Use 1.234", page.Text, StringComparison.Ordinal);
        page = await reader.Send(await reader.Get(tank + "/readings/new"), "/readings/new");
        Assert.Contains("Nothing is written yet.", page.Text, StringComparison.Ordinal);
        Assert.Contains("Nothing was read here yet.", (await reader.Get(tank)).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_number_ten_times_the_last_is_asked_about_and_kept_when_confirmed()
    {
        var reader = app.Open();
        await Method(reader, "alkalinity|dKH");
        var tank = await Tank(reader);
        await reader.Send(await reader.Get(tank + "/readings/new"), "/readings/new", "", ("Lines[0].Typed", "8.2"));
        var page = await reader.Send(await reader.Get(tank + "/readings/new"), "/readings/new", "", ("Lines[0].Typed", "81"));
        Assert.Contains("81 dKH is ten times the last reading here, 8.2. Did you mean 8.1?", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/readings/new", "", ("Confirmed", "yes"));
        Assert.Equal(tank, page.Address);
        Assert.Contains("81 dKH", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_dose_is_recorded_and_a_tank_taken_off_can_come_back()
    {
        var reader = app.Open();
        var tank = await Tank(reader, "Brook", "PlantedFresh");
        var page = await reader.Send(await reader.Get(tank + "/doses/new"), "/doses/new", "save", ("What", "potassium nitrate solution"), ("Amount", "12"));
        Assert.Contains("12 of what?", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/doses/new", "save", ("Amount", "12,5 mL"), ("Parameter", "nitrate"));
        Assert.Contains("12,5 mL of potassium nitrate solution dosed.", page.Text, StringComparison.Ordinal);
        page = await reader.Send(await reader.Get(tank + "/change"), "/remove", "", ("Reason", "sold"));
        Assert.StartsWith("/history", page.Address, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get(tank)).Status);
    }
}
