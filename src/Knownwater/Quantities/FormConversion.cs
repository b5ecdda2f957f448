using System.Globalization;

namespace Knownwater.Quantities;

/// <summary>Takes values from one reporting form to another form of the same species.</summary>
/// <remarks>
/// <para>Everything goes through the amount of what both forms count: grams by the molar mass (IUPAC 2021 abridged weights), moles as
/// they are, charge by the ion's charge, German degrees by 10 mg/L CaO. One mole of CaCO3 is two moles of alkalinity, and one mole of
/// calcium, magnesium or hardness. A form without a species (umol/L, mmol/kg) takes it from the other one; meq/L, dKH alone are
/// alkalinity, dGH is hardness. Per litre and per kilogram of water are joined by the density of the water in its
/// state, which must be given: it is never assumed.</para>
/// <para>Carbonate alkalinity and bicarbonate are other measurands than total alkalinity; mg/L HCO3 counts all alkalinity as if it were
/// bicarbonate, and the step says so. Un-ionised ammonia is not a form of total ammonia; mg/L NH3 here is total ammonia counted as NH3.</para>
/// </remarks>
public static class FormConversion
{
    /// <summary>Takes a value from one reporting form to another.</summary>
    /// <param name="value">The value in the form <paramref name="from"/>; finite.</param>
    /// <param name="from">The form it is in.</param>
    /// <param name="to">The form it shall be in.</param>
    /// <param name="state">Salinity and temperature of the water; needed between per litre and per kilogram only.</param>
    /// <param name="parameter">What is measured, where it is known: it settles what "mg/L CaCO3" or "mmol/kg" count.</param>
    /// <returns>The value in the other form, the factor and the steps.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value is NaN or infinite.</exception>
    /// <exception cref="FormConversionException">The forms do not give the same thing, or more than one thing.</exception>
    /// <exception cref="MissingWaterStateException">The density of the water is needed and <paramref name="state"/> is null.</exception>
    public static Conversion Convert(double value, ReportingForm from, ReportingForm to, WaterState? state = null, Parameter? parameter = null)
    {
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(to);
        if (!double.IsFinite(value))
            throw new ArgumentOutOfRangeException(nameof(value), value, $"{value} {from.Text} cannot be converted; only finite numbers can.");
        if (from.Equals(to))
            return Made(value, value, from, to, 1, [$"{from.Text} stays as it is."]);
        if (from.Kind == FormKind.Temperature && to.Kind == FormKind.Temperature)
            return Temperature(value, from, to);
        if (!Counts(from) || !Counts(to))
        {
            if (from.Kind == to.Kind && from.Kind == FormKind.Conductivity)
                return Scaled(value, from, to, Ratio(from.UnitOfForm, to.UnitOfForm), []);
            throw Different(from, to, "no factor leads from one to the other");
        }
        if (from.Kind == to.Kind && from.UnitOfForm.TakesSpecies && Equals(from.SpeciesOfForm, to.SpeciesOfForm))
            return Scaled(value, from, to, Ratio(from.UnitOfForm, to.UnitOfForm), []);
        // Only the water's volume against its mass, and the same thing counted in the same way.
        if (from.SpeciesOfForm is null && to.SpeciesOfForm is null && Base(from.Kind) == Base(to.Kind) && from.UnitOfForm.TakesSpecies && to.UnitOfForm.TakesSpecies)
            return Through(value, from, to, null, state);

        var entity = Choose(from, to, parameter);
        return Through(value, from, to, entity, state);
    }

    private static bool Counts(ReportingForm form) => form.UnitOfForm.TakesSpecies || form.Kind is FormKind.AlkalinityDegrees or FormKind.HardnessDegrees;

