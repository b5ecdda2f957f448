using System.Net;

namespace Knownwater.Web.Tests;

public sealed class DriftPageTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    [Fact]
    public async Task A_method_has_its_course_with_a_picture_a_table_and_the_next_check()
    {
        var reader = app.Open();
        Assert.Contains("No methods yet.", (await reader.Get("/drift")).Text, StringComparison.Ordinal);
        await Walk.Furnish(reader);
        var list = await reader.Get("/drift");
        Assert.Contains("Nothing has moved that the checks could see.", list.Text, StringComparison.Ordinal);
        var address = list.Links.Single(l => l.StartsWith("/drift/", StringComparison.Ordinal) && l != "/drift/watch");
        var course = await reader.Get(address);
        Assert.Contains("No check counts yet.", course.Text, StringComparison.Ordinal);

        var method = address["/drift/".Length..];
        foreach (var readings in (string[][])[["7.9", "7.8", "8.0", "7.9", "7.9"], ["8.0", "7.9", "7.9", "8.0", "7.9"], ["7.8", "7.9", "7.9", "7.8", "7.9"]])
            await Walk.Read(reader, await Walk.Start(reader, more: [("Method", method)]), readings);
        course = await reader.Get(address);
        Assert.Contains("Holds steady.", course.Text, StringComparison.Ordinal);
        Assert.Contains("Check by ", course.Text, StringComparison.Ordinal);
        Assert.Contains("Until eight checks this follows from what is common", course.Text, StringComparison.Ordinal);
        Assert.Contains("Scatter from check to check", course.Text, StringComparison.Ordinal);
        Assert.Equal(3, course.Links.Count(l => l.StartsWith("/checks/", StringComparison.Ordinal) && Guid.TryParse(l["/checks/".Length..], out _)));
        Assert.Contains("src=\"/assets/drift.js?v=", course.Html, StringComparison.Ordinal);
        Assert.Contains("src=\"/assets/print.js?v=", course.Html, StringComparison.Ordinal);
        Assert.Contains("data-shown=\"2026-01-05 2026-02-03\" data-all=", (await reader.Get(address + "?from=2026-01-05&to=2026-02-03")).Html, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await reader.Get(address + "/picture.svg")).Status);
        Assert.Equal("image/png", (await reader.Get(address + "/picture.png")).Headers["Content-Type"]);

        // three checks give one score; the other charts begin with the fourth
        Assert.Contains("it begins with the fourth check", (await reader.Get(address + "/charts")).Text, StringComparison.Ordinal);

        // what the owner bears is typed in a form that keeps what was typed
        Assert.Contains("one false alarm a year over all methods together", (await reader.Get("/drift")).Text, StringComparison.Ordinal);
        var watch = await reader.Send(await reader.Get("/drift/watch"), "/drift/watch", "", ("FalseAlarms", "99"), ("Risk", "20"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, watch.Status);
        Assert.Contains("99 is above 12, one a month.", watch.Text, StringComparison.Ordinal);
        Assert.Contains("value=\"20\"", watch.Html, StringComparison.Ordinal);
        watch = await reader.Send(watch, "/drift/watch", "", ("FalseAlarms", "2"));
        Assert.Contains("Kept: two false alarms a year over all methods, and a check is due at a chance of 20", watch.Text, StringComparison.Ordinal);
        await reader.Send(watch, "/undo");
        Assert.Contains("one false alarm a year over all methods together", (await reader.Get("/drift")).Text, StringComparison.Ordinal);

        // an alarm is closed with what it was; a form without a reason comes back
        for (var i = 0; i < 3; i++)
            await Walk.Read(reader, await Walk.Start(reader, more: [("Method", method)]), "7.9", "7.8", "8.0", "7.9", "7.9");
        await Walk.Read(reader, await Walk.Start(reader, more: [("Method", method)]), "7.0", "7.0", "6.9", "7.0", "7.1");
        Assert.Contains($"/drift/{method}#alarms", (await reader.Get("/due")).Links);
        var alarm = await reader.Get((await reader.Get(address)).Links.Single(l => l.StartsWith(address + "/alarms/", StringComparison.Ordinal)));
        Assert.Contains("fell far below what was foretold.", alarm.Text, StringComparison.Ordinal);
        alarm = await reader.Send(alarm, alarm.Address);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, alarm.Status);
        course = await reader.Send(alarm, alarm.Address, "", ("Reason", "the bottle had stood open"));
        Assert.Contains("The alarm is closed.", course.Text, StringComparison.Ordinal);
        Assert.Contains(": the bottle had stood open", course.Text, StringComparison.Ordinal);
        Assert.DoesNotContain($"/drift/{method}#alarms", (await reader.Get("/due")).Links);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get($"{address}/alarms/{Guid.NewGuid()}")).Status);

        // the same checks on other charts, each with its table and its picture to take away
        Assert.Contains(address + "/charts", course.Links);
        var charts = await reader.Get(address + "/charts");
        Assert.Contains("raises an alarm", charts.Text, StringComparison.Ordinal);
        Assert.Equal(6, charts.Html.Split("The same as a table").Length - 1);
        // 370.4 and 91.75, rounded (Champ and Woodall 1987)
        Assert.Contains("once in about 370 checks", charts.Text, StringComparison.Ordinal);
        Assert.Contains("once in about 92 checks", charts.Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await reader.Get(address + "/charts/sums.svg")).Status);
        Assert.Equal("image/png", (await reader.Get(address + "/charts/scatter.png")).Headers["Content-Type"]);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get(address + "/charts/other.svg")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get($"/drift/{Guid.NewGuid()}/charts")).Status);

        // a span that is no span shows all
        Assert.Contains("7 checks since", (await reader.Get(address + "?from=nonsense&to=2026-01-01")).Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get($"/drift/{Guid.NewGuid()}")).Status);
    }
}
