using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Changes what is said of a known water; checks that used it keep their copies.</summary>
public sealed class ChangeReferenceWater(RecordsContext records, Clock clock)
{
    /// <summary>The water as it shall be; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>The water.</summary>
        public required Guid Water { get; init; }

        /// <summary>Label of the bottle.</summary>
        public required string Label { get; init; }

        /// <summary>Key of a listed parameter, or <c>other</c>.</summary>
        public required string Parameter { get; init; }

        /// <summary>Name of another analyte; only with <c>other</c>.</summary>
        public string OtherName { get; init; } = "";

        /// <summary>Reporting form as text, <c>mg/L Cd</c>; empty for the parameter's own.</summary>
        public string Form { get; init; } = "";

        /// <summary>What the water is.</summary>
        public Matrix Matrix { get; init; }

        /// <summary>Practical salinity as typed; may be empty.</summary>
        public string Salinity { get; init; } = "";

        /// <summary>Known value as typed, in the form.</summary>
        public string Known { get; init; } = "";

        /// <summary>Its doubt as typed; empty is refused, “0” is taken as exact.</summary>
        public string Doubt { get; init; } = "";

        /// <summary>What the doubt means.</summary>
        public DoubtMeaning DoubtKind { get; init; }

        /// <summary>Where the value came from.</summary>
        public Origin Origin { get; init; }

        /// <summary>Number of the certificate, the maker's words, or how it was made.</summary>
        public string OriginDetail { get; init; } = "";

        /// <summary>Day it was made or opened, yyyy-MM-dd; may be empty.</summary>
        public string MadeOn { get; init; } = "";

        /// <summary>Last day of use, yyyy-MM-dd; may be empty.</summary>
        public string UseBy { get; init; } = "";

        /// <summary>How much there is as typed, in mL or with its unit; may be empty.</summary>
        public string Amount { get; init; } = "";

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
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        if (await records.ReferenceWaters.FirstOrDefaultAsync(w => w.Id == command.Water, cancel) is not { } water)
            return new Outcome.Refused(WaterFields.Gone);
        if (water.PreparationId is not null)
            return new Outcome.Refused([new FieldFault("Known", $"The value of {water.Label} comes from how it was made and is not typed. Take it off the shelf, or make another one.")]);
        if (water.Code.Length == 0 && water.BottleId is null)
            water.Code = await ShelfCode.NextWater(records, cancel);
        var (key, other, form) = (water.ParameterKey, water.OtherName, water.Form);
        var stated = await records.Estimates.Read(water.EstimateId, cancel);
        var (kind, doubtTyped, knownTyped) = (water.DoubtKind, water.DoubtTyped, water.KnownTyped);
        var read = WaterFields.Read(fields, bench, water, new WaterFields(command.Label, command.Parameter, command.OtherName, command.Form, command.Matrix, command.Salinity, command.Known,
            command.Doubt, command.DoubtKind, command.Origin, command.OriginDetail, command.MadeOn, command.UseBy, command.Amount));
        if (fields.Ok && (key != water.ParameterKey || other != water.OtherName) && await records.CheckLevels.AnyAsync(l => l.ReferenceWaterId == water.Id, cancel))
            fields.Fault("Parameter", "Checks used this water, so that what it is known for stands. Put another one on the shelf.");
        if (read is not { } known || !fields.Ok)
            return new Outcome.Refused(fields.Faults);
        // A new value or a new doubt is a new source: what was judged with the former one keeps it.
        if (form != water.Form || kind != water.DoubtKind || doubtTyped != water.DoubtTyped || knownTyped != water.KnownTyped || stated.Value != known.Value.Value)
        {
            var name = $"{water.Label}, {Words.Origin(water.Origin, water.OriginDetail)}";
            water.EstimateId = await records.Estimates.Add(known.Value.ToEstimate(clock.NewId(), name, known.Measured.Form), known.Measured.Form.Text, "stated", "", clock.NewId(), now, cancel);
        }
        await act.Did($"{water.Label} changed.", Subjects.Water, water.Id, cancel);
        return new Outcome.Changed();
    }
}
