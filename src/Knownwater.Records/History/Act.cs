using System.Text.Json;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.History;

/// <summary>One act on the records: rows, history and the answer to its request are saved in one transaction, or nothing is.</summary>
internal sealed class Act
{
    private const int Attempts = 5;

    private readonly RecordsContext _records;
    private readonly Clock _clock;
    private readonly string _who;

    private Act(RecordsContext records, Clock clock, string who)
    {
        _records = records;
        _clock = clock;
        _who = who.Trim();
    }

    /// <summary>The entry that the act wrote; null where it was refused.</summary>
    public HistoryEntry? Entry { get; private set; }

    /// <summary>
    /// Runs the body and saves what it did. A repeated request gets its first outcome. Where another act came between, the body runs
    /// again on what is there then; so it must read all it needs itself. A body that names no act writes nothing.
    /// </summary>
    public static async Task<T> Run<T>(RecordsContext records, Clock clock, string who, Guid? requestId, Func<Act, Task<T>> body, CancellationToken cancel)
        where T : class
    {
        var useCase = typeof(T).DeclaringType?.Name ?? typeof(T).Name;
        for (var attempt = 1; ; attempt++)
        {
            records.StartAfresh();
            if (requestId is { } key && await records.HandledRequests.AsNoTracking().FirstOrDefaultAsync(r => r.Id == key, cancel) is { } handled)
                return Answer<T>(handled, useCase);
            var act = new Act(records, clock, who);
            var outcome = await body(act);
            if (act.Entry is null)
            {
                records.StartAfresh();
                return outcome;
            }
            if (requestId is { } fresh)
                records.HandledRequests.Add(new HandledRequest(records.BenchId, fresh) { UseCase = useCase, Outcome = Write(outcome), At = act.Entry.At });
            act.Entry.Changes = RowChanges.Collect(records);
            try
            {
                await records.SaveChangesAsync(cancel);
                records.StartAfresh();
                return outcome;
            }
            catch (Exception e) when (attempt < Attempts && CameBetween(e))
            {
                // Another act came between (a row changed, a place was taken, the same request was answered): look again.
            }
        }
    }

    /// <summary>Whether another act came between, which a second look settles; a deadlock in PostgreSQL arrives wrapped.</summary>
    internal static bool CameBetween(Exception fault) => fault is DbUpdateException or InvalidOperationException { InnerException: DbUpdateException };

    /// <summary>Names the act in the history.</summary>
    /// <param name="sentence">What was done, “Reading 2 kept: 8,8 dKH.”.</param>
    /// <param name="kind">What it concerns.</param>
    /// <param name="subject">Key of what it concerns.</param>
    /// <param name="cancel">Cancels the act.</param>
    public async Task<HistoryEntry> Did(string sentence, string kind, Guid subject, CancellationToken cancel)
    {
        var last = await _records.History.MaxAsync(h => (long?)h.Ordinal, cancel) ?? 0;
        Entry = new HistoryEntry(_records.BenchId, _clock.NewId())
        {
            Ordinal = last + 1,
            At = _clock.Now,
            Who = _who,
            Sentence = sentence,
            SubjectKind = kind,
            Subject = subject,
        };
        _records.History.Add(Entry);
        return Entry;
    }

    private static string Write(object outcome) =>
        JsonSerializer.Serialize(new Answered(outcome.GetType().Name, JsonSerializer.SerializeToElement(outcome, outcome.GetType())));

    private static T Answer<T>(HandledRequest handled, string useCase)
        where T : class
    {
        if (handled.UseCase != useCase)
            throw new InvalidOperationException($"Request {handled.Id} was answered by {handled.UseCase} and now comes to {useCase}. Give every form its own request key.");
        var answered = JsonSerializer.Deserialize<Answered>(handled.Outcome)!;
        var type = typeof(T).GetNestedType(answered.Kind) ?? throw new InvalidOperationException($"{useCase} has no outcome {answered.Kind} any more.");
        return (T)answered.Value.Deserialize(type)!;
    }

    private sealed record Answered(string Kind, JsonElement Value);
}

/// <summary>What an act of the history concerns.</summary>
internal static class Subjects
{
    public const string Bench = "bench";
    public const string DriftWatch = "drift watch";
    public const string Alarm = "alarm";
    public const string Phone = "phone";
    public const string Calendar = "calendar";
    public const string Check = "check";
    public const string Instrument = "instrument";
    public const string Method = "method";
    public const string Lot = "lot";
    public const string Water = "water";
    public const string Glassware = "glassware";
    public const string Stock = "stock";
    public const string NutrientFree = "nutrient-free water";
    public const string Preparation = "preparation";
    public const string Round = "round";
    public const string Tank = "tank";
}
