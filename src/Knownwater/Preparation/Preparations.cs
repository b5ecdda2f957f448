using System.Globalization;
using Knownwater.Quantities;
using Knownwater.Seawater;
using Knownwater.Uncertainty;

namespace Knownwater.Preparation;

/// <summary>Evaluates preparations.</summary>
/// <example><code>
/// var water = Preparations.Of(plan);
/// var value = water.Concentration;      // with the stock's certificate, the pipette's gain, the flask … as its sources
/// </code></example>
public static class Preparations
{
    /// <summary>Half-width of the density that is assumed for a stock whose density is not stated, as a part of it.</summary>
    private const double UnstatedDensity = 0.003;

    /// <summary>The value of a preparation, with the error sources it came from.</summary>
    /// <param name="plan">The preparation.</param>
    /// <returns>The water.</returns>
    /// <exception cref="PreparationException">The preparation cannot be made as described.</exception>
    public static PreparedWater Of(PreparationPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        RequirePlan(plan);

        var inputs = new List<Estimate>();
        var bought = new HashSet<Guid>();
        var values = new Dictionary<Guid, double>();
        Estimate Take(Estimate input, bool isBought = false)
        {
            inputs.Add(input);
            foreach (var part in input.Contributions)
            {
                values.TryAdd(part.Source.Id, input.Value);
                if (isBought)
                    bought.Add(part.Source.Id);
            }
            return input;
        }

        Take(plan.Temperature is { HalfRangeKelvins: > 0 } range
            ? Estimate.From(0, ErrorSource.Rectangular("temperature at the bench", range.HalfRangeKelvins, "°C", SourceIdentity.Of(range.Id, string.Create(CultureInfo.InvariantCulture, $"temperature {range.HalfRangeKelvins:R}"))))
            : Estimate.Exact(0));
        double? yield = null;
        double stock;
        if (plan.Stock.Salt is { } salt)
        {
            yield = SaltYield.PerGramPerMillilitre(salt.Formula, plan.Form);
            Take(salt.Mass);
            Take(salt.Purity, isBought: true);
            Take(salt.Volume);
            stock = yield.Value * salt.Mass.Value * salt.Purity.Value / salt.Volume.Value;
        }
        else
        {
            stock = Take(plan.Stock.Concentration!.Value, isBought: true).Value;
        }
        if (plan.Target is { } target && target > stock)
            throw new PreparationException($"The stock holds {Plain(stock)} {plan.Form.Text}; {Plain(target)} {plan.Form.Text} is more than that. A dilution cannot concentrate: take a stronger stock, or a lower target.");
        Take(plan.Matrix.Background, isBought: true);
        var pure = PureWater.DensityKilogramsPerCubicMetre(plan.Matrix.TemperatureCelsius) / 1000;
        var weighsStock = plan.Steps.Count > 0 && plan.Steps[0].Aliquot.IsMass;
        var stockDensity = Take(plan.Stock.Density ?? (weighsStock
            ? Estimate.From(pure, ErrorSource.Rectangular($"density of {plan.Stock.Name}, not stated", UnstatedDensity * pure, "g/mL", SourceIdentity.Of(plan.Steps[0].Id, "stock density")))
            : Estimate.Exact(pure)));
        var matrixDensity = Take(Estimate.Exact(new WaterState(plan.Matrix.Salinity, plan.Matrix.TemperatureCelsius).DensityKilogramsPerCubicMetre / 1000)).Value;

        var forms = new StepForm[plan.Steps.Count];
        var amounts = new List<double>();
        for (var i = 0; i < forms.Length; i++)
        {
            var step = plan.Steps[i];
            forms[i] = new StepForm(step.Aliquot.IsMass, step.Made.IsMass, step.IsTotal, step.Diluent == Diluent.PureWater, pure);
            amounts.Add(Take(step.With.Measure(step.Aliquot.Size, SourceIdentity.Of(step.Id, "aliquot"))).Value);
            amounts.Add(Take(step.In.Measure(step.Made.Size, SourceIdentity.Of(step.Id, "made"))).Value);
            Take(plan.Mixing > 0
                ? Estimate.From(0, ErrorSource.Normal($"mixing, step {i + 1}", plan.Mixing, id: SourceIdentity.Of(step.Id, string.Create(CultureInfo.InvariantCulture, $"mixing {plan.Mixing:R}"))))
                : Estimate.Exact(0));
        }
        var expansion = plan.Temperature?.Coefficient ?? TemperatureRange.Water;
        var model = new PreparationModel(forms, yield, expansion);
        Estimate[] all = [.. inputs];
        var course = Course(plan, amounts, stock, stockDensity.Value, matrixDensity, pure);
        var risks = Risks(plan, stock, course);
        return new PreparedWater(model, all)
        {
            Concentration = Estimate.Of(model, all),
            Form = plan.Form,
            AfterSteps = course.Values,
            Salinity = course.Salinity,
            StockPart = course.StockPart,
            StockMillilitres = plan.Steps.Count > 0 ? course.FirstAliquot : null,
            MadeMillilitres = plan.Steps.Count > 0 ? course.Total : null,
            Others = [.. plan.Stock.Companions.Select(c => new OtherParameter(c.Species, c.PerLitreOfStock * course.StockPart, c.Form))],
            InputValues = values,
            Bought = bought,
            Cautions = Cautions(plan, course, risks),
        };
    }

