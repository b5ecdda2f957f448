using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Preparation;

/// <summary>What a preparation is made of, read from the shelf; evaluates it as planned or as done.</summary>
internal sealed class PreparationFields
{
    private readonly Stock _stock;
    private readonly NutrientFreeWater _water;
    private readonly BenchSetting _bench;

    private PreparationFields(BenchSetting bench, (Stock Row, StockView View) shelved, (NutrientFreeWater Row, NutrientFreeView View) into, Estimate background, bool hidesOffset, IReadOnlyDictionary<Guid, Glassware> pieces)
    {
        var ((stockRow, stock), (waterRow, water)) = (shelved, into);
        (_bench, _stock, _water) = (bench, stockRow, waterRow);
        Stock = stock;
        Water = water;
        Background = background;
        HidesOffset = hidesOffset;
        Pieces = pieces;
    }

    public StockView Stock { get; }

    public NutrientFreeView Water { get; }

    public Estimate Background { get; }

    /// <summary>Whether an offset of the analyser would hide in the background.</summary>
    public bool HidesOffset { get; }

    public IReadOnlyDictionary<Guid, Glassware> Pieces { get; }

    /// <summary>The stock's row.</summary>
    public Stock Row => _stock;

    /// <summary>The same preparation for the further values of the bottle; empty for one analyte.</summary>
    public IReadOnlyList<PreparationFields> Further { get; private init; } = [];

    /// <summary>The fields of the value that a water of this preparation is.</summary>
    public PreparationFields Of(ReferenceWater water) => Further.FirstOrDefault(f => f._stock.ParameterKey == water.ParameterKey && f._stock.OtherName == water.OtherName) ?? this;

    /// <summary>Whether a form gives an amount in a litre, as a preparation by volume needs.</summary>
    public static bool IsPerLitre(ReportingForm form) =>
        form.Kind is FormKind.MassConcentration or FormKind.AmountConcentration or FormKind.ChargeConcentration or FormKind.AlkalinityDegrees or FormKind.HardnessDegrees;

    /// <summary>Reads the shelf for a preparation, with the proofs of its glassware as of a moment; null where stock or water are gone.</summary>
    public static async Task<PreparationFields?> Read(RecordsContext records, BenchSetting bench, Guid stock, Guid water, IReadOnlyCollection<Guid> pieces, CancellationToken cancel, Instant? asOf = null)
    {
        var all = new[] { RecordsContext.DeletedFilter };
        if (await records.Stocks.AsNoTracking().IgnoreQueryFilters(all).FirstOrDefaultAsync(s => s.Id == stock, cancel) is not { } stockRow
            || await records.NutrientFreeWaters.AsNoTracking().IgnoreQueryFilters(all).FirstOrDefaultAsync(w => w.Id == water, cancel) is not { } waterRow)
            return null;
        var stockView = (await StockShelf.Read(records, [stockRow], bench, cancel))[0];
        var waterView = (await NutrientFreeView.Read(records, [waterRow], bench, cancel))[0];
        var backgrounds = await records.Backgrounds.AsNoTracking().Where(b => b.WaterId == water).ToListAsync(cancel);
        var glassware = await GlasswareShelf.Read(records, pieces, cancel, asOf);
        // the values of a bottle that were known when it was poured from; a removed bottle still has them
        var furtherIds = stockView.Further.Select(f => f.Id).ToList();
        var further = await records.Stocks.AsNoTracking().Where(s => furtherIds.Contains(s.Id)).OrderBy(s => s.AddedAt).ToListAsync(cancel);
        var furtherViews = await StockShelf.Read(records, further, bench, cancel);
        var others = new List<PreparationFields>();
        foreach (var (row, view) in further.Zip(furtherViews))
            others.Add(await Of(row, view, []));
        return await Of(stockRow, stockView, others);

        async Task<PreparationFields> Of(Stock row, StockView view, IReadOnlyList<PreparationFields> rest)
        {
            var (background, hides) = await Background(row);
            return new PreparationFields(bench, (row, view), (waterRow, waterView), background, hides, glassware) { Further = rest };
        }

        async Task<(Estimate Background, bool Hides)> Background(Stock row)
        {
            var measured = Measured.Of(row.ParameterKey, row.OtherName, row.Form);
            var found = (Estimate.Exact(0), true);
            foreach (var line in backgrounds.Where(b => measured.IsSameAs(b.ParameterKey, b.OtherName)))
            {
                if (measured.FactorFrom(ReportingForm.Parse(line.Form)) is { } factor)
                    found = (factor * await records.Estimates.Read(line.EstimateId, cancel), line.HidesOffset);
            }
            return found;
        }
    }

    /// <summary>Evaluates the preparation.</summary>
    /// <param name="preparation">The preparation.</param>
    /// <param name="steps">Its steps in order.</param>
    /// <param name="asDone">Whether what was really dispensed counts.</param>
    /// <exception cref="PreparationException">It cannot be made so.</exception>
    public PreparedWater Evaluate(PreparationRow preparation, IReadOnlyList<PreparationStepRow> steps, bool asDone)
    {
        // bottles age until the day it is made; from then on the water itself does
        var day = _bench.DayOf(preparation.DoneAt ?? _bench.Now);
        var stock = Stock.Known * StockAgeing.Factor(_stock, Stock.Known.Value, Stock.Companions, day);
        return Preparations.Of(new PreparationPlan
        {
            Form = Stock.Form,
            Stock = Stock.Solution with { Concentration = stock },
            Matrix = new MatrixWater { Kind = Water.Matrix, Salinity = Water.Salinity, TemperatureCelsius = preparation.TemperatureCelsius, Background = Background * StockAgeing.Factor(_water, _bench, day) },
            Steps = [.. steps.Select(s => Step(s, asDone))],
            Mixing = preparation.Mixing,
            Target = asDone ? null : preparation.Target,
        });
    }

    private PreparationStep Step(PreparationStepRow row, bool asDone)
    {
        var (with, inside) = (Piece(row.WithId), Piece(row.InId));
        var carried = row.Carried;
        var (aliquot, made) = (asDone ? carried.AliquotDone ?? row.Aliquot : row.Aliquot, asDone ? carried.MadeDone ?? row.Made : row.Made);
        return new PreparationStep
        {
            Id = carried.Id,
            Aliquot = new Portion(aliquot, with.IsBalance),
            With = Past(with, row.Aliquot, aliquot),
            Made = new Portion(made, inside.IsBalance),
            In = Past(inside, row.Made, made),
            IsTotal = row.IsTotal,
            Diluent = row.Diluent,
        };
    }

    private Glassware Piece(Guid id) => Pieces.TryGetValue(id, out var piece) ? piece : throw new PreparationException("A piece of glassware of this preparation is not there any more. Choose another one.");

    /// <summary>A piece used past its mark: what lies between mark and level is judged by eye, to about a quarter of it (common practice).</summary>
    private static Glassware Past(Glassware piece, double planned, double done)
    {
        if (!piece.HasOneMark || Math.Abs(done - planned) <= 1e-9 * planned)
            return piece;
        var byEye = Math.Abs(done - planned) / 4;
        return piece with { Nominal = null, Least = null, Repeatability = Math.Sqrt(piece.Repeatability * piece.Repeatability + byEye * byEye) };
    }
}
