using System.Net;

namespace Knownwater.Web.Tests;

public sealed class ProofPageTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    [Fact]
    public async Task Kind_and_class_fill_in_the_figures_and_nothing_typed_is_lost()
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get("/known-water/glassware/new"), "/glassware/new", "kind", ("Kind", "Flask"), ("Name", "F500"));
        Assert.Equal("F500", page.Field("Name"));
        page = await reader.Send(page, "/glassware/new", "figures", ("Listed", "Flask, ISO 1042, A, 500 mL"));
        Assert.Equal(("500", "0.25", "ISO 1042, A; confirmed", "F500"), (page.Field("Nominal"), page.Field("Tolerance"), page.Field("Basis"), page.Field("Name")));
        Assert.Contains("Its figures are confirmed.", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/glassware/new", "save");
        Assert.Contains("F500", page.Text, StringComparison.Ordinal);
        Assert.Contains("Not proven yet.", page.Text, StringComparison.Ordinal);

        // a class of another kind is not taken
        page = await reader.Send(await reader.Get("/known-water/glassware/new"), "/glassware/new", "figures", ("Kind", "Burette"), ("Listed", "Flask, ISO 1042, A, 500 mL"));
        Assert.Contains("No class and size is chosen.", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_piece_is_changed_with_its_figures_as_they_were_typed()
    {
        var reader = app.Open();
        var page = await Pipette(reader);
        page = await reader.Get(page.Address + "/change");
        Assert.Equal("0.008", page.Field("Tolerance"));
        var refused = await reader.Send(page, "/change", "save", ("Least", "7"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Equal("7", refused.Field("Least"));
        page = await reader.Send(page, "/change", "save", ("Tolerance", "0.8 %"));
        Assert.Contains("0.8 % to both sides", page.Text, StringComparison.Ordinal);
    }

    // the worked pipette: 0.9966 mL, 0.34 % low, 0.0018 mL of scatter (by hand; see the library's tests)
    [Fact]
    public async Task A_pipette_is_proven_weighing_by_weighing_and_the_result_stands_first()
    {
        var reader = app.Open();
        var piece = (await Pipette(reader)).Address;
        Assert.Contains("A proof needs a balance.", (await reader.Get(piece + "/prove")).Text, StringComparison.Ordinal);
        await Balance(reader, "fine", "0.001", "0.002");

        var page = await reader.Send(await reader.Get(piece + "/prove"), "/prove", "begin", ("Setting", "1"), ("Temperature", "22"), ("Who", "MJ"));
        Assert.Contains("Tare. Deliver 1 mL. Cover. Weigh.", page.Text, StringComparison.Ordinal);
        Assert.Contains("Wet the tip three to five times.", page.Text, StringComparison.Ordinal);
        var address = page.Address;
        string[] weighings = ["0.992", "0.995", "0.991", "0.994"];
        foreach (var grams in weighings)
            page = await reader.Send(page, "/keep", "keep", ("Typed", grams));
        Assert.Contains("So far: 0.99", page.Text, StringComparison.Ordinal);
        Assert.Contains("Finish with these", page.Text, StringComparison.Ordinal);

        // a slip is asked about, the number stays
        page = await reader.Send(page, "/keep", "keep", ("Typed", "9.96"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal("9.96", page.Field("Typed"));
        Assert.Contains("It does show 9.96", page.Text, StringComparison.Ordinal);

        // the others at once
        page = await reader.Send(await reader.Get(address), "/keep", "keep", ("Typed", "0.996\r\n0.992\r\n0.994\r\n0.993\r\n0.995\r\n0.990"));
        Assert.Contains("All is weighed.", page.Text, StringComparison.Ordinal);
        page = await reader.Send(await reader.Get(address + "/weighings/10"), "/weighings/10", "change", ("Typed", "0.991"));
        page = await reader.Send(page, "/finish");
        Assert.Contains("Delivers 0.9966 mL where 1 mL is set: 0.34 % low", page.Text, StringComparison.Ordinal);
        Assert.Contains("within its limit of 0.8 %", page.Text, StringComparison.Ordinal);
        Assert.True(page.Text.IndexOf("Delivers 0.9966", StringComparison.Ordinal) < page.Text.IndexOf("standard uncertainty", StringComparison.Ordinal));

        Assert.Contains("at 1 mL", (await reader.Get(piece)).Text, StringComparison.Ordinal);
        Assert.Contains("Proven: ", (await reader.Get("/known-water/glassware")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_balance_too_coarse_is_refused_with_what_would_do()
    {
        var reader = app.Open();
        var piece = (await Pipette(reader)).Address;
        await Balance(reader, "pocket", "0.01", "0.02");
        var page = await reader.Send(await reader.Get(piece + "/prove"), "/prove", "begin", ("Setting", "1"), ("Temperature", "22,5"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal("22,5", page.Field("Temperature"));
        Assert.Contains("The balance is too coarse for this", page.Text, StringComparison.Ordinal);
        Assert.Contains("Weigh 10 deliveries as one sum, or take a balance with a step of 0.001 g.", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/prove", "begin", ("DeliveriesEach", "10"));
        Assert.Contains("Deliver 1 mL ten times. Weigh once.", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/keep", "keep", ("Typed", "9.93"));
        page = await reader.Send(page, "/finish");
        // 9.93 g · 1.0034 mL/g at 22.5 °C
        Assert.Contains("Delivers 0.996", page.Text, StringComparison.Ordinal);
        Assert.Contains("assumed", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_balance_is_proven_by_a_check_weight_and_a_proof_is_dropped_with_a_reason()
    {
        var reader = app.Open();
        var piece = (await Balance(reader, "pocket", "0.01", "0.02")).Address;
        var page = await reader.Send(await reader.Get(piece + "/prove"), "/prove", "begin", ("Weight", "M1|10"));
        Assert.Contains("never a coin", page.Text, StringComparison.Ordinal);
        foreach (var grams in new[] { "10.01", "10.02", "10.01", "10.02", "10.02" })
            page = await reader.Send(page, "/keep", "keep", ("Typed", grams));
        page = await reader.Send(page, "/finish");
        Assert.Contains("Shows 10.016", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/remove", "", ("Reason", ""));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        page = await reader.Send(page, "/remove", "", ("Reason", "another weight was taken"));
        Assert.Contains("dropped: another weight was taken", page.Text, StringComparison.Ordinal);
        Assert.Contains("Not proven yet.", (await reader.Get(piece)).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_not_there_is_said()
    {
        var reader = app.Open();
        var piece = (await Pipette(reader)).Address;
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get($"/known-water/glassware/{Guid.NewGuid()}/prove")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get($"{piece}/prove/{Guid.NewGuid()}")).Status);
    }

    private static async Task<Sheet> Pipette(Reader reader) =>
        await reader.Send(await reader.Send(await reader.Get("/known-water/glassware/new"), "/glassware/new", "figures", ("Listed", "PistonPipette, ISO 8655-2:2002, type A, 1 mL"), ("Name", "P1")), "/glassware/new", "save");

    private static async Task<Sheet> Balance(Reader reader, string name, string step, string limit) =>
        await reader.Send(await reader.Get("/known-water/glassware/new?kind=Balance"), "/glassware/new", "save", ("Name", name), ("Tolerance", limit), ("Readability", step));
}
