using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Preparation;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Changes what is said of a stock, or of one further value of it; waters made from it keep theirs until they are reckoned anew.</summary>
public sealed class ChangeStock(RecordsContext records, Clock clock)
{
    /// <summary>The stock as it shall be; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>The stock, or a further value of one: then only value and doubt are read.</summary>
        public required Guid Stock { get; init; }

        /// <summary>What stands on the bottle.</summary>
        public string Label { get; init; } = "";

        /// <summary>Value as typed, in the form.</summary>
        public string Known { get; init; } = "";

        /// <summary>Its doubt as typed; in percent of the value, or in the form.</summary>
        public string Doubt { get; init; } = "";

        /// <summary>What the doubt means.</summary>
        public DoubtMeaning DoubtKind { get; init; }

        /// <summary>Where the value came from.</summary>
        public Origin Origin { get; init; }

        /// <summary>Number of the certificate, the maker's words, or how it was made.</summary>
        public string OriginDetail { get; init; } = "";

        /// <summary>What it is dissolved in, in words; may be empty.</summary>
        public string Medium { get; init; } = "";

        /// <summary>How much was in the bottle; may be empty.</summary>
        public string Amount { get; init; } = "";

        /// <summary>Day it was opened, yyyy-MM-dd; may be empty.</summary>
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
        /// <summary>Changed; whether its value is another one now, so that waters made from it may be reckoned anew.</summary>
        public sealed record Changed(bool HasNewValue) : Outcome;


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

    internal static IReadOnlyList<FieldFault> Gone { get; } = [new FieldFault("Stock", "This stock is not on the shelf any more. Look at the stocks, or take it back in the history.")];

    /// <summary>“N-1000 nitrate, certificate 26-0501”: values of one bottle are told apart.</summary>
    internal static string SourceName(Stock row, Measured measured) => $"{row.Label}{(row.BottleId is null ? "" : " " + Words.Small(measured.Name))}, {Words.Origin(row.Origin, row.OriginDetail)}";

    private async Task<Outcome> Change(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        if (await records.Stocks.FirstOrDefaultAsync(s => s.Id == command.Stock, cancel) is not { } stock)
            return new Outcome.Refused(Gone);
        var measured = Measured.Of(stock.ParameterKey, stock.OtherName, stock.Form);
        var stated = await records.Estimates.Read(stock.EstimateId, cancel);
        var wasWeighed = stock.Origin == Origin.OwnPreparation && stated.Contributions.Count > 1;
        var known = wasWeighed ? null : KnownValue.Read(fields, "", command.Known, command.Doubt, command.DoubtKind, measured.Form);
        if (known is { Value: 0 })
            fields.Fault("Known", "A stock of 0 holds nothing. Write what the bottle says.");
        if (stock.BottleId is null)
        {
            stock.Label = fields.Needed("Label", command.Label, "The bottle has no label yet. Write one that you will find again, as in N-1000.", 80);
            if (!wasWeighed)
                stock.Origin = command.Origin;
            stock.OriginDetail = fields.Optional("OriginDetail", command.OriginDetail, 300);
            stock.Medium = fields.Optional("Medium", command.Medium, 200);
            (stock.OpenedOn, stock.UseBy) = (fields.Day("OpenedOn", command.OpenedOn), fields.Day("UseBy", command.UseBy));
            if (stock.OpenedOn > stock.UseBy)
                fields.Fault("UseBy", "The last day of use lies before the day it was opened. Change one of them.");
            (stock.AmountMillilitres, stock.AmountTyped) = (AmountText.Read(fields, bench, "Amount", command.Amount, isMass: false, "an amount"), command.Amount.Trim());
        }
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        if (stock.BottleId is null)
        {
            foreach (var further in await records.Stocks.Where(s => s.BottleId == stock.Id).ToListAsync(cancel))
                (further.Label, further.Origin, further.OriginDetail, further.Medium, further.OpenedOn, further.UseBy, further.AmountMillilitres) = (stock.Label, stock.Origin, stock.OriginDetail, stock.Medium, stock.OpenedOn, stock.UseBy, stock.AmountMillilitres);
        }
        // a new value or a new doubt is a new source: what was made from the former one keeps it
        var isNew = known is not null && (command.Known.Trim() != stock.KnownTyped || command.Doubt.Trim() != stock.DoubtTyped || command.DoubtKind != stock.DoubtKind);
        if (isNew)
        {
            (stock.KnownTyped, stock.DoubtTyped, stock.DoubtKind) = (command.Known.Trim(), command.Doubt.Trim(), command.DoubtKind);
            stock.EstimateId = await records.Estimates.Add(known!.ToEstimate(clock.NewId(), SourceName(stock, measured), measured.Form), measured.Form.Text, "stated", "", clock.NewId(), now, cancel);
        }
        await act.Did($"{stock.Label} changed{(isNew ? $": {Words.Small(measured.Name)}, {NumberWords.Plain(known!.Value, 6, bench.Sign)}{Words.NoBreak}{measured.Form.Display}" : "")}.", Subjects.Stock, stock.BottleId ?? stock.Id, cancel);
        return new Outcome.Changed(isNew);
    }
}
