using System.Globalization;
using Knownwater.Quantities;
using Knownwater.Seawater;

namespace Knownwater.Preparation;

/// <summary>A recipe of artificial seawater.</summary>
/// <remarks>
/// Grams in a kilogram (or litre) of solution at the recipe's own salinity. They scale with the salinity that is wanted: g/kg·S/S₀. Anhydrous chlorides of magnesium, calcium and strontium are weighed as their
/// hydrates. Salts that are not weighed at home (boric acid, sodium fluoride) are left out; the water is then without boron and fluoride, which checks of other parameters do not see.
/// </remarks>
public sealed record SeawaterRecipe
{
    /// <summary>Silver in chlorinity: Cl = 0.3285234·Ag (Jacobsen &amp; Knudsen 1940).</summary>
    private const double SilverFactor = 0.3285234;

    private const double LeastKilograms = 0.05, MostKilograms = 1000, LeastSalinity = 5, MixedAt = 20;

    private static readonly (string Key, string Name, string Source)[] Named =
    [
        ("simplified", "Simplified", "common practice: Kester 1967 rounded, without bromide, boron, strontium and fluoride; enough for nitrate, phosphate, silicate, calcium, magnesium and alkalinity"),
        ("kester-1967", "Kester 1967", "Kester, Duedall, Connors & Pytkowicz 1967, Limnology and Oceanography 12, 176; magnesium, calcium and strontium chloride computed from its mol/kg"),
        ("astm-d1141", "ASTM D1141", "ASTM D1141, substitute ocean water; grams from memory, they agree with its stock solutions; chlorinity 19.38"),
        ("lyman-fleming-1940", "Lyman & Fleming 1940", "Lyman & Fleming 1940, Journal of Marine Research 3, 134; from memory, its parts give its total of 34.481 g/kg; chlorinity 19.00"),
    ];

    private static readonly Dictionary<string, string> Hydrates = new(StringComparer.Ordinal) { ["MgCl2"] = "MgCl2.6H2O", ["CaCl2"] = "CaCl2.2H2O", ["SrCl2"] = "SrCl2.6H2O" };

    private static readonly Lazy<IReadOnlyList<SeawaterRecipe>> Listed = new(Read);

    /// <summary>All recipes, the simplest first.</summary>
    public static IReadOnlyList<SeawaterRecipe> All => Listed.Value;

    /// <summary>Its key.</summary>
    public required string Key { get; init; }

    /// <summary>Its name.</summary>
    public required string Name { get; init; }

    /// <summary>Where it was published.</summary>
    public required string Source { get; init; }

    /// <summary>Salts as published, g in a kilogram of solution.</summary>
    public required IReadOnlyList<(ChemicalFormula Salt, double GramsPerKilogram)> Salts { get; init; }

    /// <summary>Its own practical salinity: dissolved salt without hydrate water, 35.16504 g/kg at salinity 35.</summary>
    public double PracticalSalinity => Salinity(Salts);

    /// <summary>A recipe by its key.</summary>
    /// <param name="key">The key.</param>
    /// <returns>The recipe; null where there is none.</returns>
    public static SeawaterRecipe? Find(string? key) => All.FirstOrDefault(r => r.Key == key);

    /// <summary>Weighs out an amount of it.</summary>
    /// <param name="kilograms">Mass of the whole; 0.05 to 1000 kg.</param>
    /// <param name="practicalSalinity">Salinity that the whole recipe shall have; 5 to 42. Salts left out for a reference make it fresher until that salt is weighed in.</param>
    /// <param name="matchedFor">What it shall be the matched ions for.</param>
    /// <param name="atHome">Whether salts that are not weighed at home are left out.</param>
    /// <exception cref="PreparationException">Amount or salinity lie outside their limits.</exception>
    public SeawaterMix Mix(double kilograms, double practicalSalinity, MatchedFor matchedFor = MatchedFor.Nothing, bool atHome = true)
    {
        if (!(kilograms is >= LeastKilograms and <= MostKilograms))
            throw new PreparationException($"{Plain(kilograms)} kg cannot be mixed by this list; it goes from {Plain(LeastKilograms)} to {Plain(MostKilograms)} kg. Choose an amount in between.");
        if (!(practicalSalinity is >= LeastSalinity and <= Teos10.HighestPracticalSalinity))
            throw new PreparationException($"A salinity of {Plain(practicalSalinity)} is outside {Plain(LeastSalinity)} to {Plain(Teos10.HighestPracticalSalinity)}, where these recipes stand for seawater. Choose one in between; 35 is usual.");
        var factor = practicalSalinity / PracticalSalinity;
        var leftOut = new List<string>();
        var kept = new List<(ChemicalFormula Salt, double GramsPerKilogram)>();
        foreach (var (published, grams) in Salts)
        {
            var salt = ChemicalFormula.Parse(Hydrates.GetValueOrDefault(published.Text, published.Text));
            var perKilogram = factor * Preparation.Salts.Hydrate(grams, published, salt);
            if (IsReference(salt, matchedFor))
                leftOut.Add($"{salt.Display} is left out: it is weighed in as the reference ({Plain(Round(perKilogram * kilograms))} g of it would make plain seawater).");
            else if (atHome && salt.Text == "NaF")
                leftOut.Add("NaF is left out: sodium fluoride is toxic when swallowed, and the water is as good without it.");
            else if (atHome && Preparation.Salts.Find(salt)?.WhyNotAtHome is { } why)
                leftOut.Add($"{salt.Display} is left out: {char.ToLowerInvariant(why[0])}{why[1..]}. The water then holds no boron: its alkalinity at the end point is the same, its pH is a little off.");
            else
                kept.Add((salt, perKilogram));
        }
        var lines = kept.Select(k => new SeawaterMixLine(Turn(k.Salt), k.Salt, Preparation.Salts.Find(k.Salt)?.Name ?? (k.Salt.Text == "NaF" ? "sodium fluoride" : k.Salt.Text), k.GramsPerKilogram * kilograms)).OrderBy(l => l.Turn).ToList();
        var salinity = Salinity(kept);
        var moles = Moles(kept);
        return new SeawaterMix
        {
            Recipe = this,
            Lines = lines,
            WaterGrams = 1000 * kilograms - lines.Sum(l => l.Grams),
            Kilograms = kilograms,
            Litres = 1000 * kilograms / new WaterState(salinity, MixedAt).DensityKilogramsPerCubicMetre,
            PracticalSalinity = salinity,
            MolesPerKilogram = moles,
            Chlorinity = (moles.GetValueOrDefault("Cl") + moles.GetValueOrDefault("Br")) * ChemicalFormula.Parse("Ag").MolarMassGramsPerMole * SilverFactor,
            LeftOut = leftOut,
            Cautions = Cautions(lines, matchedFor),
        };
    }

