using System.Text.Json;
using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Preparation;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;

namespace Knownwater.Records.Shelf;

/// <summary>Makes a stock of one's own from a weighed salt and puts it on the shelf, with the balance and the flask as its error sources.</summary>
public sealed class WeighStock(RecordsContext records, Clock clock)
{
    /// <summary>Name of the measurement model in the records.</summary>
    internal const string Model = "weighed salt";

    /// <summary>What was weighed into what; numbers as typed.</summary>
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

        /// <summary>Formula of the salt, its water included.</summary>
        public string Salt { get; init; } = "";

        /// <summary>Mass that was really weighed.</summary>
        public string Mass { get; init; } = "";

        /// <summary>The balance.</summary>
        public Guid? Balance { get; init; }

        /// <summary>Purity in percent.</summary>
        public string Purity { get; init; } = "";

        /// <summary>How far the purity may lie off to both sides, in percent of the mass.</summary>
        public string PurityDoubt { get; init; } = "";

        /// <summary>Volume that it was made up to, or the mass of the whole solution where it was made up on a balance.</summary>
        public string Volume { get; init; } = "";

        /// <summary>The flask, or the balance.</summary>
        public Guid? Flask { get; init; }

        /// <summary>Lot of the salt, or the number on its jar; may be empty.</summary>
        public string OriginDetail { get; init; } = "";

        /// <summary>Day it was made, yyyy-MM-dd; empty for today.</summary>
        public string MadeOn { get; init; } = "";

