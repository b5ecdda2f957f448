using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Instruments;

/// <summary>Adds an instrument.</summary>
public sealed class AddInstrument(RecordsContext records, Clock clock)
{
    /// <summary>The instrument.</summary>
    public sealed record Command
    {
        /// <summary>What it is called at the bench.</summary>
        public required string Name { get; init; }

        /// <summary>Which kind it is.</summary>
        public InstrumentKind Kind { get; init; }

        /// <summary>Notes.</summary>
        public string Note { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The instrument is there.</summary>
        public sealed record Added(Guid Instrument) : Outcome;

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
        var fields = new TypedFields(null);
        var name = fields.Needed("Name", command.Name, "The instrument has no name yet. Write what you call it at the bench.", 80);
        var note = fields.Optional("Note", command.Note, 2000);
        if (await records.Instruments.AnyAsync(i => i.Name == name, cancel))
            fields.Fault("Name", $"There is a “{name}” already. Choose another name, so that the two are not mixed up.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var instrument = new Instrument(records.BenchId, clock.NewId()) { Name = name, Kind = command.Kind, Note = note };
        records.Instruments.Add(instrument);
        await act.Did($"{name} added, {Words.Kind(command.Kind)}.", Subjects.Instrument, instrument.Id, cancel);
        return new Outcome.Added(instrument.Id);
    }
}
