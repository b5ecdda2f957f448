using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Benches;

/// <summary>What holds for the whole bench: its name, decimal sign, time zone and main use.</summary>
internal static class BenchEndpoints
{
    public static void MapBench(this IEndpointRouteBuilder app)
    {
        app.MapGet("/bench", async (bool? saved, HttpContext context, ViewBench view, CancellationToken cancel) =>
        {
            var bench = await view.Handle(cancel);
            var form = new FormState
            {
                ["Name"] = bench.Name,
                ["DecimalSign"] = bench.DecimalSign?.ToString() ?? "",
                ["TimeZone"] = bench.TimeZone,
                ["MainUse"] = bench.MainUse.ToString(),
                ["Who"] = Pages.Who(context),
            };
            return Pages.Show<BenchPage>(new BenchPage.Content(form, saved == true));
        });

        app.MapPost("/bench", async (IFormCollection posted, HttpContext context, ChangeBench change, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await change.Handle(new ChangeBench.Command
            {
                Name = form["Name"],
                DecimalSign = form.WordOrNone<DecimalSign>("DecimalSign"),
                TimeZone = form["TimeZone"],
                MainUse = form.Word<MainUse>("MainUse"),
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is not ChangeBench.Outcome.Refused refused)
                return Pages.GoTo("/bench?saved=true");
            form.Faults = refused.Faults;
            return Pages.Again<BenchPage>(new BenchPage.Content(form, false));
        });
    }
}