        /// <summary>Last day of use, yyyy-MM-dd; empty for what its kind keeps.</summary>
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
        public sealed record Made(Guid Stock) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>What the hand should know of a salt before it weighs it.</summary>
    /// <param name="formula">Formula as typed.</param>
    /// <returns>Sentences; empty where the text is no formula.</returns>
    public static IReadOnlyList<string> Cautions(string formula) => ChemicalFormula.TryParse(formula, out var salt, out _) ? Salts.Cautions(salt) : [];

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Weigh(command, act, cancel), cancel);
    }

    private async Task<Outcome> Weigh(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        var label = fields.Needed("Label", command.Label, "The bottle has no label yet. Write one that you will find again, as in KNO3-1.", 80);
        var measured = Measured.Read(fields, command.Parameter, command.OtherName, command.Form);
        if (measured is not null && !PreparationFields.IsPerLitre(measured.Form))
            fields.Fault("Form", $"A stock is made by volume, but {measured.Form.Display} is not per litre. Choose a unit per litre.");
        var salt = Formula(fields, command.Salt);
        var mass = Amount(fields, bench, "Mass", command.Mass, isMass: true, "How much was weighed is missing. Write what the balance showed.");
        var purity = fields.NeededNumber("Purity", command.Purity, "the purity", "The purity is missing. It stands on the jar, as in 99.5.", 0, 100, aboveLeast: true);
        var purityDoubt = fields.NeededNumber("PurityDoubt", command.PurityDoubt, "the doubt of the purity", "The doubt of the purity is missing. For “at least 99 %” write 99.5 give or take 0.5.", 0, 50);
        var pieces = await GlasswareShelf.Read(records, new[] { command.Balance, command.Flask }.OfType<Guid>().ToList(), cancel);
        var balance = Piece(fields, "Balance", command.Balance, pieces, isBalance: true);
        var flask = Piece(fields, "Flask", command.Flask, pieces, isBalance: null);
        var volume = Amount(fields, bench, "Volume", command.Volume, flask?.IsBalance == true, "What it was made up to is missing. Write the volume of the flask, or what the balance showed of the whole solution.");
        var madeOn = fields.Day("MadeOn", command.MadeOn) ?? bench.Today;
        var useBy = fields.Day("UseBy", command.UseBy);
        if (madeOn > bench.Today)
            fields.Fault("MadeOn", "That day has not come yet. Write the day it was made.");
        if (useBy < madeOn)
            fields.Fault("UseBy", "The last day of use lies before the day it was made. Change one of them.");
        if (purity + purityDoubt > 100.0001 && purity <= 100)
            fields.Fault("PurityDoubt", $"{command.Purity.Trim()} give or take {command.PurityDoubt.Trim()} goes beyond 100 %. Write the middle and half the width, as in 99.5 and 0.5 for 99 to 100 %.");
        if (!fields.Ok || measured is null || salt is null || mass is not { } grams || purity is not { } pure || purityDoubt is not { } off || volume is not { } size || balance is null || flask is null)
            return new Outcome.Refused(fields.Faults);

        var stock = new Stock(records.BenchId, clock.NewId());
        var detail = fields.Optional("OriginDetail", command.OriginDetail, 300);
        PreparedWater made;
        double millilitres;
        IReadOnlyList<Companion> companions;
        try
        {
            var part = off > 0 ? Estimate.From(pure / 100, ErrorSource.Rectangular($"purity of {salt.Text}{(detail.Length > 0 ? ", " + detail : "")}", off / 100, id: SourceIdentity.Of(stock.Id, "purity"))) : Estimate.Exact(pure / 100);
            var (occasion, reading) = (SourceIdentity.Of(stock.Id, "volume"), flask.Measure(size, SourceIdentity.Of(stock.Id, "volume")));
            var solution = flask.IsBalance ? WeighedSalt.VolumeOf(reading, grams, null, occasion) : reading;
            millilitres = solution.Value;
            made = Preparations.Of(new PreparationPlan
            {
                Form = measured.Form,
                Stock = new StockSolution
                {
                    Name = label,
                    Salt = new WeighedSalt
                    {
                        Formula = salt,
                        Mass = balance.Measure(grams, SourceIdentity.Of(stock.Id, "mass")),
                        Purity = part,
                        Volume = solution,
                    },
                },
                Matrix = new MatrixWater { Kind = Matrix.FreshWater },
            });
            companions = StockMedium.Find("water")!.Companions(measured.Form, made.Concentration.Value, salt);
        }
        catch (PreparationException refusal)
        {
            fields.Fault("Salt", refusal.Message);
            return new Outcome.Refused(fields.Faults);
        }
        var kind = Ageing.Find(measured.Parameter, made.Concentration.Value, measured.Form, AgeingMedium.PureWater);
        stock.Code = await ShelfCode.NextStock(records, cancel);
        stock.Label = label;
        (stock.ParameterKey, stock.OtherName, stock.Form) = (measured.Key, measured.OtherName, measured.Form.Text);
        var weighed = $"{WithUnit(command.Mass, "g")} of {salt.Text} in {WithUnit(command.Volume, flask.Unit)}";
        stock.KnownTyped = weighed;
        stock.DoubtTyped = made.Concentration.StandardUncertainty.ToString("R", System.Globalization.CultureInfo.InvariantCulture);
        stock.DoubtKind = DoubtMeaning.Standard;
        stock.Origin = Origin.OwnPreparation;
        stock.OriginDetail = detail.Length > 0 ? $"{weighed}, {detail}" : weighed;
        stock.Medium = $"{salt.Display} in water";
        stock.OpenedOn = madeOn;
        stock.UseBy = useBy ?? (kind?.LifeDays is { } days ? madeOn.PlusDays((int)days) : null);
        stock.AmountMillilitres = millilitres;
        stock.AmountTyped = flask.IsBalance ? "" : command.Volume.Trim();
        stock.Who = fields.Optional("Who", command.Who, 40);
        stock.AddedAt = now;
        var inputs = JsonSerializer.Serialize(new { Salt = salt.Text, Mass = grams, command.Balance, PurityPercent = pure, PurityHalfRangePercent = off, MadeUpTo = size, command.Flask });
        stock.EstimateId = await records.Estimates.Add(made.Concentration, measured.Form.Text, Model, inputs, clock.NewId(), now, cancel);
        records.Stocks.Add(stock);
        StockShelf.Add(records, clock, stock, [.. companions.Select(c => (c.Species, c.PerLitreOfStock, c.Form, ""))]);
        await act.Did($"{label} made from {salt.Text} and put on the shelf: {WaterReading.KnownWords(made.Concentration, measured.Form, bench.Sign)}.", Subjects.Stock, stock.Id, cancel);
        return new Outcome.Made(stock.Id);
    }

    private static ChemicalFormula? Formula(TypedFields fields, string typed)
    {
        if (!ChemicalFormula.TryParse(typed, out var salt, out var error))
        {
            fields.Fault("Salt", typed.Trim().Length == 0 ? "Which salt was weighed is missing. Write its formula with its water, as in KNO3 or CaCl2.2H2O." : error);
            return null;
        }
        try
        {
            Salts.RequireWeighable(salt);
            return salt;
        }
        catch (PreparationException refusal)
        {
            fields.Fault("Salt", refusal.Message);
            return null;
        }
    }

    private static string WithUnit(string typed, string unit) => typed.Any(char.IsLetter) ? typed.Trim() : $"{typed.Trim()} {unit}";

    private static double? Amount(TypedFields fields, BenchSetting bench, string field, string typed, bool isMass, string missing)
    {
        if (typed.Trim().Length == 0)
            fields.Fault(field, missing);
        return AmountText.Read(fields, bench, field, typed, isMass, isMass ? "what was weighed" : "what it was made up to");
    }

    private static Glassware? Piece(TypedFields fields, string field, Guid? id, IReadOnlyDictionary<Guid, Glassware> pieces, bool? isBalance)
    {
        if (id is not { } key || !pieces.TryGetValue(key, out var piece))
        {
            fields.Fault(field, isBalance == true ? "Choose the balance it was weighed on." : "Choose the flask it was made up in, or the balance.");
            return null;
        }
        if (isBalance is null || piece.IsBalance == isBalance)
            return piece;
        fields.Fault(field, $"{piece.Name} is no balance. Choose one.");
        return null;
    }
}
