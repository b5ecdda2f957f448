using System.Globalization;
using Knownwater.Records;
using Knownwater.Records.Tanks;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Tanks;

/// <summary>Readings and doses of a tank: entered, listed, changed, removed.</summary>
internal static class TankEntriesEndpoints
{
    private const string NoSuchReading = "This reading is not in the records.", NoSuchDose = "This dose is not in the records.";

    public static void MapTankEntries(this IEndpointRouteBuilder app)
    {
        app.MapGet("/tanks/{id:guid}/readings", async (Guid id, int? page, ViewTank view, ListTankReadings list, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } tank ? Pages.Show<TankEntriesPage>(new TankEntriesPage.Content(tank, await list.Handle(id, page ?? 1, cancel), null)) : Pages.Missing(TanksEndpoints.NoSuchTank));

        app.MapGet("/tanks/{id:guid}/doses", async (Guid id, int? page, ViewTank view, ListDoses list, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } tank ? Pages.Show<TankEntriesPage>(new TankEntriesPage.Content(tank, null, await list.Handle(id, page ?? 1, cancel))) : Pages.Missing(TanksEndpoints.NoSuchTank));

        app.MapGet("/tanks/{id:guid}/readings/new", async (Guid id, HttpContext context, ViewTank view, OfferEntryLines offer, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } tank
                ? Pages.Show<EnterReadingsPage>(new EnterReadingsPage.Content(tank, await offer.Handle(id, cancel), new FormState { ["At"] = tank.NowTyped, ["Who"] = Pages.Who(context) }))
                : Pages.Missing(TanksEndpoints.NoSuchTank));

        app.MapPost("/tanks/{id:guid}/readings/new", async (Guid id, IFormCollection posted, HttpContext context, EnterReadings enter, ViewTank view, OfferEntryLines offer, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } tank)
                return Pages.Missing(TanksEndpoints.NoSuchTank);
            var form = new FormState(posted);
            var outcome = await enter.Handle(new EnterReadings.Command
            {
                Tank = id,
                Lines = Lines(form),
                At = form["At"],
                Note = form["Note"],
                Confirmed = form.Ticked("Confirmed"),
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is EnterReadings.Outcome.Entered)
                return Pages.GoTo($"/tanks/{id}");
            if (outcome is EnterReadings.Outcome.Doubtful doubtful)
                (form["Doubtful"], form.Faults) = ("yes", doubtful.Questions);
            else if (outcome is EnterReadings.Outcome.Refused refused)
                form.Faults = [.. refused.Faults.Select(f => f.Field.EndsWith(".Parameter", StringComparison.Ordinal) ? f with { Field = f.Field.Replace(".Parameter", ".What", StringComparison.Ordinal) } : f)];
            var lines = await offer.Handle(id, cancel);
            return Pages.Again<EnterReadingsPage>(new EnterReadingsPage.Content(tank, lines, Ordered(form, lines)));
        });

        app.MapGet("/tanks/{tank:guid}/readings/{id:guid}", async (Guid tank, Guid id, ListTankReadings list, CancellationToken cancel) =>
            await list.Find(id, cancel) is { } reading && reading.Tank == tank
                ? Pages.Show<TankReadingPage>(new TankReadingPage.Content(reading, new FormState { ["Typed"] = reading.Typed, ["At"] = reading.AtTyped, ["Note"] = reading.Note }))
                : Pages.Missing(NoSuchReading));

        app.MapPost("/tanks/{tank:guid}/readings/{id:guid}", async (Guid tank, Guid id, IFormCollection posted, HttpContext context, ChangeTankReading change, RemoveTankReading remove, ListTankReadings list, CancellationToken cancel) =>
        {
            if (await list.Find(id, cancel) is not { } reading || reading.Tank != tank)
                return Pages.Missing(NoSuchReading);
            var form = new FormState(posted);
            var who = Pages.Who(context);
            var faults = form["act"] == "remove"
                ? (await remove.Handle(new RemoveTankReading.Command { Reading = id, Reason = form["Reason"], Who = who, RequestId = form.RequestId }, cancel) as RemoveTankReading.Outcome.Refused)?.Faults
                : (await change.Handle(new ChangeTankReading.Command { Reading = id, Typed = form["Typed"], At = form["At"], Note = form["Note"], Who = who, RequestId = form.RequestId }, cancel) as ChangeTankReading.Outcome.Refused)?.Faults;
            if (faults is null)
                return Pages.GoTo($"/tanks/{tank}");
            form.Faults = faults;
            return Pages.Again<TankReadingPage>(new TankReadingPage.Content(reading, form));
        });

        app.MapGet("/tanks/{id:guid}/doses/new", async (Guid id, HttpContext context, ViewTank view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } tank
                ? Pages.Show<DoseFormPage>(new DoseFormPage.Content(id, tank.Name, null, new FormState { ["At"] = tank.NowTyped, ["Who"] = Pages.Who(context), ["Kind"] = nameof(DoseKind.Maintenance), ["IsAutomatic"] = "no" }))
                : Pages.Missing(TanksEndpoints.NoSuchTank));

