using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Corrects a reading of a tank that was entered wrongly; the former one stays in the history.</summary>
public sealed class ChangeTankReading(RecordsContext records, Clock clock)
{
    /// <summary>The reading as it shall be.</summary>
    public sealed record Command
    {
        /// <summary>The reading.</summary>
        public required Guid Reading { get; init; }

        /// <summary>The number as typed.</summary>
        public required string Typed { get; init; }

        /// <summary>Day and hour in the bench's time zone, yyyy-MM-ddTHH:mm; empty to leave it.</summary>
        public string At { get; init; } = "";

        /// <summary>Notes; may be empty.</summary>
        public string Note { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Changed; the tank it belongs to.</summary>
        public sealed record Changed(Guid Tank) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Change(command, act, cancel), cancel);
    }

    private async Task<Outcome> Change(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await records.TankReadings.FirstOrDefaultAsync(r => r.Id == command.Reading, cancel) is not { } reading
            || await records.Tanks.AsNoTracking().FirstOrDefaultAsync(t => t.Id == reading.TankId, cancel) is not { } tank)
            return new Outcome.Refused(TankFaults.ReadingGone);
        var method = reading.MethodId is { } id ? await records.Methods.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().FirstOrDefaultAsync(m => m.Id == id, cancel) : null;
        var number = TankReadingText.Read(fields, "Typed", command.Typed, TankRows.MeasuredOf(reading), method is null ? null : KitScale.Of(method), bench);
        var at = EntryTime.Read(fields, bench, "At", command.At, reading.At);
        var note = fields.Optional("Note", command.Note, 500);
        if (!fields.Ok || number is null || at is not { } when)
            return new Outcome.Refused(fields.Faults);
        var former = TankRows.Say(reading, bench);
        (reading.Typed, reading.Value, reading.Censoring, reading.At, reading.Note) = (command.Typed.Trim(), number.Value, number.Censoring, when, note);
        var now = TankRows.Say(reading, bench);
        await act.Did(former == now ? $"{tank.Name}: {now} changed." : $"{tank.Name}: {former} changed to {TankRows.Number(reading, bench)}.", Subjects.Tank, tank.Id, cancel);
        return new Outcome.Changed(tank.Id);
    }
}
