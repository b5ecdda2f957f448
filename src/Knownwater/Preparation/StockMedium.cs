using System.Globalization;
using Knownwater.Quantities;

namespace Knownwater.Preparation;

/// <summary>What a standard is dissolved in, and what that and its salt bring into every water made from it.</summary>
/// <remarks>
/// A kind is prefilled; the certificate decides. Strength of an acid by volume: c = (percent/100)·ρ·w/M with density ρ and mass fraction w of the acid as sold; by mass: c = percent·ρ/M with the
/// density of the solution. Densities are from memory.
/// </remarks>
public sealed record StockMedium
{
    // what 1 mL of the stock in 1 L must add before it spoils a check: common practice, a small part of the usual tolerances
    private const double SpoilsNitrate = 100, SpoilsAmmonia = 10, SpoilsAlkalinity = 50;

    private static readonly Lazy<IReadOnlyList<StockMedium>> Listed = new(() => [.. EmbeddedTable.Read("Preparation.media.csv").Select(Read)]);

    private static readonly Dictionary<string, (string Name, string Form)> Words = new(StringComparer.Ordinal)
    {
        ["Na"] = ("sodium", "mg/L Na"), ["K"] = ("potassium", "mg/L K"), ["NH4"] = ("total ammonia", "mg/L NH3-N"), ["Mg"] = ("magnesium", "mg/L Mg"), ["Ca"] = ("calcium", "mg/L Ca"), ["Sr"] = ("strontium", "mg/L Sr"),
        ["Ba"] = ("barium", "mg/L Ba"), ["Cl"] = ("chloride", "mg/L Cl"), ["Br"] = ("bromide", "mg/L Br"), ["F"] = ("fluoride", "mg/L F"), ["NO3"] = ("nitrate", "mg/L NO3"), ["NO2"] = ("nitrite", "mg/L NO2"),
        ["SO4"] = ("sulfate", "mg/L SO4"), ["PO4"] = ("phosphate", "mg/L PO4"),
    };

    /// <summary>Equivalents of alkalinity that a mole of the dissolved salt takes (below zero) or gives, to the end point near pH 4.5, beyond the counted carbonates and hydroxides.</summary>
    private static readonly Dictionary<string, int> Equivalents = new(StringComparer.Ordinal)
    {
        // silicate and hydrogen phosphate take acid; phosphoric acid gives its first proton; hexafluorosilicate frees four as it hydrolyses; iron frees three as it rusts, iron(II) two of them net
        ["Na2SiO3"] = 2, ["K2SiO3"] = 2, ["K2HPO4"] = 1, ["Na2HPO4"] = 1, ["Na2B4O7"] = 2, ["H3PO4"] = -1, ["(NH4)2SiF6"] = -4, ["Na2SiF6"] = -4, ["Fe(NO3)3"] = -3, ["FeCl3"] = -3,
        ["(NH4)2Fe(SO4)2"] = -2, ["FeSO4"] = -2, ["FeCl2"] = -2, ["HNO3"] = -1, ["HCl"] = -1, ["H2SO4"] = -2,
    };

    /// <summary>All prefilled kinds, water first.</summary>
    public static IReadOnlyList<StockMedium> All => Listed.Value;

    /// <summary>Its key; <c>other</c> for one of one's own.</summary>
    public required string Key { get; init; }

    /// <summary>What it is called: “nitric acid 2 % v/v”.</summary>
    public required string Name { get; init; }

    /// <summary>The acid or alkali; null for water.</summary>
    public ChemicalFormula? Solute { get; init; }

    /// <summary>Its strength, mol/L; zero for water.</summary>
    public double MolesPerLitre { get; init; }

    /// <summary>A kind by its key.</summary>
    /// <param name="key">The key.</param>
    /// <returns>The kind; null where there is none.</returns>
    public static StockMedium? Find(string? key) => All.FirstOrDefault(m => m.Key == key);

