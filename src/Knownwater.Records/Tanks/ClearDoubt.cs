using System.Security.Cryptography;
using System.Text;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime.Text;

namespace Knownwater.Records.Tanks;

/// <summary>Clears readings and doses of the doubt that a failed check raised: one, several, or all of them, with one reason.</summary>
/// <remarks>The history gets one entry a batch, with the first twelve digits of the SHA-256 of what was cleared; how that is made up is told in docs/reference/records.md.</remarks>
public sealed class ClearDoubt(RecordsContext records, Clock clock)
{
    /// <summary>What is cleared, and why.</summary>
    public sealed record Command
    {
        /// <summary>The check that raised the doubt.</summary>
        public required Guid Check { get; init; }

        /// <summary>Readings to clear.</summary>
        public IReadOnlyList<Guid> Readings { get; init; } = [];

        /// <summary>Doses to clear.</summary>
        public IReadOnlyList<Guid> Doses { get; init; } = [];

        /// <summary>Whether all are cleared that are in doubt by the check, listed or not.</summary>
        public bool Everything { get; init; }

        /// <summary>Why they are believed after all; must be given.</summary>
        public required string Reason { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Cleared; how many, and the entry by which it is undone.</summary>
        public sealed record Cleared(int Readings, int Doses, Guid HistoryEntry) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Clear(command, act, cancel), cancel);
    }

    private async Task<Outcome> Clear(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        if (await LookBack.SpanOf(records, rows.Check, cancel) is not { } span)
            return new Outcome.Refused([new FieldFault("", "This check puts nothing in doubt: it read neither high nor low, or its method is not said.")]);
        var reason = fields.Needed("Reason", command.Reason, "Why they are believed after all is not said. One reason stands for all that are cleared now.", 500);
        var who = fields.Optional("Who", command.Who, 40);
        if (!command.Everything && command.Readings.Count + command.Doses.Count == 0)
            fields.Fault("", "Nothing is ticked. Tick what is cleared, or clear all of them.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);

        var readings = await span.ReadingsInDoubt(records).OrderBy(r => r.At).ThenBy(r => r.RecordedAt).ToListAsync(cancel);
        var doses = await span.DosesInDoubt(records).OrderBy(d => d.At).ThenBy(d => d.RecordedAt).ToListAsync(cancel);
        if (!command.Everything)
        {
            readings = [.. readings.Where(r => command.Readings.Contains(r.Id))];
            doses = [.. doses.Where(d => command.Doses.Contains(d.Id))];
        }
        if (readings.Count + doses.Count == 0)
            return new Outcome.Refused([new FieldFault("", "None of these is in doubt any more.")]);

        DoubtClearing Of(Guid? reading, Guid? dose) =>
            new(records.BenchId, clock.NewId()) { MethodId = span.Method, CheckId = command.Check, ReadingId = reading, DoseId = dose, Reason = reason, Who = who, At = bench.Now };
        records.DoubtClearings.AddRange(readings.Select(r => Of(r.Id, null)));
        records.DoubtClearings.AddRange(doses.Select(d => Of(null, d.Id)));
        var entry = await act.Did(
            $"{Words.Capital(DoubtWords.Count(readings.Count, doses.Count))} of {Words.Small(rows.Measured.Name)} cleared of doubt: {reason.TrimEnd('.')}. Digest {Digest(readings, doses)}.", Subjects.Check, command.Check, cancel);
        return new Outcome.Cleared(readings.Count, doses.Count, entry.Id);
    }

    /// <summary>A line each, “reading KEY TIME TYPED” or “dose KEY TIME AMOUNT”, in the order of the keys; in UTF-8 with a line feed after each.</summary>
    private static string Digest(IEnumerable<TankReading> readings, IEnumerable<Dose> doses)
    {
        var lines = readings.Select(r => (r.Id, Line: $"reading {r.Id:D} {InstantPattern.ExtendedIso.Format(r.At)} {r.Typed}"))
            .Concat(doses.Select(d => (d.Id, Line: $"dose {d.Id:D} {InstantPattern.ExtendedIso.Format(d.At)} {d.AmountTyped}")))
            .OrderBy(l => l.Id.ToString("D"), StringComparer.Ordinal).Select(l => l.Line + "\n");
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Concat(lines))))[..12];
    }
}
