using System.Globalization;
using Knownwater.Records;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Checks;

/// <summary>The first page of an empty program: what is measured, the known value, the tolerance, how many readings.</summary>
internal static class StartEndpoints
{
    private const int MostLevels = 6;

    public static void MapStart(this IEndpointRouteBuilder app)
    {
        app.MapGet("/", async (ListChecks checks, ListInstruments instruments, CancellationToken cancel) =>
        {
            var any = (await checks.Handle(new ListChecks.Query { PageSize = 1 }, cancel)).Total > 0 || (await instruments.Handle(cancel)).Count > 0;
            return Pages.GoTo(any ? "/due" : "/checks/new");
        });

        var begin = async (string? parameter, Guid? method, Guid? water, Guid[]? with, Guid? round, string? code, string? known, string? kind, FindByCode find, ViewBench viewBench, ListInstruments listInstruments, ListReferenceWaters listWaters, PlanReplicates plan, CancellationToken cancel) =>
        {
            var (bench, instruments, waters) = (await viewBench.Handle(cancel), await listInstruments.Handle(cancel), await listWaters.Handle(new ListReferenceWaters.Query(), cancel));
            var form = new FormState { ["Levels"] = "1", ["code"] = code ?? "" };
            if (code is { Length: > 0 })
            {
                var found = await find.Handle(code, cancel);
                if (found?.Water is { } there)
                    return Pages.GoTo($"/checks/new?water={there}{(method is { } own ? $"&method={own}" : "")}{(round is { } r ? $"&round={r}" : "")}");
                form.Faults = [new FieldFault("code", found is null
                    ? $"No bottle on the shelf has the code “{code.Trim()}”. It stands on the label, as in KW-12; or choose below."
                    : "That is a stock. Known water is made from it first; or its own page takes it as it is.")];
            }
            var methods = instruments.SelectMany(i => i.Methods).ToList();
            var chosen = methods.FirstOrDefault(m => m.Id == method);
            var bottle = waters.FirstOrDefault(w => w.Id == water);
            // a bottle that is known for several analytes gives the one that the method measures
            if (bottle is not null && chosen is not null && bottle.ParameterName != chosen.ParameterName)
                bottle = waters.FirstOrDefault(w => (w.Bottle ?? w.Id) == (bottle.Bottle ?? bottle.Id) && w.ParameterName == chosen.ParameterName) ?? bottle;
            var measured = chosen is not null ? new Measured(chosen.ParameterKey, chosen.Form.Text)
                : bottle is not null ? new Measured(bottle.ParameterKey, bottle.Form.Text)
                : Knownwater.Quantities.Parameter.Find(parameter ?? "") is { } listed ? Measured.Of(listed)
                : Measured.Default;
            form["What"] = measured.Key;
            if (measured.Parameter == Measured.Other)
            {
                form["Form"] = measured.Form;
                form["OtherName"] = chosen?.ParameterName ?? bottle?.ParameterName ?? "";
            }

            form["Method"] = chosen?.Id.ToString() ?? "";
            form["Levels[0].ReferenceWater"] = bottle?.Id.ToString() ?? "";
            form["Levels[0].Known"] = known ?? "";
            form["Round"] = round?.ToString() ?? "";
            form["Kind"] = kind ?? "";
            KindFields.Fill(form, chosen);
            var others = bottle is null ? [] : (with ?? []).Distinct().Select(w => waters.FirstOrDefault(b => b.Id == w && b.Id != bottle.Id && b.ParameterKey == bottle.ParameterKey)).OfType<ReferenceWaterView>().Take(MostLevels - 1).ToList();
            form["Levels"] = (others.Count + 1).ToString(CultureInfo.InvariantCulture);
            foreach (var (other, i) in others.Select((o, i) => (o, i + 1)))
                form[$"Levels[{i}].ReferenceWater"] = other.Id.ToString();
            var advice = bottle is not null ? (await Advise(plan, form, bench, cancel)).Advice : null;
            FillTolerance(form, bench, chosen, advice);
            var model = new StartPage.Content(form, bench, instruments, waters, advice);
            return form.Faults.Count > 0 ? Pages.Again<StartPage>(model) : Pages.Show<StartPage>(model);
        };
        app.MapGet("/checks/new", begin);
        app.MapGet("/checks/new/code", begin);

        app.MapPost("/checks/new", async (IFormCollection posted, HttpContext context, ViewBench viewBench, ListInstruments listInstruments, ListReferenceWaters listWaters, PlanReplicates plan, StartCheck start, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var (bench, instruments, waters) = (await viewBench.Handle(cancel), await listInstruments.Handle(cancel), await listWaters.Handle(new ListReferenceWaters.Query(), cancel));
            var method = instruments.SelectMany(i => i.Methods).FirstOrDefault(m => m.Id == form.Key("Method"));
            if (method is not null)
            {
                form["What"] = new Measured(method.ParameterKey, method.Form.Text).Key;
                if (method.ParameterKey == Measured.Other)
                    (form["Form"], form["OtherName"]) = (method.Form.Text, method.ParameterName);
            }

            KindFields.Fill(form, method);
            if (KindFields.Of(form, method) != CheckKind.Usual)
                form["Levels"] = "1";
            var act = form.OfferTaken ? "plan" : form["act"];
            var levels = Levels(form);
            if (act == "more")
                form["Levels"] = Math.Min(levels + 1, MostLevels).ToString(CultureInfo.InvariantCulture);
            if (act == "fewer")
                form["Levels"] = Math.Max(levels - 1, 1).ToString(CultureInfo.InvariantCulture);

            if (act is "begin" or "steps" && form["Replicates"].Length > 0)
            {
                var outcome = await start.Handle(Command(form, Pages.Who(context, form)), cancel);
                if (outcome is StartCheck.Outcome.Started started)
                    return Pages.GoTo($"/checks/{started.Check}{(act == "steps" ? "/before" : "")}");
                if (outcome is StartCheck.Outcome.Refused refused)
                    form.Faults = Placed(refused.Faults);
                var (again, _) = await Advise(plan, form, bench, cancel);
                FillTolerance(form, bench, method, again);
                return Pages.Again<StartPage>(new StartPage.Content(form, bench, instruments, waters, again));
            }

            ForgetOldTolerance(form);
            var (advice, faults) = await Advise(plan, form, bench, cancel);
            var live = context.Request.Headers.ContainsKey("X-Knownwater-Live");
            if (act is "plan" or "begin" or "steps" && !live)
                form.Faults = faults;
            else if (live)
                form.Faults = [.. faults.Where(f => f.Offers.Count > 0)];
            FillTolerance(form, bench, method, advice);
            Choose(form, advice);
            var model = new StartPage.Content(form, bench, instruments, waters, advice);
            return form.Faults.Count > 0 && !live ? Pages.Again<StartPage>(model) : Pages.Show<StartPage>(model);
        });
    }