    /// <summary>An acid or alkali of one's own.</summary>
    /// <param name="solute">HNO3, HCl, H2SO4, NaOH, KOH …</param>
    /// <param name="molesPerLitre">mol/L, above zero and at most 20.</param>
    /// <exception cref="PreparationException">The strength lies outside its limits.</exception>
    public static StockMedium Other(ChemicalFormula solute, double molesPerLitre)
    {
        ArgumentNullException.ThrowIfNull(solute);
        if (!(molesPerLitre is > 0 and <= 20))
            throw new PreparationException($"{solute.Text} of {molesPerLitre.ToString(CultureInfo.InvariantCulture)} mol/L cannot be; its strength lies above 0 and is at most 20 mol/L. Write what the certificate says.");
        return new() { Key = "other", Name = $"{solute.Text} {molesPerLitre.ToString("0.####", CultureInfo.InvariantCulture)} mol/L", Solute = solute, MolesPerLitre = molesPerLitre };
    }

    /// <summary>What else is in a litre of a stock in this medium.</summary>
    /// <param name="form">Form of the analyte, per litre.</param>
    /// <param name="value">Its value in the form; at least zero.</param>
    /// <param name="salt">The salt it was made of, hydrate or not, as in KH2PO4 or Fe(NO3)3; null where not known: then only the medium counts.</param>
    /// <returns>Amounts in their own forms; alkalinity in meq/L, below zero where acid takes it.</returns>
    /// <remarks>Computed from molar masses. A metal's nitrate brings its nitrate; iron also frees acid as it hydrolyses.</remarks>
    /// <exception cref="PreparationException">The salt holds none of the analyte.</exception>
    public IReadOnlyList<Companion> Companions(ReportingForm form, double value, ChemicalFormula? salt = null)
    {
        ArgumentNullException.ThrowIfNull(form);
        var moles = new Dictionary<string, double>(StringComparer.Ordinal);
        double alkalinity = 0;
        void Add(ChemicalFormula what, double molesPerLitre, ReportingForm? analyte)
        {
            foreach (var (ion, count) in DissolvedIons.IonsOf(what))
            {
                if (analyte is null || (DissolvedIons.IonOf(analyte) != ion && !(analyte.Kind == FormKind.HardnessDegrees && ion is "Ca" or "Mg")))
                    moles[ion] = moles.GetValueOrDefault(ion) + count * molesPerLitre;
                if (analyte is null || !SaltYield.IsAlkalinity(analyte))
                    alkalinity += count * molesPerLitre * ion switch { "HCO3" or "OH" => 1, "CO3" => 2, _ => 0 };
            }
            alkalinity += Equivalents.GetValueOrDefault(what.Text.Split('.')[0]) * molesPerLitre;
        }

        if (Solute is not null)
            Add(Solute, MolesPerLitre, null);
        if (salt is not null)
            Add(salt, value / SaltYield.PerGramPerMillilitre(salt, form) * 1000 / salt.MolarMassGramsPerMole, form);
        var list = new List<Companion>();
        foreach (var (ion, amount) in moles)
        {
            if (amount > 0 && Words.TryGetValue(ion, out var words))
            {
                var to = ReportingForm.Parse(words.Form);
                list.Add(new Companion(words.Name, FormConversion.Convert(amount, ReportingForm.Parse($"mol/L {to.Species!.Split('-')[0]}"), to).Value, to));
            }
        }
        if (alkalinity != 0)
            list.Add(new Companion("alkalinity", 1000 * alkalinity, ReportingForm.Parse("meq/L")));
        return list;
    }

    /// <summary>Which checks a stock spoils, whatever else it is good for.</summary>
    /// <param name="companions">What is in it besides its analyte.</param>
    /// <returns>Names: “nitrate”, “total ammonia”, “alkalinity”, “pH”; empty where none.</returns>
    /// <remarks>A stock spoils a check where 1 mL in 1 L adds 0.1 mg/L of nitrate, 0.01 mg/L of ammonia nitrogen or 0.05 meq/L of alkalinity, up or down (common practice); pH goes with alkalinity.</remarks>
    public static IReadOnlyList<string> Spoiled(IReadOnlyList<Companion> companions)
    {
        ArgumentNullException.ThrowIfNull(companions);
        double Of(string ion, string form) => companions.Where(c => DissolvedIons.IonOf(c.Form) == ion).Sum(c => FormConversion.Convert(c.PerLitreOfStock, c.Form, ReportingForm.Parse(form)).Value);
        var spoiled = new List<string>();
        if (Of("NO3", "mg/L NO3") >= SpoilsNitrate || Of("NO2", "mg/L NO2") >= SpoilsNitrate)
            spoiled.Add("nitrate");
        if (Of("NH4", "mg/L NH3-N") >= SpoilsAmmonia)
            spoiled.Add("total ammonia");
        if (Math.Abs(Alkalinity(companions)) >= SpoilsAlkalinity)
            spoiled.AddRange(["alkalinity", "pH"]);
        return spoiled;
    }

    /// <summary>Whether a stock is acid: it takes more than 10 meq of alkalinity a litre, about pH 2.</summary>
    /// <param name="companions">What is in it besides its analyte.</param>
    public static bool IsAcid(IReadOnlyList<Companion> companions)
    {
        ArgumentNullException.ThrowIfNull(companions);
        return Alkalinity(companions) < -10;
    }

    private static double Alkalinity(IReadOnlyList<Companion> companions) =>
        companions.Where(c => SaltYield.IsAlkalinity(c.Form)).Sum(c => FormConversion.Convert(c.PerLitreOfStock, c.Form, ReportingForm.Parse("meq/L"), parameter: Parameter.Find("alkalinity")).Value);

    private static StockMedium Read(Dictionary<string, string> row)
    {
        var solute = row["solute"].Length > 0 ? ChemicalFormula.Parse(row["solute"]) : null;
        var amount = Number(row["amount"]);
        return new()
        {
            Key = row["key"],
            Name = row["name"],
            Solute = solute,
            MolesPerLitre = solute is null ? 0 : row["basis"] switch
            {
                "v/v" => amount / 100 * Number(row["density"]) * 1000 * Number(row["acid_percent"]) / 100 / solute.MolarMassGramsPerMole,
                "mass" => amount * 10 * Number(row["density"]) / solute.MolarMassGramsPerMole,
                _ => amount,
            },
        };
    }

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);
}
