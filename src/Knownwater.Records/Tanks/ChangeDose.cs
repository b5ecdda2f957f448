using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Corrects a dose that was recorded wrongly; the former one stays in the history.</summary>
public sealed class ChangeDose(RecordsContext records, Clock clock)
{
    /// <summary>The dose as it shall be; the amount as typed.</summary>
    public sealed record Command
    {
        /// <summary>The dose.</summary>
        public required Guid Dose { get; init; }

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

        /// <summary>Day and hour in the bench's time zone, yyyy-MM-ddTHH:mm; empty for the hour it has.</summary>
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
        if (await records.Doses.FirstOrDefaultAsync(d => d.Id == command.Dose, cancel) is not { } dose
            || await records.Tanks.AsNoTracking().FirstOrDefaultAsync(t => t.Id == dose.TankId, cancel) is not { } tank)
            return new Outcome.Refused(TankFaults.DoseGone);
        var (former, who) = (TankRows.Say(dose), dose.Who);
        new DoseFields(command.What, command.Amount, command.Parameter, command.Kind, command.IsAutomatic, command.At, command.Who, command.Note).Read(bench, fields, dose, dose.At);
        dose.Who = who;
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var now = TankRows.Say(dose);
        await act.Did(former == now ? $"{tank.Name}: {now} changed." : $"{tank.Name}: {former} changed to {now}.", Subjects.Tank, tank.Id, cancel);
        return new Outcome.Changed(tank.Id);
    }
}
