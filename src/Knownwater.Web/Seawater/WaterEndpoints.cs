using Knownwater.Records.Seawater;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Seawater;

/// <summary>What a water is: salinity, density, carbonate state, un-ionised ammonia.</summary>
internal static class WaterEndpoints
{
    public static void MapWater(this IEndpointRouteBuilder app) =>
        app.MapGet("/tanks/water", async (HttpContext context, LookAtWater look, CancellationToken cancel) =>
        {
            var form = new FormState(context.Request.Query.Select(q => KeyValuePair.Create(q.Key, q.Value.ToString())));
            if (context.Request.Query.Count == 0)
            {
                (form["Kind"], form["Saltiness"], form["Temperature"], form["AlkalinityForm"], form["Scale"]) = ("sea", "35", "25", "dKH", "buffers");
                return Pages.Show<TankWaterPage>(new TankWaterPage.Content(null, form));
            }
            var (view, faults) = await look.Handle(new LookAtWater.Query
            {
                IsFresh = form["Kind"] == "fresh",
                Temperature = form["Temperature"],
                IsFahrenheit = form["Degrees"] == "F",
                SaltinessBy = form.Word<SaltinessBy>("By"),
                Saltiness = form["Saltiness"],
                Alkalinity = form["Alkalinity"],
                AlkalinityForm = form["AlkalinityForm"],
                Hardness = form["Hardness"],
                Ph = form["Ph"],
                IsTotalScale = form["Scale"] == "total",
                Ammonia = form["Ammonia"],
            }, cancel);
            form.Faults = faults;
            return faults.Count > 0 ? Pages.Again<TankWaterPage>(new TankWaterPage.Content(null, form)) : Pages.Show<TankWaterPage>(new TankWaterPage.Content(view, form));
        });
}
