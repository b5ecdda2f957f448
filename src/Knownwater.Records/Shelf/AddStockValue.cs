using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Preparation;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Notes a further value of a stock whose certificate speaks of several analytes; every water made from the bottle is known for it too.</summary>
public sealed class AddStockValue(RecordsContext records, Clock clock)
{
    /// <summary>The value as the certificate has it; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>The stock.</summary>
        public required Guid Stock { get; init; }

        /// <summary>Key of a listed parameter, or <c>other</c>.</summary>
        public required string Parameter { get; init; }

        /// <summary>Name of another analyte; only with <c>other</c>.</summary>
        public string OtherName { get; init; } = "";

        /// <summary>Reporting form as text; empty for the parameter's own.</summary>
        public string Form { get; init; } = "";

        /// <summary>Value as typed, in the form.</summary>
        public string Known { get; init; } = "";

        /// <summary>Its doubt as typed; in percent of the value, or in the form.</summary>
        public string Doubt { get; init; } = "";

        /// <summary>What the doubt means.</summary>
        public DoubtMeaning DoubtKind { get; init; }


        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Noted.</summary>
        public sealed record Added(Guid Value) : Outcome;


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
        if (await records.Stocks.AsNoTracking().FirstOrDefaultAsync(s => s.Id == command.Stock && s.BottleId == null, cancel) is not { } bottle)
            return new Outcome.Refused(ChangeStock.Gone);
        var measured = Measured.Read(fields, command.Parameter, command.OtherName, command.Form);
        if (measured is not null && !PreparationFields.IsPerLitre(measured.Form))
            fields.Fault("Form", $"Known water is made by volume, but {measured.Form.Display} is not per litre. Choose a unit per litre.");
        if (measured is null || KnownValue.Read(fields, "", command.Known, command.Doubt, command.DoubtKind, measured.Form) is not { } known)
            return new Outcome.Refused(fields.Faults);
        if (known.Value == 0)
            fields.Fault("Known", "A value of 0 is no further value. Write what the certificate says.");
        foreach (var there in await records.Stocks.AsNoTracking().Where(s => s.Id == bottle.Id || s.BottleId == bottle.Id).ToListAsync(cancel))
        {
            if (measured.IsSameAs(there.ParameterKey, there.OtherName))
                fields.Fault("Parameter", $"{bottle.Label} has a value for {Words.Small(measured.Name)} already. Change that one, or choose another analyte.");
        }
        var spoiling = await records.StockCompanions.AsNoTracking().Where(c => c.StockId == bottle.Id).ToListAsync(cancel);
        if (spoiling.FirstOrDefault(c => ReportingForm.Parse(c.Form).Species == measured.Form.Species) is { } companion)
            fields.Fault("Parameter", $"{companion.Species} stands among what else is in {bottle.Label}: salt or acid bring it, so that the bottle is no reference for {Words.Small(measured.Name)}. Only a certificate that counts all of it would do.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var value = new Stock(records.BenchId, clock.NewId())
        {
            BottleId = bottle.Id,
            Label = bottle.Label,
            ParameterKey = measured.Key,
            OtherName = measured.OtherName,
            Form = measured.Form.Text,
            KnownTyped = command.Known.Trim(),
            DoubtTyped = command.Doubt.Trim(),
            DoubtKind = command.DoubtKind,
            Origin = bottle.Origin,
            OriginDetail = bottle.OriginDetail,
            Medium = bottle.Medium,
            OpenedOn = bottle.OpenedOn,
            UseBy = bottle.UseBy,
            AmountMillilitres = bottle.AmountMillilitres,
            Who = fields.Optional("Who", command.Who, 40),
            AddedAt = now,
        };
        value.EstimateId = await records.Estimates.Add(known.ToEstimate(clock.NewId(), ChangeStock.SourceName(value, measured), measured.Form), measured.Form.Text, "stated", "", clock.NewId(), now, cancel);
        records.Stocks.Add(value);
        await act.Did($"{bottle.Label} is known for {Words.Small(measured.Name)} too: {NumberWords.Plain(known.Value, 6, bench.Sign)}{Words.NoBreak}{measured.Form.Display}.", Subjects.Stock, bottle.Id, cancel);
        return new Outcome.Added(value.Id);
    }
}