    /// <summary>Which entity both forms count; refuses where there is none or where more than one gives different factors.</summary>
    private static CountedEntity Choose(ReportingForm from, ReportingForm to, Parameter? parameter)
    {
        if (parameter is not null && CountedEntity.Of(parameter) is { } given)
        {
            foreach (var form in (ReadOnlySpan<ReportingForm>)[from, to])
            {
                if (!CanCount(form, given))
                    throw Different(from, to, $"{form.Text} is not a form of {given.Name}");
            }
            return given;
        }
        if (from.Kind == FormKind.HardnessDegrees && to.SpeciesOfForm is { } single && single.Text is "Ca" or "Mg")
            throw Different(from, to, $"{from.Text} counts calcium and magnesium together, and {to.Text} one of them alone");

        var ofFrom = Entities(from);
        var ofTo = Entities(to);
        CountedEntity[] common = (ofFrom, ofTo) switch
        {
            (null, null) => throw Different(from, to, "neither says which species it counts. Write it behind the unit, as in mg/L NO3"),
            (null, { } some) => [.. some],
            ({ } some, null) => [.. some],
            ({ } one, { } other) => [.. one.Where(each => other.Any(it => string.Equals(it.Key, each.Key, StringComparison.Ordinal)))],
        };
        if (common.Length == 0)
            throw Different(from, to, Reason(from, to));
        common = [.. common.Where(each => CanCount(from, each) && CanCount(to, each))];
        if (common.Length == 0)
            throw Different(from, to, $"the charge of {(from.SpeciesOfForm ?? to.SpeciesOfForm)?.Text} is not fixed");
        var first = common[0];
        for (var i = 1; i < common.Length; i++)
        {
            var one = Amount(from, first).Factor / Amount(to, first).Factor;
            var other = Amount(from, common[i]).Factor / Amount(to, common[i]).Factor;
            if (Math.Abs(one - other) > 1e-12 * Math.Abs(one))
            {
                var names = common.Select(each => each.Name).Order(StringComparer.Ordinal).ToList();
                throw new FormConversionException($"{from.Text} can count {string.Join(", ", names[..^1])} or {names[^1]}, and each gives another value in {to.Text}. Say which parameter it is, or write the species in both forms: mmol/L CaCO3, or meq/L for alkalinity.", nameof(from));
            }
        }
        return first;
    }

    private static string Reason(ReportingForm from, ReportingForm to)
    {
        if (from.Kind is FormKind.AlkalinityDegrees && to.Kind is FormKind.HardnessDegrees || (from.Kind is FormKind.HardnessDegrees && to.Kind is FormKind.AlkalinityDegrees))
            return "dKH is alkalinity, what neutralises acid, and dGH is hardness, calcium and magnesium";
        var one = What(from);
        var other = What(to);
        return $"{from.Text} is {one} and {to.Text} is {other}";
    }

    private static string What(ReportingForm form)
    {
        if (form.SpeciesOfForm is null)
            return form.Kind == FormKind.HardnessDegrees ? CountedEntity.Hardness.Name : CountedEntity.Alkalinity.Name;
        return string.Join(" or ", CountedEntity.Of(form.SpeciesOfForm).Select(each => each.Name));
    }

    /// <summary>What a form may count; null where it takes the species of the other form.</summary>
    private static IReadOnlyList<CountedEntity>? Entities(ReportingForm form) => form.Kind switch
    {
        FormKind.AlkalinityDegrees => [CountedEntity.Alkalinity],
        FormKind.HardnessDegrees => [CountedEntity.Hardness, CountedEntity.Calcium, CountedEntity.Magnesium],
        _ when form.SpeciesOfForm is not null => CountedEntity.Of(form.SpeciesOfForm),
        FormKind.ChargeConcentration or FormKind.ChargeContent => [CountedEntity.Alkalinity],
        FormKind.AmountConcentration or FormKind.AmountContent => null,
        _ => throw new FormConversionException($"{form.Text} does not say which species it counts. Write it behind the unit, as in {form.Text} NO3.", nameof(form)),
    };

