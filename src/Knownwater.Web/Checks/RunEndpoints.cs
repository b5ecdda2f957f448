using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using Knownwater.Records;
using Knownwater.Records.Checks;
using Knownwater.Records.Storage;
using Knownwater.Web.Sheet;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Mvc;
using NodaTime;

namespace Knownwater.Web.Checks;

/// <summary>The run sheet: a page that works by plain forms, and the events that an enhanced one sends and asks for.</summary>
internal static class RunEndpoints
{
    private const string NoSuchCheck = "This check is not in the records.";
    private const string WorkerName = "run-sheet-worker.js";
    private const int MostBytes = 200_000;

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        MaxDepth = 8,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
    };

    public static void MapRuns(this IEndpointRouteBuilder app)
    {
        app.MapGet("/" + WorkerName, (HttpContext context) =>
        {
            context.Response.Headers.CacheControl = "no-cache";
            return Results.Bytes(AssetFiles.Content(WorkerName), "text/javascript; charset=utf-8");
        });
        MapPage(app);
        MapEvents(app);
        MapPhotos(app);
    }

    /// <summary>What a device needs to know of a run, as JSON for the page and for the answers.</summary>
    public static string State(RunView run) => JsonSerializer.Serialize(StateOf(run, after: null), Json);

    /// <summary>The steps as JSON, every text once.</summary>
    public static string Steps(RunView run)
    {
        var texts = new List<string>();
        var places = new Dictionary<string, int>(StringComparer.Ordinal);
        int Text(string? text)
        {
            if (string.IsNullOrEmpty(text))
                return -1;
            if (!places.TryGetValue(text, out var place))
            {
                place = places[text] = texts.Count;
                texts.Add(text);
            }
            return place;
        }
        var steps = run.Steps.Select(s => new[] { (int)s.Kind, Text(run.Where(s)), Text(s.Act), Text(s.Cue), Text(s.Done), s.Seconds ?? 0, s.Signal ? 1 : 0, Text(s.Why), Text(s.Caution) }).ToList();
        return JsonSerializer.Serialize(new { run = run.Id, parameter = run.ParameterName, texts, steps }, Json);
    }

    private static void MapPage(IEndpointRouteBuilder app)
    {
        app.MapGet("/checks/{id:guid}/run", async (Guid id, string? note, ViewRun view, ViewCheck check, ReadRunPlan plans, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is { } run && (!run.Ended || run.CheckState != CheckState.Open))
                return Pages.Show<RunPage>(new RunPage.Content(run, new FormState(), "", note is not null));
            return await check.Handle(id, cancel) is { } found && await plans.Handle(id, cancel) is { } plan
                ? plan.Hindrance is null && found.AsksBefore ? Pages.GoTo($"/checks/{id}/before") : Pages.Show<RunBeginPage>(new RunBeginPage.Content(found, plan, new FormState()))
                : Pages.Missing(NoSuchCheck);
        });

        app.MapPost("/checks/{id:guid}/run/begin", async (Guid id, IFormCollection posted, HttpContext context, BeginRun begin, ViewCheck check, ReadRunPlan plans, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await begin.Handle(new BeginRun.Command { Check = id, Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is BeginRun.Outcome.UnderWay)
                return Pages.GoTo($"/checks/{id}/run");
            if (outcome is BeginRun.Outcome.Before)
                return Pages.GoTo($"/checks/{id}/before");
            form.Faults = ((BeginRun.Outcome.Refused)outcome).Faults;
            return await check.Handle(id, cancel) is { } found && await plans.Handle(id, cancel) is { } plan
                ? Pages.Again<RunBeginPage>(new RunBeginPage.Content(found, plan, form))
                : Pages.Missing(NoSuchCheck);
        });

        app.MapPost("/checks/{id:guid}/run", async (Guid id, IFormCollection posted, HttpContext context, KeepRunEvents keep, ViewRun view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var sent = Typed(form);
            var outcome = await keep.Handle(new KeepRunEvents.Command { Check = id, Run = form.Key("Run"), Events = [sent], Who = Pages.Who(context) }, cancel);
            if (sent.Kind == RunEventKind.Ended && outcome is KeepRunEvents.Outcome.Answered)
                return Pages.GoTo($"/checks/{id}");
            var field = sent.Kind == RunEventKind.ReadingKept ? "Typed" : sent.Kind is RunEventKind.Slip or RunEventKind.Note ? "Note" : "";
            var (said, faults) = outcome switch
            {
                KeepRunEvents.Outcome.Refused refused => ("", refused.Faults),
                KeepRunEvents.Outcome.Answered { Answers: [{ Fate: RunEventFate.Refused } answer] } => ("", [new FieldFault(field, answer.Sentence, answer.Offers)]),
                KeepRunEvents.Outcome.Answered { Answers: [var answer] } => (answer.Sentence, Array.Empty<FieldFault>()),
                _ => ("", (IReadOnlyList<FieldFault>)[]),
            };
            if (faults.Count == 0 && said.Length == 0)
                return Pages.GoTo($"/checks/{id}/run");
            if (await view.Handle(id, cancel) is not { } run)
                return Pages.Missing(NoSuchCheck);
            if (outcome is KeepRunEvents.Outcome.Answered { Answers: [{ Doubtful: true }] })
                form["Doubtful"] = "yes";
            form.Faults = faults;
            var content = new RunPage.Content(run, faults.Count > 0 ? form : new FormState(), said, field == "Note");
            return faults.Count > 0 ? Pages.Again<RunPage>(content) : Pages.Show<RunPage>(content);
        });

        app.MapGet("/checks/{id:guid}/run/record", async (Guid id, ViewRun view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } run ? Pages.Show<RunRecordPage>(run) : Pages.Missing("This check has no run sheet."));
    }

    private static void MapEvents(IEndpointRouteBuilder app)
    {
        app.MapGet("/checks/{id:guid}/run/token", (HttpContext context, IAntiforgery antiforgery) =>
        {
            context.Response.Headers.CacheControl = "no-store";
            return Results.Json(new { token = antiforgery.GetAndStoreTokens(context).RequestToken }, Json);
        });

        app.MapGet("/checks/{id:guid}/run/events", async (Guid id, int? after, string? mark, HttpContext context, ViewRun view, CancellationToken cancel) =>
        {
            context.Response.Headers.CacheControl = "no-store";
            if (mark is not null && await view.Mark(id, cancel) == mark)
                return Results.NoContent();
            return await view.Handle(id, cancel) is { } run ? Results.Json(StateOf(run, after ?? 0), Json) : Say(StatusCodes.Status404NotFound, "This run is not in the records.");
        });

        app.MapPost("/checks/{id:guid}/run/events", async (Guid id, HttpContext context, IAntiforgery antiforgery, KeepRunEvents keep, ViewRun view, Clock clock, CancellationToken cancel) =>
        {
            if (!await antiforgery.IsRequestValidAsync(context))
                return StaleToken();
            if (await Body(context, MostBytes) is not { } body)
                return Say(StatusCodes.Status413PayloadTooLarge, $"That was too much to send at once; {MostBytes / 1000} kB fit. Send fewer events.");
            if (Read(body) is not { Events: not null } batch || batch.Events.Any(e => e?.Kind is null || e.Key is null))
                return Say(StatusCodes.Status400BadRequest, "These events cannot be read. Each needs a key, a kind and a step.");
            var outcome = await keep.Handle(new KeepRunEvents.Command
            {
                Check = id,
                Run = batch.Run,
                Client = batch.Client ?? Guid.Empty,
                Events = [.. batch.Events.Select(e => Sent(e!, clock))],
                Who = Pages.Who(context),
            }, cancel);
            if (outcome is KeepRunEvents.Outcome.Refused refused)
                return Say(await view.Mark(id, cancel) is null ? StatusCodes.Status404NotFound : StatusCodes.Status422UnprocessableEntity, refused.Faults[0].Sentence);
            return await view.Handle(id, cancel) is { } run
                ? Results.Json(new { answers = ((KeepRunEvents.Outcome.Answered)outcome).Answers, state = StateOf(run, after: null) }, Json)
                : Say(StatusCodes.Status404NotFound, "This run is not in the records.");
        });
    }

    private static void MapPhotos(IEndpointRouteBuilder app)
    {
        app.MapPost("/checks/{id:guid}/run/photos", async (Guid id, [AsParameters] PhotoSent sent, HttpContext context, IAntiforgery antiforgery, KeepRunPhoto keep, Clock clock, CancellationToken cancel) =>
        {
            if (!await antiforgery.IsRequestValidAsync(context))
                return StaleToken();
            if (await Body(context, KeepRunPhoto.Largest) is not { } content)
                return Say(StatusCodes.Status413PayloadTooLarge, $"That picture is too large; {KeepRunPhoto.Largest / 1_000_000} MB fit.");
            var outcome = await keep.Handle(new KeepRunPhoto.Command
            {
                Check = id,
                Run = sent.Run,
                Client = sent.Client ?? Guid.Empty,
                Event = Sent(new EventSent(sent.Key, RunEventKind.Photo, sent.Step, sent.Text, null, null, sent.At, sent.Age), clock),
                Content = content,
                Who = Pages.Who(context),
            }, cancel);
            return outcome is KeepRunPhoto.Outcome.Refused refused ? Say(StatusCodes.Status422UnprocessableEntity, refused.Faults[0].Sentence) : Results.Json(new { fate = "kept" }, Json);
        }).WithMetadata(new RequestSizeLimitAttribute(KeepRunPhoto.Largest + 10_000));

        app.MapPost("/checks/{id:guid}/run/photo", async (Guid id, IFormCollection posted, HttpContext context, KeepRunPhoto keep, ViewRun view, Clock clock, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var file = posted.Files["Photo"];
            using var content = new MemoryStream();
            if (file is { Length: <= KeepRunPhoto.Largest })
                await file.CopyToAsync(content, cancel);
            else if (file is not null)
                content.SetLength(KeepRunPhoto.Largest + 1);
            var outcome = await keep.Handle(new KeepRunPhoto.Command
            {
                Check = id,
                Run = form.Key("Run"),
                Event = new SentRunEvent { Key = form.RequestId ?? clock.NewId(), Kind = RunEventKind.Photo, Step = Step(form), Text = form["Words"] },
                Content = content.ToArray(),
                Who = Pages.Who(context),
            }, cancel);
            if (outcome is not KeepRunPhoto.Outcome.Refused refused)
                return Pages.GoTo($"/checks/{id}/run");
            form.Faults = refused.Faults;
            return await view.Handle(id, cancel) is { } run ? Pages.Again<RunPage>(new RunPage.Content(run, form, "", true)) : Pages.Missing(NoSuchCheck);
        }).WithMetadata(new RequestSizeLimitAttribute(KeepRunPhoto.Largest + 100_000));

        app.MapGet("/checks/{id:guid}/run/photos/{photo:guid}", async (Guid id, Guid photo, HttpContext context, ViewRunPhoto view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, photo, cancel) is not { } picture)
                return Pages.Missing("This photo is not in the records.");
            context.Response.Headers.CacheControl = "private, max-age=31536000, immutable";
            context.Response.Headers.ContentDisposition = $"inline; filename=\"run-photo.{picture.ContentType[(picture.ContentType.IndexOf('/', StringComparison.Ordinal) + 1)..]}\"";
            return Results.Bytes(picture.Content.ToArray(), picture.ContentType);
        });
    }

    private static object StateOf(RunView run, int? after) => new
    {
        run = run.Id,
        mark = run.Mark,
        now = run.Now.ToUnixTimeMilliseconds(),
        step = run.Step,
        ended = run.Ended,
        check = run.CheckState,
        starts = run.Starts.ToDictionary(s => s.Key.ToString(CultureInfo.InvariantCulture), s => s.Value.ToUnixTimeMilliseconds(), StringComparer.Ordinal),
        readings = run.Steps.Where(s => s.Kind == RunStepKind.Read && run.Reading(s) is not null).ToDictionary(s => s.Index.ToString(CultureInfo.InvariantCulture), s => run.Reading(s), StringComparer.Ordinal),
        left = run.LeftWords,
        last = run.Events.Count,
        events = after is { } n ? run.Events.Where(e => e.Ordinal > n) : null,
    };

    private static SentRunEvent Typed(FormState form)
    {
        var act = form["act"];
        var kind = form.OfferTaken ? RunEventKind.ReadingKept : act switch
        {
            "done" => RunEventKind.Done,
            "back" => RunEventKind.Back,
            "timer" => RunEventKind.TimerStarted,
            "slip" => RunEventKind.Slip,
            "note" => RunEventKind.Note,
            "end" => RunEventKind.Ended,
            _ => RunEventKind.ReadingKept,
        };
        return new SentRunEvent
        {
            Key = form.RequestId ?? Guid.CreateVersion7(),
            Kind = kind,
            Step = Step(form),
            Text = kind == RunEventKind.ReadingKept ? form["Typed"] : kind is RunEventKind.Slip or RunEventKind.Note ? form["Note"] : "",
            Confirmed = act == "confirm",
            Again = form.Ticked("Again"),
        };
    }

    private static int Step(FormState form) => int.TryParse(form["Step"], NumberStyles.None, CultureInfo.InvariantCulture, out var step) ? step : -1;

    private static SentRunEvent Sent(EventSent e, Clock clock) => new()
    {
        Key = e.Key!.Value,
        Kind = e.Kind!.Value,
        Step = e.Step ?? -1,
        Text = e.Text ?? "",
        Confirmed = e.Confirmed ?? false,
        Again = e.Again ?? false,
        At = Moment(e.At) ?? clock.Now,
        Age = Duration.FromMilliseconds(Math.Clamp(e.Age ?? 0, 0, 60L * 86_400_000)),
    };

    /// <summary>A moment of a device's clock, whatever it says, as far as the records can hold it.</summary>
    private static Instant? Moment(long? milliseconds) =>
        milliseconds is { } ms ? Instant.FromUnixTimeMilliseconds(Math.Clamp(ms, 0, 4_102_444_800_000)) : null;

    private static Batch? Read(byte[] body)
    {
        try
        {
            return JsonSerializer.Deserialize<Batch>(body, Json);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    /// <summary>The whole body; null where it is longer than allowed.</summary>
    private static async Task<byte[]?> Body(HttpContext context, int most)
    {
        if (context.Request.ContentLength > most)
            return null;
        using var body = new MemoryStream();
        var piece = new byte[16_384];
        int count;
        while ((count = await context.Request.Body.ReadAsync(piece, context.RequestAborted)) > 0)
        {
            if (body.Length + count > most)
                return null;
            body.Write(piece, 0, count);
        }
        return body.ToArray();
    }

    private static IResult Say(int status, string sentence) => Results.Json(new { sentence }, Json, statusCode: status);

    private static IResult StaleToken() => Results.Json(new { sentence = "This page was open for too long, or it came from elsewhere. Nothing was written; a fresh token is needed.", renew = true }, Json, statusCode: StatusCodes.Status400BadRequest);

    private sealed record Batch(Guid? Run, Guid? Client, IReadOnlyList<EventSent?>? Events);

    private sealed record EventSent(Guid? Key, RunEventKind? Kind, int? Step, string? Text, bool? Confirmed, bool? Again, long? At, long? Age);

    private sealed record PhotoSent(Guid Key, Guid? Run, Guid? Client, int Step, string? Text, long? At, long? Age);
}
