using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Records a dose that was given to a tank.</summary>
public sealed class RecordDose(RecordsContext records, Clock clock)
{
    /// <summary>The dose; the amount as typed.</summary>
    public sealed record Command
    {
        /// <summary>The tank.</summary>
        public required Guid Tank { get; init; }

        /// <summary>What was dosed.</summary>
        public required string What { get; init; }

        /// <summary>How much, a number with its unit: <c>38 mL</c>, <c>38 mL a day</c>.</summary>
        public required string Amount { get; init; }

        /// <summary>Key of the listed parameter it moves; empty where that is not said.</summary>
        public string Parameter { get; init; } = "";

        /// <summary>What it was for.</summary>
        public DoseKind Kind { get; init; }

        /// <summary>Whether a machine gave it; else a hand did.</summary>
        public bool IsAutomatic { get; init; }

        /// <summary>Day and hour in the bench's time zone, yyyy-MM-ddTHH:mm; empty for now.</summary>
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
        /// <summary>Recorded.</summary>
        public sealed record Recorded(Guid Dose) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Record(command, act, cancel), cancel);
    }

    private async Task<Outcome> Record(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await records.Tanks.AsNoTracking().FirstOrDefaultAsync(t => t.Id == command.Tank, cancel) is not { } tank)
            return new Outcome.Refused(TankFaults.TankGone);
        var dose = new Dose(records.BenchId, clock.NewId()) { TankId = tank.Id, RecordedAt = bench.Now };
        new DoseFields(command.What, command.Amount, command.Parameter, command.Kind, command.IsAutomatic, command.At, command.Who, command.Note).Read(bench, fields, dose, null);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        records.Doses.Add(dose);
        await act.Did($"{tank.Name}: {TankRows.Say(dose)} dosed.", Subjects.Tank, tank.Id, cancel);
        return new Outcome.Recorded(dose.Id);
    }
}