    private static bool CanCount(ReportingForm form, CountedEntity entity)
    {
        var alkalinity = ReferenceEquals(entity, CountedEntity.Alkalinity);
        if (form.Kind == FormKind.AlkalinityDegrees)
            return alkalinity;
        if (form.Kind == FormKind.HardnessDegrees)
            return entity.Key is "general-hardness" or "calcium" or "magnesium";
        if (form.SpeciesOfForm is { } species && !entity.Moles.ContainsKey(species.Formula.Composition))
            return false;
        if (form.SpeciesOfForm is null && Base(form.Kind) == 'g')
            return false;
        return Base(form.Kind) != 'e' || entity.Charge is not null;
    }

    private static char Base(FormKind kind) => kind switch
    {
        FormKind.MassConcentration or FormKind.MassContent => 'g',
        FormKind.AmountConcentration or FormKind.AmountContent => 'm',
        FormKind.ChargeConcentration or FormKind.ChargeContent => 'e',
        _ => 'd',
    };

    /// <summary>Moles of the entity in one unit of the form, as a power of ten and the rest, with the words for it.</summary>
    private static (double Factor, int Exponent, double Mantissa, string? Words, string? Inverse) Amount(ReportingForm form, CountedEntity entity)
    {
        var unit = form.UnitOfForm;
        var species = form.SpeciesOfForm;
        var moles = species is null ? 1 : entity.Moles[species.Formula.Composition];
        var molesWords = moles == 1 ? "" : string.Create(CultureInfo.InvariantCulture, $", {moles} {entity.Unit} of {entity.Name} in each mole of {species!.Formula.Text}");
        switch (Base(form.Kind))
        {
            case 'g':
                var mass = species!.GramsPerMole;
                var of = string.Create(CultureInfo.InvariantCulture, $"{mass:0.####} g/mol, the molar mass of {species.Counted}{molesWords}");
                var asIf = ReferenceEquals(entity, CountedEntity.Alkalinity) && species.Text is "HCO3" ? ", counting all alkalinity as bicarbonate" : "";
                return Exact(unit.Exponent, unit.Factor * moles / mass, $"÷ {of}{asIf}", $"× {of}{asIf}");
            case 'm':
                return Exact(unit.Exponent, moles, molesWords.Length == 0 ? null : $"× {Plain(moles)}{molesWords}", molesWords.Length == 0 ? null : $"÷ {Plain(moles)}{molesWords}");
            case 'e':
                // Alkalinity is counted in charge already; of CaCO3 each mole carries two charges either way.
                var charge = ReferenceEquals(entity, CountedEntity.Alkalinity) ? 1 : entity.Charge!.Value;
                return Exact(unit.Exponent, 1.0 / charge, charge == 1 ? null : $"÷ {charge}, the charge of {entity.Name}", charge == 1 ? null : $"× {charge}, the charge of {entity.Name}");
            default:
                var (perDegree, words) = Degree(unit, entity);
                return Exact(-3, perDegree, $"× {words}", $"÷ {words}");
        }

        static (double, int, double, string?, string?) Exact(int exponent, double rest, string? words, string? inverse) =>
            (rest * Math.Pow(10, exponent), exponent, rest, words, inverse);
    }

    /// <summary>Millimoles of the entity per litre in one degree.</summary>
    private static (double Millimoles, string Words) Degree(FormUnit unit, CountedEntity entity)
    {
        var lime = ChemicalFormula.Parse("CaO").MolarMassGramsPerMole;
        var carbonate = ChemicalFormula.Parse("CaCO3").MolarMassGramsPerMole;
        switch (unit.Text)
        {
            case "dKH":
                return (2 * 10 / lime, string.Create(CultureInfo.InvariantCulture, $"2 · 10 mg/L ÷ {lime:0.####} g/mol: one dKH is as much alkalinity as 10 mg/L CaO, two charges each"));
            case "fH":
                return (10 / carbonate, string.Create(CultureInfo.InvariantCulture, $"10 mg/L ÷ {carbonate:0.####} g/mol: one French degree is 10 mg/L CaCO3"));
            case "eH":
                return (64.79891 / 4.54609 / carbonate, string.Create(CultureInfo.InvariantCulture, $"14.254 mg/L ÷ {carbonate:0.####} g/mol: one English degree is one grain of CaCO3 per imperial gallon"));
            default:
                return (10 / lime, string.Create(CultureInfo.InvariantCulture, $"10 mg/L ÷ {lime:0.####} g/mol: one dGH is as much {entity.Name} as 10 mg/L CaO"));
        }
    }

