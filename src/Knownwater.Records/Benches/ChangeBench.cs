using Knownwater.Quantities;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Benches;

/// <summary>Changes the bench's name, decimal sign, time zone and main use.</summary>
public sealed class ChangeBench(RecordsContext records, Clock clock)
{
    /// <summary>The bench as it shall be.</summary>
    public sealed record Command
    {
        /// <summary>Its name.</summary>
        public required string Name { get; init; }

        /// <summary>The owner's decimal sign; null where not said.</summary>
        public DecimalSign? DecimalSign { get; init; }

        /// <summary>Time zone by the tz database.</summary>
        public required string TimeZone { get; init; }

        /// <summary>What it mostly looks after.</summary>
        public MainUse MainUse { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The bench was changed.</summary>
        public sealed record Changed : Outcome;

        /// <summary>Nothing was written.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Changes the bench.</summary>
    /// <param name="command">The bench as it shall be.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>The outcome.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Change(command, act, cancel), cancel);
    }

    private async Task<Outcome> Change(Command command, Act act, CancellationToken cancel)
    {
        var fields = new TypedFields(null);
        var bench = await records.Benches.SingleAsync(b => b.Id == records.BenchId, cancel);
        var name = fields.Needed("Name", command.Name, "The bench has no name. Write one, as in Fish room.", 80);
        var zone = command.TimeZone.Trim();
        if (DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is null)
            fields.Fault("TimeZone", $"“{zone}” is not a time zone. Choose one by its place, as in Europe/Berlin.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        bench.Name = name;
        bench.DecimalSign = command.DecimalSign;
        bench.TimeZone = zone;
        bench.MainUse = command.MainUse;
        await act.Did("Bench changed.", Subjects.Bench, bench.Id, cancel);
        return new Outcome.Changed();
    }
}