    /// <summary>Whether a line check or changeover is made with the tank's water; the usual check has known water.</summary>
    public static bool IsSteady(FormState form) => form.Ticked("SteadyWater") && form.Word<CheckKind>("Kind") != CheckKind.Usual && form.Key("Method") is not null;

    public static int Levels(FormState form) =>
        int.TryParse(form["Levels"], CultureInfo.InvariantCulture, out var levels) ? Math.Clamp(levels, 1, MostLevels) : 1;

    private static StartCheck.Command Command(FormState form, string who)
    {
        var measured = Measured.Of(form);
        return new StartCheck.Command
        {
            Parameter = measured.Parameter,
            Form = measured.Form,
            OtherName = form["OtherName"],
            Method = form.Key("Method"),
            Levels = [.. Enumerable.Range(0, Levels(form)).Select(i => new LevelEntry
            {
                ReferenceWater = IsSteady(form) ? null : form.Key($"Levels[{i}].ReferenceWater"),
                Known = form[$"Levels[{i}].Known"],
                Doubt = form[$"Levels[{i}].Doubt"],
                DoubtKind = form.Word<DoubtMeaning>($"Levels[{i}].DoubtKind"),
            })],
            ToleranceAbsolute = form["ToleranceAbsolute"],
            TolerancePercent = form["TolerancePercent"],
            Replicates = form["Replicates"],
            Basis = Enum.TryParse<Knownwater.Checks.LevelsBasis>(form["Basis"], out var basis) && Enum.IsDefined(basis) ? basis : null,
            ExtensionDeclared = form.Ticked("ExtensionDeclared"),
            UseTypicalScatter = form.Ticked("UseTypicalScatter"),
            Resolution = form["Resolution"],
            MinutesPerReading = form["MinutesPerReading"],
            Kind = form.Word<CheckKind>("Kind"),
            ConditioningRuns = form["ConditioningRuns"],
            SteadyWater = IsSteady(form),
            OldLot = form.Key("OldLot"),
            NewLot = form.Key("NewLot"),
            AutomationPaused = form.Ticked("AutomationPaused"),
            ExpiredLotReason = form["ExpiredLotReason"],
            Round = form.Key("Round"),
            Who = who,
            RequestId = form.RequestId,
        };
    }

