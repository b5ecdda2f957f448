using Knownwater.Checks;
using Knownwater.Records.Checks;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Checks;

/// <summary>What to suspect when a check fails, and where each test begins.</summary>
internal static class CausesEndpoints
{
    public static void MapCauses(this IEndpointRouteBuilder app) =>
        app.MapGet("/checks/{id:guid}/causes", async (Guid id, DiagnoseCheck diagnose, CancellationToken cancel) =>
            await diagnose.Handle(id, cancel) is { } found ? Pages.Show<CausesPage>(found) : Pages.Missing("There is no finished check here that could be looked into."));

    /// <summary>The page where a test is begun, and what its button says; a repeat is a post to the check itself.</summary>
    public static (bool IsRepeat, string Address, string Words) Plan(CheckDiagnosis of, TestKind test)
    {
        string Check(string rest) => $"/checks/new?{(of.Method is { } m ? $"method={m}" : "")}{rest}";
        var water = of.Water is { } bottle ? $"&water={bottle}" : "";
        return test switch
        {
            TestKind.Repeat or TestKind.WaitAndRepeat => (true, "", "Check again, by the same plan"),
            TestKind.ReadLabels => (false, $"/checks/{of.Check}/describe", "See what the records say"),
            TestKind.LookUpSettings => (false, of.Instrument is { } i ? $"/instruments/{i}" : "/instruments", "See the settings"),
            TestKind.WeighSample => (false, "/known-water/glassware", "Weigh a pipette’s deliveries"),
            TestKind.CleanAndBlank or TestKind.OtherBlank => (false, Check("&known=0"), "Plan a blank"),
            TestKind.FreshWater => (false, of.Preparation is { } again ? $"/known-water/prepare?again={again}" : of.Stock is { } stock ? $"/known-water/prepare?stock={stock}" : "/known-water/prepare", "Prepare it"),
            TestKind.SecondStock => (false, "/known-water/stocks", "See the stocks"),
            TestKind.NewLot when of.Method is not null => (false, Check($"&kind={nameof(CheckKind.Changeover)}{water}"), "Plan a changeover check"),
            TestKind.NewLot => (false, Check(water), "Plan the same water"),
            _ => (false, of.Stock is { } s ? $"/known-water/prepare?stock={s}" : "/known-water/prepare", "Prepare it"),
        };
    }
}
