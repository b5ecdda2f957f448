using System.Text.Json;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>The append-only list of a run's events. It is the run's own history; the history of acts has the readings.</summary>
internal static class RunLog
{
    private const int Attempts = 8;

    public static IReadOnlyList<FieldFault> Gone { get; } = [new FieldFault("", "This run is not in the records; its check may have been discarded. Open the check again.")];

    public static string Write(IReadOnlyList<RunStep> steps) => JsonSerializer.Serialize(steps);

    public static IReadOnlyList<RunStep> Steps(Run run) => JsonSerializer.Deserialize<List<RunStep>>(run.Steps)!;

    /// <summary>The run of a check that was begun last; null where none was.</summary>
    public static Task<Run?> Last(RecordsContext records, Guid check, CancellationToken cancel) =>
        records.Runs.Where(r => r.CheckId == check).OrderByDescending(r => r.Ordinal).FirstOrDefaultAsync(cancel);

    public static Task<List<RunEvent>> Events(RecordsContext records, Guid run, CancellationToken cancel) =>
        records.RunEvents.AsNoTracking().Where(e => e.RunId == run).OrderBy(e => e.Ordinal).ToListAsync(cancel);

    public static RunProgress Fold(int steps, IEnumerable<RunEvent> events) =>
        RunProgress.Of(steps, events.Select(e => new RunHappening(e.Key, e.Kind, e.Step, e.HappenedAt)));

    /// <summary>Where the hand is: the fold, or the first reading before it that is not in (it was undone elsewhere).</summary>
    public static int Standing(RunProgress progress, IReadOnlyList<RunStep> steps, CheckRows rows)
    {
        var missing = steps.Take(progress.Step).FirstOrDefault(s => s.Kind == RunStepKind.Read && !IsIn(s, rows));
        return missing?.Index ?? progress.Step;
    }

    /// <summary>Whether the reading that the step serves is in; never for steps of the whole run.</summary>
    public static bool IsIn(RunStep step, CheckRows rows) => step.Level is { } l && rows.Level(l) is { } level && step switch
    {
        { Replicate: { } r } => level.Replicates.Count >= r,
        { Conditioning: { } c } => level.Replicates.Count > 0 || level.Conditioning.Count >= c,
        _ => false,
    };

    /// <summary>Puts an event at the end of the list.</summary>
    public static RunEvent Append(RecordsContext records, Clock clock, Run run, SentRunEvent sent, Guid client, string who)
    {
        var now = clock.Now;
        var entry = new RunEvent(records.BenchId, clock.NewId())
        {
            RunId = run.Id,
            Ordinal = ++run.Events,
            ClientId = client,
            Key = sent.Key,
            Kind = sent.Kind,
            Step = sent.Step,
            Text = sent.Text.Trim(),
            Who = who,
            At = sent.At ?? now,
            ReceivedAt = now,
            HappenedAt = now - sent.Age,
        };
        records.RunEvents.Add(entry);
        if (sent.Kind == RunEventKind.Ended)
            run.EndedAt ??= now;
        return entry;
    }

    /// <summary>Runs the body and saves; where another device came between, the body runs again on what is there then.</summary>
    public static async Task<T> Save<T>(RecordsContext records, Func<Task<T>> body, CancellationToken cancel)
    {
        for (var attempt = 1; ; attempt++)
        {
            records.StartAfresh();
            var outcome = await body();
            try
            {
                await records.SaveChangesAsync(cancel);
                records.StartAfresh();
                return outcome;
            }
            catch (Exception e) when (attempt < Attempts && Act.CameBetween(e))
            {
                // another device took the place: look again
            }
        }
    }
}
