using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Preparation;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Shelf;

/// <summary>Puts a stock on the shelf.</summary>
public sealed class AddStock(RecordsContext records, Clock clock)
{
    /// <summary>The most things that a stock may hold besides its analyte.</summary>
    public const int MostCompanions = 6;

    /// <summary>The stock; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>What stands on the bottle.</summary>
        public required string Label { get; init; }

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

        /// <summary>Where the value came from.</summary>
        public Origin Origin { get; init; }

        /// <summary>Number of the certificate, the maker's words, or how it was made.</summary>
        public string OriginDetail { get; init; } = "";

        /// <summary>What it is dissolved in; may be empty.</summary>
        public string Medium { get; init; } = "";

        /// <summary>Key of a prefilled medium, or <c>other</c>; empty where not said. What it brings is reckoned.</summary>
        public string MediumKind { get; init; } = "";

        /// <summary>Acid or alkali of another medium, as in HCl; only with <c>other</c>.</summary>
        public string MediumFormula { get; init; } = "";

        /// <summary>Its strength in mol/L as typed; only with <c>other</c>.</summary>
        public string MediumStrength { get; init; } = "";

        /// <summary>Formula of the salt it was made of, as in KH2PO4; may be empty. What it brings is reckoned.</summary>
        public string Salt { get; init; } = "";

        /// <summary>What else is in it, one a line: “nitrate 19000 mg/L NO3”, “alkalinity -310 meq/L”; may be empty. A line outranks what is reckoned for the same thing.</summary>
        public string Companions { get; init; } = "";

        /// <summary>How much is in the bottle; may be empty.</summary>
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
        /// <summary>It stands on the shelf.</summary>
        public sealed record Added(Guid Stock) : Outcome;

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

    private static readonly char[] Begins = [.. "-−0123456789"];

    private async Task<Outcome> Add(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        var stock = new Stock(records.BenchId, clock.NewId())
        {
            Code = await ShelfCode.NextStock(records, cancel),
            Label = fields.Needed("Label", command.Label, "The bottle has no label yet. Write one that you will find again, as in N-1000.", 80),
            KnownTyped = command.Known.Trim(),
            DoubtTyped = command.Doubt.Trim(),
            DoubtKind = command.DoubtKind,
            Origin = command.Origin,
            OriginDetail = fields.Optional("OriginDetail", command.OriginDetail, 300),
            Medium = fields.Optional("Medium", command.Medium, 200),
            OpenedOn = fields.Day("OpenedOn", command.OpenedOn),
            UseBy = fields.Day("UseBy", command.UseBy),
            AmountMillilitres = AmountText.Read(fields, bench, "Amount", command.Amount, isMass: false, "an amount"),
            AmountTyped = command.Amount.Trim(),
            Who = fields.Optional("Who", command.Who, 40),
            AddedAt = now,
        };
        if (stock.OpenedOn > stock.UseBy)
            fields.Fault("UseBy", "The last day of use lies before the day it was opened. Change one of them.");
        var companions = Companions(fields, bench, command.Companions);
        var (medium, salt) = Medium(fields, command);
        var measured = Measured.Read(fields, command.Parameter, command.OtherName, command.Form);
        if (measured is not null && !PreparationFields.IsPerLitre(measured.Form))
            fields.Fault("Form", $"Known water is made by volume, but {measured.Form.Display} is not per litre. Choose a unit per litre.");
        var known = measured is null ? null : KnownValue.Read(fields, "", command.Known, command.Doubt, command.DoubtKind, measured.Form);
        if (known is { Value: 0 })
            fields.Fault("Known", "A stock of 0 holds nothing. Write what the bottle says.");
        if (measured is null || known is null || !fields.Ok)
            return new Outcome.Refused(fields.Faults);
        if (!Reckon(fields, measured.Form, known.Value, medium, salt, companions))
            return new Outcome.Refused(fields.Faults);
        if (stock.Medium.Length == 0 && medium is not null)
            stock.Medium = salt is null ? medium.Name : $"{salt.Display} in {medium.Name}";
        (stock.ParameterKey, stock.OtherName, stock.Form) = (measured.Key, measured.OtherName, measured.Form.Text);
        stock.EstimateId = await records.Estimates.Add(known.ToEstimate(clock.NewId(), $"{stock.Label}, {Words.Origin(stock.Origin, stock.OriginDetail)}", measured.Form), measured.Form.Text, "stated", "", clock.NewId(), now, cancel);
        records.Stocks.Add(stock);
        StockShelf.Add(records, clock, stock, companions);
        await act.Did($"{stock.Label} put on the shelf: {Words.Small(measured.Name)}, {NumberWords.Plain(known.Value, 6, bench.Sign)}{Words.NoBreak}{measured.Form.Display}.", Subjects.Stock, stock.Id, cancel);
        return new Outcome.Added(stock.Id);
    }

