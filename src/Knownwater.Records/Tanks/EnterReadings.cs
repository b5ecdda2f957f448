using System.Globalization;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Enters readings of one tank, several at once: all of them, or none where one cannot be read.</summary>
public sealed class EnterReadings(RecordsContext records, Clock clock)
{
    /// <summary>The most lines of one form.</summary>
    public const int MostLines = 200;

    /// <summary>The readings; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>The tank.</summary>
        public required Guid Tank { get; init; }

        /// <summary>The lines of the form; empty ones are left out.</summary>
        public required IReadOnlyList<ReadingEntry> Lines { get; init; }

        /// <summary>Day and hour in the bench's time zone, yyyy-MM-ddTHH:mm; empty for now.</summary>
        public string At { get; init; } = "";

        /// <summary>Notes, kept with each of them; may be empty.</summary>
        public string Note { get; init; } = "";

        /// <summary>Whether doubtful numbers were confirmed as read.</summary>
        public bool Confirmed { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Entered; how many, and the entry by which they are undone.</summary>
        public sealed record Entered(int Count, Guid HistoryEntry) : Outcome;

        /// <summary>Numbers that are about a power of ten away from the last ones are asked about; the same command with <c>Confirmed</c> keeps them.</summary>
        public sealed record Doubtful(IReadOnlyList<FieldFault> Questions) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Enter(command, act, cancel), cancel);
    }

    private async Task<Outcome> Enter(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await records.Tanks.AsNoTracking().FirstOrDefaultAsync(t => t.Id == command.Tank, cancel) is not { } tank)
            return new Outcome.Refused(TankFaults.TankGone);
        var at = EntryTime.Read(fields, bench, "At", command.At);
        var note = fields.Optional("Note", command.Note, 500);
        var who = fields.Optional("Who", command.Who, 40);
        var typed = command.Lines.Select((line, i) => (Line: line, At: string.Create(CultureInfo.InvariantCulture, $"Lines[{i}]."))).Where(l => l.Line.Typed.Trim().Length > 0).ToList();
        if (typed.Count == 0)
            fields.Fault("", "Nothing is written yet. Write at least one number; lines left empty are left out.");
        if (typed.Count > MostLines)
            fields.Fault("", $"These are {typed.Count} readings; {MostLines} go into one form.");
        var methodIds = typed.Select(l => l.Line.Method).OfType<Guid>().Distinct().ToList();
        var methods = await records.Methods.AsNoTracking().Where(m => methodIds.Contains(m.Id)).ToDictionaryAsync(m => m.Id, cancel);
        var last = await TankRows.LastNumbers(records, tank.Id, methodIds, cancel);
        var questions = new List<FieldFault>();
        var readings = new List<TankReading>();
        foreach (var (line, prefix) in typed.Take(MostLines))
        {
            if (What(fields, prefix, line, tank, methods, bench) is not { } measured)
                continue;
            var field = prefix + "Typed";
            var kit = line.Method is { } of ? KitScale.Of(methods[of]) : null;
            if (TankReadingText.Read(fields, field, line.Typed, measured, kit, bench) is not { } number)
                continue;
            if (!command.Confirmed && line.Method is { } method && last.TryGetValue(method, out var former)
                && (kit is null ? TankReadingText.Doubtful(field, line.Typed, number, former, measured, bench) : TankReadingText.Doubtful(field, line.Typed, number, former, measured, kit, bench)) is { } question)
                questions.Add(question);
            readings.Add(new TankReading(records.BenchId, clock.NewId())
            {
                TankId = tank.Id,
                MethodId = line.Method,
                ParameterKey = measured.Key,
                OtherName = measured.OtherName,
                Form = measured.Form.Text,
                InstrumentName = line.Method is null ? fields.Optional(prefix + "Instrument", line.Instrument, 80) : "",
                Typed = line.Typed.Trim(),
                Value = number.Value,
                Censoring = number.Censoring,
                At = at ?? bench.Now,
                Who = who,
                Note = note,
                RecordedAt = bench.Now,
            });
        }
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        if (questions.Count > 0)
            return new Outcome.Doubtful(questions);
        records.TankReadings.AddRange(readings);
        var said = readings.Count <= 3 ? Words.List([.. readings.Select(r => TankRows.Say(r, bench))]) : $"{Words.Count(readings.Count)} readings";
        var entry = await act.Did($"{tank.Name}: {said} entered.", Subjects.Tank, tank.Id, cancel);
        return new Outcome.Entered(readings.Count, entry.Id);
    }

    private static Measured? What(TypedFields fields, string prefix, ReadingEntry line, Tank tank, Dictionary<Guid, Method> methods, BenchSetting bench)
    {
        if (line.Method is { } id)
        {
            if (!methods.TryGetValue(id, out var method))
            {
                fields.Fault(prefix + "Typed", "This method is not there any more. Enter the reading with the parameter and the name of the instrument.");
                return null;
            }
            if (method.Matrix == Tank.MatrixOf(tank.Kind))
                return Measured.Of(method.ParameterKey, method.OtherName, method.Form);
            fields.Fault(prefix + "Typed", $"This method is for {Words.Water(method.Matrix, null, bench.Sign)}, and {tank.Name} holds {Words.Water(Tank.MatrixOf(tank.Kind), null, bench.Sign)}. Choose a method for that water.");
            return null;
        }
        var own = new TypedFields(bench.OwnSign);
        var measured = Measured.Read(own, line.Parameter, line.OtherName, line.Form);
        foreach (var fault in own.Faults)
            fields.Fault(prefix + fault.Field, fault.Sentence, fault.Offers);
        return own.Ok ? measured : null;
    }
}
