using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Changes what is said of a nutrient-free water; what was made in it keeps its value.</summary>
public sealed class ChangeNutrientFree(RecordsContext records, Clock clock)
{
    /// <summary>The water as it shall be; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>The nutrient-free water.</summary>
        public required Guid Water { get; init; }

        /// <summary>What stands on it.</summary>
        public string Label { get; init; } = "";

        /// <summary>Practical salinity as typed; needed for seawater.</summary>
        public string Salinity { get; init; } = "";

        /// <summary>How much there was; may be empty.</summary>
        public string Amount { get; init; } = "";

        /// <summary>Day it was opened or mixed, yyyy-MM-dd; may be empty.</summary>
        public string OpenedOn { get; init; } = "";

        /// <summary>Last day of use, yyyy-MM-dd; may be empty.</summary>
        public string UseBy { get; init; } = "";


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
        if (await records.NutrientFreeWaters.FirstOrDefaultAsync(w => w.Id == command.Water, cancel) is not { } water)
            return new Outcome.Refused([new FieldFault("Water", "This water is not on the shelf any more. Look at the shelf, or take it back in the history.")]);
        AddNutrientFree.ReadInto(water, fields, bench, command.Label, command.Salinity, command.Amount, command.OpenedOn, command.UseBy);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        await act.Did($"{water.Label} changed.", Subjects.NutrientFree, water.Id, cancel);
        return new Outcome.Changed();
    }
}
