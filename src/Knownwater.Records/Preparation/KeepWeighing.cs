using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Preparation;

/// <summary>Keeps one weighing of a proof, or several typed at once.</summary>
public sealed class KeepWeighing(RecordsContext records, Clock clock)
{
    /// <summary>What the balance showed.</summary>
    public sealed record Command
    {
        /// <summary>The proof.</summary>
        public required Guid Proof { get; init; }

        /// <summary>Ordinal of the first one typed, from one; a weighing that is there already is not kept twice.</summary>
        public required int Ordinal { get; init; }

        /// <summary>The weighing in g as typed; several stand on lines of their own, or with a semicolon between.</summary>
        public required string Typed { get; init; }

        /// <summary>Whether a doubtful number was confirmed as read.</summary>
        public bool Confirmed { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Kept; so many are there now.</summary>
        public sealed record Kept(int Weighings) : Outcome;

        /// <summary>A number is far from what the water weighs; the same command with <c>Confirmed</c> keeps it.</summary>
        public sealed record Doubtful(string Sentence) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Keep(command, act, cancel), cancel);
    }

    private async Task<Outcome> Keep(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        if (await ProofReading.Load(records, command.Proof, true, cancel) is not { } read)
            return new Outcome.Refused(ProofReading.Gone);
        var (row, weighings, piece, _, next) = read;
        if (row.DoneAt is not null)
            return new Outcome.Refused(ProofReading.Finished);
        // a weighing that another device kept already is not kept twice
        if (command.Ordinal != next)
            return new Outcome.Kept(weighings.Count);
        var fields = bench.Fields();
        string[] typed = [.. command.Typed.Split(['\n', '\r', ';'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];
        if (typed.Length == 0)
            fields.Fault("Typed", "Nothing is typed. Write what the balance shows, in grams.");
        if (weighings.Count + typed.Length > ProofReading.Most)
            fields.Fault("Typed", $"A proof has {ProofReading.Most} weighings at the most. Finish this one.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        foreach (var text in typed)
        {
            if (ProofReading.Grams(fields, bench, "Typed", text) is not { } grams)
                return new Outcome.Refused(fields.Faults);
            if (!command.Confirmed && ProofReading.Doubt(row, piece, grams, text, bench.Sign) is { } doubt)
                return new Outcome.Doubtful(doubt);
            var weighing = new ProofWeighing(records.BenchId, clock.NewId())
            {
                ProofId = row.Id,
                Ordinal = next++,
                Typed = text,
                Grams = grams,
                Who = fields.Optional("Who", command.Who, 40),
                At = now,
            };
            records.ProofWeighings.Add(weighing);
            weighings.Add(weighing);
        }
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        row.TouchedAt = now;
        await act.Did(typed.Length == 1 ? $"Weighing {weighings.Count} of {piece.Name} kept: {typed[0]}{Words.NoBreak}g." : $"{Words.Capital(Words.Count(typed.Length))} weighings of {piece.Name} kept.", Subjects.Glassware, piece.Id, cancel);
        return new Outcome.Kept(weighings.Count);
    }
}