    private static Conversion Through(double value, ReportingForm from, ReportingForm to, CountedEntity? entity, WaterState? state)
    {
        var (_, exponentFrom, restFrom, wordsFrom, _) = entity is null ? (0, from.UnitOfForm.Exponent, from.UnitOfForm.Factor, null, null) : Amount(from, entity);
        var (_, exponentTo, restTo, _, wordsTo) = entity is null ? (0, to.UnitOfForm.Exponent, to.UnitOfForm.Factor, null, null) : Amount(to, entity);
        var factor = PowerOfTen(restFrom / restTo, exponentFrom - exponentTo);
        var lines = new List<string>();
        if (wordsFrom is not null)
            lines.Add($"{from.Text} {wordsFrom}");
        if (from.UnitOfForm.PerMass != to.UnitOfForm.PerMass)
        {
            var density = Density(from, to, state);
            var of = string.Create(CultureInfo.InvariantCulture, $"{density:0.######} kg/L, the density of water of salinity {state!.PracticalSalinity} at {state.TemperatureCelsius} °C");
            factor = to.UnitOfForm.PerMass ? factor / density : factor * density;
            lines.Add(to.UnitOfForm.PerMass ? $"per litre to per kilogram: ÷ {of}" : $"per kilogram to per litre: × {of}");
        }
        if (wordsTo is not null)
            lines.Add($"to {to.Text} {wordsTo}");
        return Scaled(value, from, to, factor, lines);
    }

    private static double Density(ReportingForm from, ReportingForm to, WaterState? state) => state is not null
        ? state.DensityKilogramsPerCubicMetre / 1000
        : throw new MissingWaterStateException($"From {from.Text} to {to.Text} the density of the water is needed. Give its salinity (0 for fresh water) and its temperature.");

    private static Conversion Scaled(double value, ReportingForm from, ReportingForm to, double factor, List<string> lines)
    {
        lines.Add(string.Create(CultureInfo.InvariantCulture, $"{Plain(value)} {from.Text} × {Plain(factor)} = {Plain(value * factor)} {to.Text}"));
        return Made(value, value * factor, from, to, factor, lines);
    }

    private static Conversion Temperature(double value, ReportingForm from, ReportingForm to)
    {
        var toFahrenheit = to.Unit is "degF";
        var result = toFahrenheit ? (value * 1.8) + 32 : (value - 32) / 1.8;
        var line = toFahrenheit ? $"{Plain(value)} degC × 1.8 + 32 = {Plain(result)} degF" : $"({Plain(value)} degF − 32) ÷ 1.8 = {Plain(result)} degC";
        return Made(value, result, from, to, toFahrenheit ? 1.8 : 1 / 1.8, [line]);
    }

    private static Conversion Made(double value, double result, ReportingForm from, ReportingForm to, double factor, IReadOnlyList<string> steps) => double.IsFinite(result)
        ? new Conversion { Value = result, From = from, To = to, Factor = factor, Steps = steps }
        : throw new ArgumentOutOfRangeException(nameof(value), value, $"{Plain(value)} {from.Text} is too large to be written in {to.Text}.");

    private static double Ratio(FormUnit from, FormUnit to) => PowerOfTen(from.Factor / to.Factor, from.Exponent - to.Exponent);

    // Dividing by an exact power of ten is correctly rounded; multiplying by 10^-n is not.
    private static double PowerOfTen(double number, int exponent) => exponent >= 0 ? number * Math.Pow(10, exponent) : number / Math.Pow(10, -exponent);

    private static string Plain(double number) => number.ToString("G7", CultureInfo.InvariantCulture);

    private static FormConversionException Different(ReportingForm from, ReportingForm to, string reason) =>
        new($"{from.Text} cannot become {to.Text}: {reason}. Choose a form of the same species.", nameof(to));
}
