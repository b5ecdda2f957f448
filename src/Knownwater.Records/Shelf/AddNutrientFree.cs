using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Preparation;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Shelf;

/// <summary>Puts a nutrient-free water on the shelf, with what it holds already where that is known.</summary>
public sealed class AddNutrientFree(RecordsContext records, Clock clock)
{
    /// <summary>The water; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>What stands on it.</summary>
        public required string Label { get; init; }

        /// <summary>What it is.</summary>
        public NutrientFreeKind Kind { get; init; }

        /// <summary>Practical salinity as typed; needed for seawater.</summary>
        public string Salinity { get; init; } = "";

        /// <summary>How much there is; may be empty.</summary>
        public string Amount { get; init; } = "";

        /// <summary>Day it was opened or mixed, yyyy-MM-dd; may be empty.</summary>
        public string OpenedOn { get; init; } = "";

        /// <summary>Last day of use, yyyy-MM-dd; may be empty.</summary>
        public string UseBy { get; init; } = "";

        /// <summary>Parameter whose background is known; empty for none.</summary>
        public string Parameter { get; init; } = "";

        /// <summary>Name of another analyte; only with <c>other</c>.</summary>
        public string OtherName { get; init; } = "";

        /// <summary>Form of the background; empty for the parameter's own.</summary>
        public string Form { get; init; } = "";

        /// <summary>Background as typed: a value, or a limit such as “&lt;0.02”; empty where not known.</summary>
        public string Background { get; init; } = "";

        /// <summary>Its doubt to both sides as typed; not read for a limit.</summary>
        public string BackgroundDoubt { get; init; } = "";

        /// <summary>Where the background comes from.</summary>
        public BackgroundOrigin BackgroundOrigin { get; init; }

        /// <summary>The method it was read on, where that is the analyser under check; null where not said.</summary>
        public Guid? BackgroundMethod { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>It stands on the shelf.</summary>
        public sealed record Added(Guid Water) : Outcome;

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
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        var water = new NutrientFreeWater(records.BenchId, clock.NewId()) { Kind = command.Kind, Who = fields.Optional("Who", command.Who, 40), AddedAt = now };
        ReadInto(water, fields, bench, command.Label, command.Salinity, command.Amount, command.OpenedOn, command.UseBy);
        var background = command.Background.Trim().Length == 0 ? null : await BackgroundFields.Read(records, clock, bench, fields, water, new BackgroundFields(command.Parameter, command.OtherName, command.Form, command.Background, command.BackgroundDoubt, command.BackgroundOrigin, command.BackgroundMethod), cancel);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        records.NutrientFreeWaters.Add(water);
        if (background is not null)
            records.Backgrounds.Add(background);
        await act.Did($"{water.Label} put on the shelf: nutrient-free water.", Subjects.NutrientFree, water.Id, cancel);
        return new Outcome.Added(water.Id);
    }

    /// <summary>Reads what is said of a nutrient-free water, with a fault for what cannot be read.</summary>
    internal static void ReadInto(NutrientFreeWater water, TypedFields fields, BenchSetting bench, string label, string salinity, string amount, string openedOn, string useBy)
    {
        water.Label = fields.Needed("Label", label, "It has no label yet. Write one that you will find again, as in sea 26-A.", 80);
        (water.OpenedOn, water.UseBy) = (fields.Day("OpenedOn", openedOn), fields.Day("UseBy", useBy));
        (water.AmountMillilitres, water.AmountTyped) = (AmountText.Read(fields, bench, "Amount", amount, isMass: false, "an amount"), amount.Trim());
        water.SalinityTyped = salinity.Trim();
        water.Salinity = (water.Matrix == Matrix.Seawater
            ? fields.NeededNumber("Salinity", salinity, "a salinity", "The salinity is missing. Known water must match the method’s; 35 is usual.", 0, 42)
            : fields.Number("Salinity", salinity, "the salinity of fresh water", 0, 3)) ?? 0;
        if (water.OpenedOn > water.UseBy)
            fields.Fault("UseBy", "The last day of use lies before the day it was opened. Change one of them.");
    }
}