    private static (StockMedium? Medium, ChemicalFormula? Salt) Medium(TypedFields fields, Command command)
    {
        var salt = Formula(fields, "Salt", command.Salt);
        if (command.MediumKind != "other")
            return (StockMedium.Find(command.MediumKind) ?? (salt is null ? null : StockMedium.Find("water")), salt);
        var strength = fields.NeededNumber("MediumStrength", command.MediumStrength, "a strength", "The strength of the acid or alkali is missing. Write it in mol/L, as the certificate says.", 0, 20, aboveLeast: true);
        if (command.MediumFormula.Trim().Length == 0)
            fields.Fault("MediumFormula", "Which acid or alkali is it? Write its formula, as in HCl or NaOH.");
        return Formula(fields, "MediumFormula", command.MediumFormula) is { } solute && strength is { } c ? (StockMedium.Other(solute, c), salt) : (null, salt);
    }

    private static ChemicalFormula? Formula(TypedFields fields, string field, string typed)
    {
        if (typed.Trim().Length == 0)
            return null;
        if (!ChemicalFormula.TryParse(typed, out var formula, out var error))
            fields.Fault(field, error);
        return formula;
    }

    /// <summary>Adds what medium and salt bring; a typed line of the same form stands.</summary>
    private static bool Reckon(TypedFields fields, ReportingForm form, double value, StockMedium? medium, ChemicalFormula? salt, List<(string Species, double Amount, ReportingForm Form, string Typed)> companions)
    {
        try
        {
            foreach (var c in medium?.Companions(form, value, salt) ?? [])
            {
                if (!companions.Exists(typed => typed.Species.Equals(c.Species, StringComparison.OrdinalIgnoreCase) || typed.Form.Species == c.Form.Species))
                    companions.Add((c.Species, c.PerLitreOfStock, c.Form, ""));
            }
            var ions = companions.Aggregate(DissolvedIons.None.WithAmount(form, value), (all, c) => all.WithAmount(c.Form, c.Amount));
            if (Precipitation.Of(ions).FirstOrDefault(r => r.IsCertain) is { } certain)
                fields.Fault("Companions", certain.Sentence);
        }
        catch (PreparationException refusal)
        {
            fields.Fault("Salt", refusal.Message);
        }
        return fields.Ok;
    }

    private static List<(string Species, double Amount, ReportingForm Form, string Typed)> Companions(TypedFields fields, BenchSetting bench, string typed)
    {
        var read = new List<(string, double, ReportingForm, string)>();
        foreach (var line in typed.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (read.Count == MostCompanions)
            {
                fields.Fault("Companions", $"A stock may hold {Words.Count(MostCompanions)} other things at the most. Leave the small ones out.");
                break;
            }
            var at = line.IndexOfAny(Begins);
            if (at <= 0)
            {
                fields.Fault("Companions", $"“{line}” does not say what and how much. Write it as in nitrate 19000 mg/L NO3.");
                continue;
            }
            try
            {
                var quantity = QuantityText.ReadQuantity(line[at..], bench.OwnSign);
                if (PreparationFields.IsPerLitre(quantity.Form))
                    read.Add((line[..at].Trim(' ', ':', ','), quantity.Value, quantity.Form, line));
                else
                    fields.Fault("Companions", $"“{line}” is not per litre of stock. Write it as in nitrate 19000 mg/L NO3.");
            }
            catch (QuantityFormatException fault)
            {
                fields.Fault("Companions", fault.Message);
            }
        }
        return read;
    }
}