    /// <summary>Plain numbers on the way: value, volumes, salinity and how much of the water is stock.</summary>
    private static Steps Course(PreparationPlan plan, List<double> amounts, double stock, double stockDensity, double matrixDensity, double pure)
    {
        var values = new List<double>();
        double c = stock, part = 1, density = stockDensity, salt = 0, first = 0, total = 0;
        var background = plan.Matrix.Background.Value;
        foreach (var step in plan.Steps)
        {
            var diluent = step.Diluent == Diluent.PureWater ? pure : matrixDensity;
            var (aliquot, made) = (amounts[2 * values.Count], amounts[2 * values.Count + 1]);
            var taken = step.Aliquot.IsMass ? PreparationModel.Millilitres(aliquot, density) : aliquot;
            var added = (step.Made.IsMass, step.IsTotal) switch
            {
                (true, true) => PreparationModel.Millilitres(made - (step.Aliquot.IsMass ? aliquot : PreparationModel.Grams(taken, density)), diluent),
                (true, false) => PreparationModel.Millilitres(made, diluent),
                (false, true) => made - taken,
                _ => made,
            };
            if (added < 0)
                throw new PreparationException($"The aliquot is {Plain(step.Aliquot.Size)} {step.Aliquot.Unit} but it is made up to {Plain(step.Made.Size)} {step.Made.Unit} in {step.In.Name}: a dilution cannot concentrate. Swap the two amounts, or take a larger vessel.");
            if (values.Count == 0)
                first = taken;
            total = taken + added;
            c = (c * taken + (step.Diluent == Diluent.PureWater ? 0 : background) * added) / total;
            part = part * taken / total;
            // salinity is grams of salt in a kilogram of water, so it mixes by mass
            var mass = taken * density + added * diluent;
            salt = (salt * taken * density + (step.Diluent == Diluent.PureWater ? 0 : plan.Matrix.Salinity) * added * diluent) / mass;
            density = mass / total;
            values.Add(c);
        }
        return new Steps(values, plan.Steps.Count == 0 ? plan.Matrix.Salinity : salt, part, first, total);
    }

    private static void RequirePlan(PreparationPlan plan)
    {
        if (plan.Steps.Count > PreparationPlan.MostSteps)
            throw new PreparationException($"There are {plan.Steps.Count} steps; a preparation has {PreparationPlan.MostSteps} at the most. Take a stronger aliquot, or make a stock in between and put it on the shelf.");
        if (plan.Stock.Salt is null == plan.Stock.Concentration is null)
            throw new PreparationException($"{plan.Stock.Name} needs either a concentration or a weighed salt. Give one of the two.");
        if (plan.Stock.Concentration is { } c && !(c.Value >= 0))
            throw new PreparationException($"{plan.Stock.Name} holds {Plain(c.Value)} {plan.Form.Text}, which no solution does. Give a value of zero or above.");
        if (plan.Stock.Salt is { } salt)
        {
            if (!(salt.Mass.Value > 0))
                throw new PreparationException($"The mass of {salt.Formula.Text} is {Plain(salt.Mass.Value)} g; it must be above zero.");
            if (!(salt.Purity.Value is > 0 and <= 1))
                throw new PreparationException($"The purity of {salt.Formula.Text} is {Plain(salt.Purity.Value)}; it lies above 0 and is at most 1. Write 99.5 % as 0.995.");
            if (!(salt.Volume.Value > 0))
                throw new PreparationException($"{salt.Formula.Text} is made up to {Plain(salt.Volume.Value)} mL; a volume is above zero.");
            Salts.RequireWeighable(salt.Formula);
            Salts.RequireDissolves(salt.Formula, 1000 * salt.Mass.Value / salt.Volume.Value);
        }
        if (plan.Form.Kind is not (FormKind.MassConcentration or FormKind.AmountConcentration or FormKind.ChargeConcentration or FormKind.AlkalinityDegrees or FormKind.HardnessDegrees))
            throw new PreparationException($"A preparation is made by volume, but {plan.Form.Text} is not per litre. Write stock and result per litre, as in mg/L NO3, and convert the result.");
        if (!(plan.Mixing is >= 0 and < 0.5))
            throw new PreparationException($"The mixing is {Plain(100 * plan.Mixing)} %; it lies between 0 and 50 %. Usual is 0.2 %.");
        if (plan.Matrix.Kind == Matrix.FreshWater && plan.Matrix.Salinity > 3)
            throw new PreparationException($"Water of salinity {Plain(plan.Matrix.Salinity)} is not fresh. Choose seawater, or a lower salinity.");
        for (var i = 0; i < plan.Steps.Count; i++)
        {
            var step = plan.Steps[i];
            RequirePiece(step.Aliquot, step.With, i);
            RequirePiece(step.Made, step.In, i);
            if (step.IsTotal && step.Aliquot.IsMass == step.Made.IsMass && step.Aliquot.Size > step.Made.Size)
                throw new PreparationException($"The aliquot is {Plain(step.Aliquot.Size)} {step.Aliquot.Unit} but {step.In.Name} is filled to {Plain(step.Made.Size)} {step.Made.Unit}: a dilution cannot concentrate. Swap the two amounts, or take a larger vessel.");
        }
    }

