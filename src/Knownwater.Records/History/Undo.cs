using Knownwater.Records.Preparation;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;

namespace Knownwater.Records.History;

/// <summary>Undoes one act: the rows it touched become what they were.</summary>
public sealed class Undo(RecordsContext records, Clock clock)
{
    /// <summary>The act.</summary>
    public sealed record Command
    {
        /// <summary>The entry of the history; or name a check instead.</summary>
        public Guid? Entry { get; init; }

        /// <summary>A check whose last act is undone.</summary>
        public Guid? LastActOfCheck { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Undone; what was undone in a sentence, and the check it belonged to.</summary>
        public sealed record Undone(string Sentence, Guid? Check) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Take(command, act, cancel), cancel);
    }

    private async Task<Outcome> Take(Command command, Act act, CancellationToken cancel)
    {
        var entry = command.Entry is { } key ? await records.History.FirstOrDefaultAsync(h => h.Id == key, cancel)
            : command.LastActOfCheck is { } check ? await LastAct(records, check, cancel)
            : null;
        if (entry is null)
            return Refused(command.Entry is null ? "There is nothing left to undo here." : "That act is not in the history of this bench.");
        if (entry.UndoneBy is not null)
            return Refused("That was undone already.");

        var changes = RowChanges.Read(entry.Changes);
        var rows = new List<(RowChanges.Change Change, EntityEntry Row)>();
        foreach (var change in changes)
        {
            if (await RowChanges.Find(records, change, cancel) is { } row)
                rows.Add((change, row));
        }
        if (rows.Exists(r => !r.Change.Added && !RowChanges.StandsAsLeft(r.Row, r.Change)) || rows.Exists(r => r.Change.Added && r.Row.Entity is MarkedRow { Deleted: true }))
            return Refused("Something was done with it since. Undo that first; the history has it.");
        foreach (var (change, _) in rows.Where(r => r.Change.Added && r.Row.Entity is MarkedRow))
        {
            var id = change.Id.ToString();
            if (await records.History.Where(h => h.Ordinal > entry.Ordinal && h.UndoneBy == null && h.Undoes == null && h.Changes.Contains(id)).OrderByDescending(h => h.Ordinal).Select(h => h.Sentence).FirstOrDefaultAsync(cancel) is { } later)
                return Refused($"Something was built on it since: “{later}” Undo that first; the history has it.");
        }
        if (await PouredSince(rows, cancel))
            return Refused("Dilutions that it shared were begun since, so that it stands.");
        foreach (var (change, row) in rows)
            RowChanges.PutBack(row, change);

        var sentence = entry.Undoes is null ? $"Undone: {Words.Small(entry.Sentence)}" : $"Done again: {Words.Small(entry.Sentence.Replace("Undone: ", "", StringComparison.Ordinal))}";
        var undoing = await act.Did(sentence, entry.SubjectKind, entry.Subject, cancel);
        undoing.Undoes = entry.Id;
        entry.UndoneBy = undoing.Id;
        if (entry.Undoes is { } original && await records.History.FirstOrDefaultAsync(h => h.Id == original, cancel) is { } first)
            first.UndoneBy = null;
        return new Outcome.Undone(sentence, entry.SubjectKind == Subjects.Check ? entry.Subject : null);
    }

    /// <summary>Whether a dilution was begun that the act had made common to several preparations.</summary>
    private async Task<bool> PouredSince(IReadOnlyList<(RowChanges.Change Change, EntityEntry Row)> rows, CancellationToken cancel)
    {
        var shared = rows.Where(r => !r.Change.Added && r.Change.After.ContainsKey(nameof(PreparationStepRow.SharedStepId))).Select(r => ((PreparationStepRow)r.Row.Entity).PreparationId).ToList();
        return shared.Count > 0 && await records.Preparations.AnyAsync(p => shared.Contains(p.Id) && p.ActsDone > 0, cancel);
    }

    /// <summary>The last act on a check that stands: not undone, and not itself the undoing of another.</summary>
    internal static Task<HistoryEntry?> LastAct(RecordsContext records, Guid check, CancellationToken cancel) =>
        records.History.Where(h => h.Subject == check && h.UndoneBy == null && h.Undoes == null).OrderByDescending(h => h.Ordinal).FirstOrDefaultAsync(cancel);

    private static Outcome.Refused Refused(string sentence) => new([new FieldFault("", sentence)]);
}
