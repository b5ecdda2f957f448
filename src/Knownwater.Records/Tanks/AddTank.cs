using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Tanks;

/// <summary>Adds a tank.</summary>
public sealed class AddTank(RecordsContext records, Clock clock)
{
    /// <summary>The tank; numbers as typed.</summary>
    public sealed record Command
    {
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
        /// <summary>Added.</summary>
        public sealed record Added(Guid Tank) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Add(command, act, cancel), cancel);
    }

    private async Task<Outcome> Add(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        var tank = new Tank(records.BenchId, clock.NewId());
        await new TankFields(command.Name, command.Kind, command.Volume, command.Unit, command.Salinity, command.Note).Read(records, bench, fields, tank, cancel);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        records.Tanks.Add(tank);
        await act.Did($"{tank.Name} added, {Words.Kind(tank.Kind)}.", Subjects.Tank, tank.Id, cancel);
        return new Outcome.Added(tank.Id);
    }
}