    private static void RequirePiece(Portion amount, Glassware piece, int step)
    {
        if (!double.IsFinite(amount.Size) || amount.Size <= 0)
            throw new PreparationException($"Step {step + 1} has an amount of {Plain(amount.Size)} {amount.Unit}; an amount is above zero. Write how much it is.");
        if (amount.IsMass != (piece.Kind == GlasswareKind.Balance))
        {
            throw new PreparationException(amount.IsMass
                ? $"{Plain(amount.Size)} g is a mass, but {piece.Name} measures volumes. Weigh it on a balance, or write a volume."
                : $"{Plain(amount.Size)} mL is a volume, but {piece.Name} is a balance. Write the mass in g, or take glassware.");
        }
    }

    /// <summary>What may fall out of the stock, or of the water that is made.</summary>
    /// <exception cref="PreparationException">Something falls out at once.</exception>
    private static List<string> Risks(PreparationPlan plan, double value, Steps course)
    {
        var stock = plan.Stock.Companions.Aggregate(DissolvedIons.None, (ions, c) => ions.WithAmount(c.Form, c.PerLitreOfStock));
        stock = plan.Stock.Salt is { } salt
            ? stock.WithSalt(salt.Formula, 1000 * salt.Mass.Value * salt.Purity.Value / salt.Volume.Value / salt.Formula.MolarMassGramsPerMole)
            : stock.WithAmount(plan.Form, value);
        var found = Precipitation.Of(stock).ToList();
        if (plan.Steps.Count > 0 && plan.Matrix.Kind == Matrix.Seawater)
        {
            // what the sea holds by itself stays dissolved; only what the stock brings can be too much
            var water = stock.Mixed(course.StockPart, DissolvedIons.None).WithSeawater(course.Salinity);
            var salinity = Math.Max(course.Salinity, Precipitation.SeawaterFrom);
            found.AddRange(Precipitation.Of(water, salinity).Where(r => found.TrueForAll(f => f.Solid != r.Solid)));
        }
        if (found.Find(r => r.IsCertain) is { } certain)
            throw new PreparationException(certain.Sentence);
        return [.. found.Select(r => r.Sentence)];
    }

    private static List<string> Cautions(PreparationPlan plan, Steps course, IReadOnlyList<string> risks)
    {
        var cautions = new List<string>(risks);
        if (plan.Stock.Salt is { } salt)
            cautions.AddRange(Salts.Cautions(salt.Formula));
        if (plan.Matrix.Kind == Matrix.Seawater && plan.Steps.Count > 0 && plan.Matrix.Salinity > 0 && course.Salinity < 0.98 * plan.Matrix.Salinity)
            cautions.Add($"The salinity falls from {Plain(plan.Matrix.Salinity)} to {course.Salinity.ToString("0.0", CultureInfo.InvariantCulture)}: see that the method bears it, or take a stronger stock.");
        foreach (var companion in plan.Stock.Companions)
        {
            var added = companion.PerLitreOfStock * course.StockPart;
            if (added != 0)
                cautions.Add($"The stock brings {companion.Species}: {Plain(Math.Round(added, 6))} {companion.Form.Text} in this water. Do not check that parameter with it.");
        }
        if (plan.Steps.Count > 0 && plan.Matrix.Background.IsExact && plan.Matrix.Background.Value == 0)
            cautions.Add("The water is taken as free of the analyte. Nutrient-free water is never quite that: judge by the difference of two levels, or state its background.");
        cautions.Add("Known water never goes into a tank.");
        return cautions;
    }

    private static string Plain(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);

    private sealed record Steps(IReadOnlyList<double> Values, double Salinity, double StockPart, double FirstAliquot, double Total);
}
