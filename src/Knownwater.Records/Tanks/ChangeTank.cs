using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Changes what is said of a tank.</summary>
public sealed class ChangeTank(RecordsContext records, Clock clock)
{
    /// <summary>The tank as it shall be; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>The tank.</summary>
        public required Guid Tank { get; init; }

        /// <summary>What it is called.</summary>
        public required string Name { get; init; }

        /// <summary>What lives in it.</summary>
        public TankKind Kind { get; init; }

        /// <summary>Volume of its water; may be empty.</summary>
        public string Volume { get; init; } = "";

        /// <summary>Unit of that volume.</summary>
        public TankVolumeUnit Unit { get; init; }

        /// <summary>Practical salinity; may be empty.</summary>
        public string Salinity { get; init; } = "";

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
        /// <summary>Changed.</summary>
        public sealed record Changed : Outcome;

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
        if (await records.Tanks.FirstOrDefaultAsync(t => t.Id == command.Tank, cancel) is not { } tank)
            return new Outcome.Refused(TankFaults.TankGone);
        var former = tank.Name;
        await new TankFields(command.Name, command.Kind, command.Volume, command.Unit, command.Salinity, command.Note).Read(records, bench, fields, tank, cancel);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        await act.Did(former == tank.Name ? $"{tank.Name} changed." : $"{former} is now called {tank.Name}.", Subjects.Tank, tank.Id, cancel);
        return new Outcome.Changed();
    }
}