    private static List<(int Turn, string Sentence)> Cautions(List<SeawaterMixLine> lines, MatchedFor matchedFor)
    {
        var cautions = new List<(int, string)>
        {
            (0, "Salt into water, never water onto salt, in an open vessel. Each salt is fully dissolved before the next goes in. Goggles."),
        };
        if (lines.Exists(l => l.Turn == 3))
            cautions.Add((3, "Calcium chloride heats the water. Dissolve it apart in plenty of cool water, then pour it in with stirring: in strong solution calcium and sulfate fall out as gypsum."));
        if (lines.Exists(l => l.Turn == 4))
            cautions.Add((4, "Bicarbonate goes in last, dissolved apart, when all else is clear and cool: beside strong calcium it falls out as chalk."));
        cautions.Add((5, "Fill up at room temperature. Discard it when it stays cloudy. Kitchen tools that touched it never return to food."));
        cautions.Add((5, "Salts bring traces of nitrate and phosphate. Measure its background, or judge by the difference of two levels."));
        if (matchedFor != MatchedFor.Nothing)
            cautions.Add((5, "It still holds a little of what was left out, from the other salts: measure that as its background."));
        return cautions;
    }

    private static bool IsReference(ChemicalFormula salt, MatchedFor matchedFor) => matchedFor switch
    {
        MatchedFor.Alkalinity => salt.Text == "NaHCO3",
        MatchedFor.Calcium => salt.Text is "NaHCO3" or "CaCl2.2H2O",
        MatchedFor.Magnesium => salt.Text is "NaHCO3" or "MgCl2.6H2O",
        MatchedFor.MagnesiumAsSulfate => salt.Text is "NaHCO3" or "MgCl2.6H2O" or "Na2SO4",
        _ => false,
    };

    private static int Turn(ChemicalFormula salt) => salt.Atoms.ContainsKey("Mg") ? 2 : salt.Atoms.ContainsKey("Ca") || salt.Atoms.ContainsKey("Sr") ? 3 : salt.Text == "NaHCO3" ? 4 : 1;

    private static double Salinity(IReadOnlyList<(ChemicalFormula Salt, double GramsPerKilogram)> salts) =>
        salts.Sum(s => s.GramsPerKilogram * ChemicalFormula.Parse(s.Salt.Text.Split('.')[0]).MolarMassGramsPerMole / s.Salt.MolarMassGramsPerMole) / Teos10.GramsPerKilogramInOneUnitOfPracticalSalinity;

    private static Dictionary<string, double> Moles(IReadOnlyList<(ChemicalFormula Salt, double GramsPerKilogram)> salts)
    {
        var moles = new Dictionary<string, double>(StringComparer.Ordinal);
        foreach (var (salt, grams) in salts)
        {
            var amount = grams / salt.MolarMassGramsPerMole;
            foreach (var (ion, count) in DissolvedIons.IonsOf(salt).Append(("B", salt.Atoms.GetValueOrDefault("B"))))
            {
                if (count > 0)
                    moles[ion] = moles.GetValueOrDefault(ion) + count * amount;
            }
        }
        return moles;
    }

    private static double Round(double grams) => grams >= 100 ? Math.Round(grams, 1) : grams >= 10 ? Math.Round(grams, 2) : Math.Round(grams, 3);

    private static string Plain(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private static IReadOnlyList<SeawaterRecipe> Read()
    {
        var rows = EmbeddedTable.Read("Preparation.recipes.csv");
        return [.. Named.Select(n =>
        {
            var salts = rows.Where(r => r["recipe"] == n.Key).Select(r => (Salt: ChemicalFormula.Parse(r["formula"]), Grams: double.Parse(r["grams"], CultureInfo.InvariantCulture))).ToList();
            // grams in a litre become grams in a kilogram by the density at 20 °C; the salinity that it depends on follows from them, so a few rounds settle it
            var density = 1.0;
            if (rows.First(r => r["recipe"] == n.Key)["unit"] == "L")
            {
                for (var i = 0; i < 20; i++)
                    density = new WaterState(Salinity([.. salts.Select(s => (s.Salt, s.Grams / density))]), MixedAt).DensityKilogramsPerCubicMetre / 1000;
            }
            return new SeawaterRecipe { Key = n.Key, Name = n.Name, Source = n.Source, Salts = [.. salts.Select(s => (s.Salt, s.Grams / density))] };
        })];
    }
}