    /// <summary>The advice of the level that needs most readings, and what is wrong at any level.</summary>
    private static async Task<(ReplicateAdvice? Advice, IReadOnlyList<FieldFault> Faults)> Advise(PlanReplicates plan, FormState form, BenchView bench, CancellationToken cancel)
    {
        var measured = Measured.Of(form);
        ReplicateAdvice? most = null;
        var faults = new List<FieldFault>();
        for (var i = 0; i < Levels(form); i++)
        {
            var outcome = await plan.Handle(new PlanReplicates.Command
            {
                Parameter = measured.Parameter,
                Form = measured.Form,
                OtherName = form["OtherName"],
                Method = form.Key("Method"),
                ReferenceWater = IsSteady(form) ? null : form.Key($"Levels[{i}].ReferenceWater"),
                Known = form[$"Levels[{i}].Known"],
                Doubt = IsSteady(form) ? "0" : form[$"Levels[{i}].Doubt"],
                DoubtKind = form.Word<DoubtMeaning>($"Levels[{i}].DoubtKind"),
                ToleranceAbsolute = form["ToleranceAbsolute"],
                TolerancePercent = form["TolerancePercent"],
                Resolution = form["Resolution"],
                MinutesPerReading = form["MinutesPerReading"],
                ExtensionDeclared = form.Ticked("ExtensionDeclared"),
                UseTypicalScatter = form.Ticked("UseTypicalScatter"),
                Levels = Levels(form),
                Kind = form.Word<CheckKind>("Kind"),
            }, cancel);
            if (outcome is PlanReplicates.Outcome.Refused refused)
                faults.AddRange(Placed(refused.Faults, i).Where(f => !faults.Any(g => g.Field == f.Field)));
            if (outcome is PlanReplicates.Outcome.Planned { Advice: var advice } && (most is null || (advice.Recommended ?? int.MaxValue) > (most.Recommended ?? int.MaxValue)))
                most = advice;
        }

        return (faults.Count == 0 ? most : null, faults);
    }

    /// <summary>Faults under the names that the fields have in this page.</summary>
    private static IReadOnlyList<FieldFault> Placed(IReadOnlyList<FieldFault> faults, int level = 0) =>
    [
        .. faults.Select(f => f.Field switch
        {
            "Known" or "Doubt" or "DoubtKind" or "ReferenceWater" => f with { Field = $"Levels[{level}].{f.Field}" },
            "Parameter" => f with { Field = "What" },
            _ => f,
        }),
    ];

    private static void FillTolerance(FormState form, BenchView bench, MethodView? method, ReplicateAdvice? advice)
    {
        if (form["ToleranceAbsolute"].Length == 0 && form["TolerancePercent"].Length == 0)
        {
            (form["ToleranceAbsolute"], form["TolerancePercent"]) =
                advice is not null ? (advice.ToleranceAbsolute, advice.TolerancePercent)
                : method is { ToleranceAbsolute.Length: > 0 } or { TolerancePercent.Length: > 0 } ? (method.ToleranceAbsolute, method.TolerancePercent)
                : Measured.Of(form).DefaultTolerance(bench, method?.Matrix);
            form["ToleranceFilled"] = $"{form["ToleranceAbsolute"]};{form["TolerancePercent"]}";
        }

        form["ToleranceFor"] = $"{Measured.Of(form).Key}:{form["Method"]}";
    }

    /// <summary>A tolerance that the page filled in goes when another parameter is chosen; one that was typed stays.</summary>
    private static void ForgetOldTolerance(FormState form)
    {
        var isOld = form["ToleranceFor"] != $"{Measured.Of(form).Key}:{form["Method"]}";
        var isFilled = form["ToleranceFilled"] == $"{form["ToleranceAbsolute"]};{form["TolerancePercent"]}";
        if (isOld && isFilled)
            form["ToleranceAbsolute"] = form["TolerancePercent"] = "";
    }

    /// <summary>The advised number is chosen unless another one was.</summary>
    private static void Choose(FormState form, ReplicateAdvice? advice)
    {
        if (advice is null)
            return;
        var own = form["Replicates"];
        var advised = (advice.Recommended ?? (advice.Choices.Any(c => c.N == 5) ? 5 : advice.Choices[0].N)).ToString(CultureInfo.InvariantCulture);
        if (own.Length == 0 || own == form["Advised"])
            form["Replicates"] = advised;
        form["Advised"] = advised;
    }
}
