using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Preparation;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;

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
        var water = new NutrientFreeWater(records.BenchId, clock.NewId())
        {
            Label = fields.Needed("Label", command.Label, "It has no label yet. Write one that you will find again, as in sea 26-A.", 80),
            Kind = command.Kind,
            SalinityTyped = command.Salinity.Trim(),
            OpenedOn = fields.Day("OpenedOn", command.OpenedOn),
            UseBy = fields.Day("UseBy", command.UseBy),
            AmountMillilitres = AmountText.Read(fields, bench, "Amount", command.Amount, isMass: false, "an amount"),
            AmountTyped = command.Amount.Trim(),
            Who = fields.Optional("Who", command.Who, 40),
            AddedAt = now,
        };
        var salinity = water.Matrix == Matrix.Seawater
            ? fields.NeededNumber("Salinity", command.Salinity, "a salinity", "The salinity is missing. Known water must match the method’s; 35 is usual.", 0, 42)
            : fields.Number("Salinity", command.Salinity, "the salinity of fresh water", 0, 3);
        water.Salinity = salinity ?? 0;
        if (water.OpenedOn > water.UseBy)
            fields.Fault("UseBy", "The last day of use lies before the day it was opened. Change one of them.");
        var background = command.Background.Trim().Length == 0 ? null : await Background(command, water, fields, now, cancel);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        records.NutrientFreeWaters.Add(water);
        if (background is not null)
            records.Backgrounds.Add(background);
        await act.Did($"{water.Label} put on the shelf: nutrient-free water.", Subjects.NutrientFree, water.Id, cancel);
        return new Outcome.Added(water.Id);
    }

    private async Task<Background?> Background(Command command, NutrientFreeWater water, TypedFields fields, NodaTime.Instant now, CancellationToken cancel)
    {
        var measured = Measured.Read(fields, command.Parameter, command.OtherName, command.Form);
        if (fields.Read("Background", command.Background) is not { } reading || measured is null)
            return null;
        if (!PreparationFields.IsPerLitre(measured.Form))
            fields.Fault("Form", $"Known water is made by volume, but {measured.Form.Display} is not per litre. Choose a unit per litre.");
        if (reading.Value < 0 || reading.Censoring == Censoring.Above)
            fields.Fault("Background", $"{command.Background.Trim()} is no background. Write what the water holds, zero or above, or the limit below which it lies as in <0.02.");
        var limit = reading.Censoring == Censoring.Below;
        var doubt = limit ? reading.Value / 2 : fields.NeededNumber("BackgroundDoubt", command.BackgroundDoubt, "a doubt", $"The doubt of the background is missing. Write how far it may be off, in {measured.Form.UnitDisplay}; 0 takes it as exact.", 0);
        if (limit && command.BackgroundOrigin is BackgroundOrigin.NotMeasured or BackgroundOrigin.AnalyserUnderCheck)
            fields.Fault("BackgroundOrigin", "A limit counts only where another instrument or a certificate gives it: below its own limit the analyser under check cannot see its offset. Write the value it showed, or choose where the limit comes from.");
        if (!fields.Ok || doubt is not { } half)
            return null;
        // below a limit of another instrument all values from zero to it are equally likely
        var value = limit ? reading.Value / 2 : reading.Value;
        var name = $"background of {water.Label}, {NutrientFreeView.OriginWords(command.BackgroundOrigin).Split(':')[0]}";
        var estimate = half > 0 ? Estimate.From(value, ErrorSource.Rectangular(name, half, measured.Form.Text, clock.NewId())) : Estimate.Exact(value);
        return new Background(records.BenchId, clock.NewId())
        {
            WaterId = water.Id,
            ParameterKey = measured.Key,
            OtherName = measured.OtherName,
            Form = measured.Form.Text,
            Typed = command.Background.Trim(),
            DoubtTyped = command.BackgroundDoubt.Trim(),
            Origin = command.BackgroundOrigin,
            EstimateId = await records.Estimates.Add(estimate, measured.Form.Text, "stated", "", clock.NewId(), now, cancel),
        };
    }
}
