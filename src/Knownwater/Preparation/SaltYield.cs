using Knownwater.Quantities;

namespace Knownwater.Preparation;

/// <summary>How much of an analyte a salt brings.</summary>
public static class SaltYield
{
    /// <summary>Salts that give alkalinity: equivalents to the end point near pH 4.5 in a mole of the anhydrous salt.</summary>
    private static readonly Dictionary<string, int> Alkaline = new(StringComparer.Ordinal)
    {
        ["NaHCO3"] = 1, ["KHCO3"] = 1, ["Na2CO3"] = 2, ["K2CO3"] = 2, ["CaCO3"] = 2, ["MgCO3"] = 2, ["NaOH"] = 1, ["KOH"] = 1, ["Ca(OH)2"] = 2, ["Na2B4O7"] = 2, ["Na2SiO3"] = 2,
    };

    /// <summary>What one gram of a salt in one millilitre gives in a reporting form.</summary>
    /// <remarks>
    /// Molar masses from the abridged atomic weights (IUPAC 2021). The analyte's atoms that are neither oxygen nor hydrogen are counted in the salt; where the salt holds the same element in two
    /// ways (ammonium nitrate) each is counted for itself. Alkalinity is counted in equivalents: bicarbonate 1, carbonate 2, hydroxide 1, tetraborate 2.
    /// </remarks>
    /// <param name="salt">What is weighed, hydrate water included.</param>
    /// <param name="form">Form per litre.</param>
    /// <returns>Value in the form for 1 g/mL of pure salt.</returns>
    /// <exception cref="PreparationException">The salt holds none of the analyte, or the form does not say what is counted.</exception>
    public static double PerGramPerMillilitre(ChemicalFormula salt, ReportingForm form)
    {
        ArgumentNullException.ThrowIfNull(salt);
        ArgumentNullException.ThrowIfNull(form);
        var molesPerLitre = 1000 / salt.MolarMassGramsPerMole;
        if (IsAlkalinity(form))
            return molesPerLitre * Equivalents(salt) * FormConversion.Convert(1, ReportingForm.Parse("eq/L"), form, parameter: Parameter.Find("alkalinity")).Value;
        if (form.Kind == FormKind.HardnessDegrees)
        {
            var earths = salt.Atoms.GetValueOrDefault("Ca") + salt.Atoms.GetValueOrDefault("Mg");
            return earths > 0 ? molesPerLitre * earths * FormConversion.Convert(1, ReportingForm.Parse("mol/L Ca"), form).Value
                : throw new PreparationException($"{salt.Text} holds neither calcium nor magnesium, so it gives no hardness. Choose a salt that does.");
        }
        var species = form.Species is { } text ? text.Split('-')[0] : throw new PreparationException($"{form.Text} does not say what is counted. Write the species behind the unit, as in mg/L NO3.");
        var analyte = ChemicalFormula.Parse(species);
        var moles = Moles(salt, analyte);
        return molesPerLitre * moles * FormConversion.Convert(1, ReportingForm.Parse($"mol/L {analyte.Text}"), form).Value;
    }

    /// <summary>Whether a form counts alkalinity.</summary>
    /// <param name="form">The form.</param>
    public static bool IsAlkalinity(ReportingForm form)
    {
        ArgumentNullException.ThrowIfNull(form);
        return form.Kind == FormKind.AlkalinityDegrees || (form.Species is null && form.Kind is FormKind.ChargeConcentration or FormKind.ChargeContent)
            || form.Species is "CaCO3" or "HCO3";
    }

    private static int Equivalents(ChemicalFormula salt)
    {
        var dry = salt.Text.Split('.')[0];
        return Alkaline.TryGetValue(dry, out var equivalents) ? equivalents
            : throw new PreparationException($"{salt.Text} is not known to give a counted alkalinity. Take NaHCO3 or Na2CO3.");
    }

    private static double Moles(ChemicalFormula salt, ChemicalFormula analyte)
    {
        if (salt.Text == analyte.Text)
            return 1;
        var dry = ChemicalFormula.Parse(salt.Text.Split('.')[0]);
        var marks = analyte.Atoms.Keys.Where(e => e is not ("O" or "H")).ToList();
        if (marks.Count == 0)
            marks = [.. analyte.Atoms.Keys];
        foreach (var mark in marks)
        {
            if (!dry.Atoms.ContainsKey(mark))
                throw new PreparationException($"{salt.Text} holds no {mark}, so it gives no {analyte.Text}. Choose a salt that does.");
        }
        // iodide is no iodate: where the analyte is a group that holds oxygen, the salt must hold that group
        if (analyte.Text is "IO3" or "BrO3" or "ClO3" or "SO4" && SaltGroups.Count(salt.Text.Split('.')[0], analyte.Text) == 0)
            throw new PreparationException($"{salt.Text} holds its {marks[0]} in another form than {analyte.Text}. Choose a salt that gives {analyte.Text}.");
        var parts = Nitrogen(salt.Text.Split('.')[0], analyte);
        return parts ?? marks.Min(mark => (double)dry.Atoms[mark] / analyte.Atoms[mark]);
    }

    /// <summary>Moles of ammonium, nitrate or nitrite where the salt says which; null where the plain count of atoms holds.</summary>
    private static double? Nitrogen(string salt, ChemicalFormula analyte)
    {
        if (analyte.Text is not ("NO3" or "NO2" or "NH4" or "NH3"))
            return null;
        double Count(string group) => SaltGroups.Count(salt, group);
        double nitrate = Count("NO3"), nitrite = Count("NO2"), ammonium = Count("NH4") + Count("NH3");
        var count = analyte.Text switch { "NO3" => nitrate, "NO2" => nitrite, _ => ammonium };
        if (nitrate + nitrite + ammonium == 0)
            return null;
        return count > 0 ? count : throw new PreparationException($"{salt} holds its nitrogen in another form than {analyte.Text}. Choose a salt that gives {analyte.Text}.");
    }
}