        app.MapPost("/tanks/{id:guid}/doses/new", async (Guid id, IFormCollection posted, HttpContext context, RecordDose record, ViewTank view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } tank)
                return Pages.Missing(TanksEndpoints.NoSuchTank);
            var form = new FormState(posted);
            var outcome = await record.Handle(new RecordDose.Command
            {
                Tank = id,
                What = form["What"],
                Amount = form["Amount"],
                Parameter = form["Parameter"],
                Kind = form.Word<DoseKind>("Kind"),
                IsAutomatic = form["IsAutomatic"] == "yes",
                At = form["At"],
                Note = form["Note"],
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is not RecordDose.Outcome.Refused refused)
                return Pages.GoTo($"/tanks/{id}");
            form.Faults = refused.Faults;
            return Pages.Again<DoseFormPage>(new DoseFormPage.Content(id, tank.Name, null, form));
        });

        app.MapGet("/tanks/{tank:guid}/doses/{id:guid}", async (Guid tank, Guid id, ListDoses list, CancellationToken cancel) =>
            await list.Find(id, cancel) is { } dose && dose.Tank == tank
                ? Pages.Show<DoseFormPage>(new DoseFormPage.Content(tank, dose.TankName, dose, DoseFormPage.Filled(dose)))
                : Pages.Missing(NoSuchDose));

        app.MapPost("/tanks/{tank:guid}/doses/{id:guid}", async (Guid tank, Guid id, IFormCollection posted, HttpContext context, ChangeDose change, RemoveDose remove, ListDoses list, CancellationToken cancel) =>
        {
            if (await list.Find(id, cancel) is not { } dose || dose.Tank != tank)
                return Pages.Missing(NoSuchDose);
            var form = new FormState(posted);
            var who = Pages.Who(context);
            var faults = form["act"] == "remove"
                ? (await remove.Handle(new RemoveDose.Command { Dose = id, Reason = form["Reason"], Who = who, RequestId = form.RequestId }, cancel) as RemoveDose.Outcome.Refused)?.Faults
                : (await change.Handle(new ChangeDose.Command
                {
                    Dose = id,
                    What = form["What"],
                    Amount = form["Amount"],
                    Parameter = form["Parameter"],
                    Kind = form.Word<DoseKind>("Kind"),
                    IsAutomatic = form["IsAutomatic"] == "yes",
                    At = form["At"],
                    Note = form["Note"],
                    Who = who,
                    RequestId = form.RequestId,
                }, cancel) as ChangeDose.Outcome.Refused)?.Faults;
            if (faults is null)
                return Pages.GoTo($"/tanks/{tank}");
            form.Faults = faults;
            return Pages.Again<DoseFormPage>(new DoseFormPage.Content(tank, dose.TankName, dose, form));
        });
    }

    /// <summary>The lines as posted: each names its method, the last one what was measured.</summary>
    private static List<ReadingEntry> Lines(FormState form)
    {
        var lines = new List<ReadingEntry>();
        for (var i = 0; i <= EnterReadings.MostLines; i++)
        {
            var at = Prefix(i);
            var what = form[at + "What"];
            if (form[at + "Method"].Length == 0 && what.Length == 0)
                break;
            var cut = what.IndexOf('|', StringComparison.Ordinal);
            lines.Add(new ReadingEntry
            {
                Method = form.Key(at + "Method"),
                Parameter = cut > 0 ? what[..cut] : what,
                Form = cut > 0 ? what[(cut + 1)..] : "",
                Instrument = form[at + "Instrument"],
                Typed = form[at + "Typed"],
            });
        }

        return lines;
    }

    /// <summary>The form with each line where its method stands now; what was typed for a method that is gone is said above.</summary>
    private static FormState Ordered(FormState form, IReadOnlyList<EntryLine> lines)
    {
        var places = new Dictionary<string, string>(StringComparer.Ordinal);
        for (var i = 0; form[Prefix(i) + "Method"].Length > 0; i++)
            places[form[Prefix(i) + "Method"]] = Prefix(i);
        var free = places.Count;
        if (lines.Count == free && lines.Select((l, i) => places.GetValueOrDefault(l.Method.ToString()) == Prefix(i)).All(same => same))
            return form;
        var ordered = new FormState { ["At"] = form["At"], ["Who"] = form["Who"], ["Note"] = form["Note"], ["Doubtful"] = form["Doubtful"] };
        var faults = new List<FieldFault>();
        void Move(string from, string to, string field)
        {
            ordered[to + field] = form[from + field];
            faults.AddRange(form.Faults.Where(f => f.Field == from + field).Select(f => f with { Field = to + field }));
        }

        for (var i = 0; i < lines.Count; i++)
        {
            if (places.TryGetValue(lines[i].Method.ToString(), out var from))
                Move(from, Prefix(i), "Typed");
        }

        foreach (var (method, from) in places.Where(p => form[p.Value + "Typed"].Length > 0 && lines.All(l => l.Method.ToString() != p.Key)))
            faults.Add(new FieldFault("", $"{form[from + "Typed"]} was written for a method that is not there any more. Enter it below, with the name of the instrument."));
        foreach (var field in new[] { "What", "Typed", "Instrument" })
            Move(Prefix(free), Prefix(lines.Count), field);
        faults.AddRange(form.Faults.Where(f => !f.Field.StartsWith("Lines[", StringComparison.Ordinal)));
        ordered.Faults = faults;
        return ordered;
    }

    private static string Prefix(int line) => string.Create(CultureInfo.InvariantCulture, $"Lines[{line}].");
}
