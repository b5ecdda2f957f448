namespace Knownwater.Web.Tests;

/// <summary>Steps that several tests take.</summary>
internal static class Walk
{
    /// <summary>Starts a check of alkalinity and stands before its first reading.</summary>
    public static async Task<Sheet> Start(Reader reader, string known = "7.90", string doubt = "0.08", string absolute = "0.3", string percent = "2", string replicates = "5", params (string Name, string Value)[] more)
    {
        var page = await reader.Get("/checks/new");
        page = await reader.Send(page, "/checks/new", "plan", [("What", "alkalinity|dKH"), ("Levels[0].Known", known), ("Levels[0].Doubt", doubt), ("ToleranceAbsolute", absolute), ("TolerancePercent", percent), .. more]);
        return await reader.Send(page, "/checks/new", "begin", ("Replicates", replicates));
    }

    /// <summary>Types readings one by one.</summary>
    public static async Task<Sheet> Read(Reader reader, Sheet page, params string[] readings)
    {
        foreach (var typed in readings)
            page = await reader.Send(page, "/readings", "keep", ("Typed", typed));
        return page;
    }

    /// <summary>A bench with an instrument, a method, a lot, a known water, and checks that read right and high.</summary>
    public static async Task Furnish(Reader reader)
    {
        var page = await reader.Send(await reader.Get("/instruments/new"), "/instruments/new", "", ("Name", "the harbour analyser"));
        var instrument = page.Address;
        page = await reader.Send(await reader.Get(instrument + "/methods/new"), "/methods/new", "save", ("What", "alkalinity|dKH"), ("MinutesPerReading", "12"), ("Resolution", "0.1"));
        page = await reader.Send(await reader.Get(instrument + "/lots/new"), "/lots/new", "", ("Name", "A-19"), ("Reagent", "alkalinity reagent"));
        page = await reader.Send(page, "/setting", "", ("What", "factor"), ("Old", "1.00"), ("New", "1.02"));
        page = await reader.Send(await reader.Get("/known-water/new"), "/known-water/new", "save", ("Label", "KW-1"), ("What", "alkalinity|dKH"), ("Known", "7.90"), ("Doubt", "0.08"), ("Origin", "Certificate"), ("OriginDetail", "26-0417"));
        page = await Read(reader, await Start(reader), "8.6", "8.8", "8.7", "8.9", "8.7");
        page = await Read(reader, await Start(reader), "7.9", "7.8", "8.0", "7.9", "7.9");
        page = await Read(reader, await Start(reader), "7.9");
    }
}
