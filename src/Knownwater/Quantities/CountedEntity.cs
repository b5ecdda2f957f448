using System.Collections.Frozen;

namespace Knownwater.Quantities;

/// <summary>
/// What several species have in common when they report one parameter: the nitrate of NO3 and NO3-N, the acid-neutralising charge of
/// alkalinity, the calcium of Ca and CaCO3. Moles holds how many of it one mole of a formula counts for.
/// </summary>
internal sealed record CountedEntity(string Key, string Name, string Unit, int? Charge, FrozenDictionary<string, double> Moles)
{
    /// <summary>Alkalinity, counted in moles of charge.</summary>
    public static readonly CountedEntity Alkalinity = Make("alkalinity", "alkalinity", 1, ("CaCO3", 2), ("CaO", 2), ("HCO3", 1)) with { Unit = "eq" };

    /// <summary>Calcium and magnesium together.</summary>
    public static readonly CountedEntity Hardness = Make("general-hardness", "general hardness", 2, ("CaCO3", 1), ("CaO", 1));

    /// <summary>Calcium.</summary>
    public static readonly CountedEntity Calcium = Make("calcium", "calcium", 2, ("Ca", 1), ("CaCO3", 1), ("CaO", 1));

    /// <summary>Magnesium.</summary>
    public static readonly CountedEntity Magnesium = Make("magnesium", "magnesium", 2, ("Mg", 1), ("CaCO3", 1), ("MgO", 1));

    private static readonly CountedEntity[] Known =
    [
        Make("nitrate", "nitrate", 1, ("NO3", 1)),
        Make("nitrite", "nitrite", 1, ("NO2", 1)),
        Make("ammonia", "total ammonia", 1, ("NH3", 1), ("NH4", 1)),
        Make("phosphate", "phosphate", null, ("PO4", 1), ("P", 1), ("HPO4", 1), ("H2PO4", 1), ("H3PO4", 1), ("P2O5", 2)),
        Make("silicate", "silicate", null, ("SiO2", 1), ("Si", 1), ("SiO3", 1), ("Si(OH)4", 1)),
        Make("boron", "boron", null, ("B", 1), ("H3BO3", 1), ("B(OH)4", 1), ("B2O3", 2)),
        Make("iodine", "iodine", null, ("I", 1), ("IO3", 1), ("I2", 2)),
        Make("potassium", "potassium", 1, ("K", 1), ("K2O", 2)),
        Calcium,
        Magnesium,
        Hardness,
        Alkalinity,
    ];

    private static readonly FrozenDictionary<string, int> Charges = new (string Formula, int Charge)[]
    {
        ("Na", 1), ("Li", 1), ("Cl", 1), ("Br", 1), ("F", 1), ("SO4", 2), ("Sr", 2), ("Ba", 2), ("CO3", 2), ("HCO3", 1),
    }.ToFrozenDictionary(each => ChemicalFormula.Parse(each.Formula).Composition, each => each.Charge, StringComparer.Ordinal);

    /// <summary>All that a species can report; the last one is the species itself where none is known.</summary>
    public static IReadOnlyList<CountedEntity> Of(SpeciesForm species)
    {
        var composition = species.Formula.Composition;
        CountedEntity[] known = [.. Known.Where(each => each.Moles.ContainsKey(composition))];
        if (known.Length > 0 && !(species.Element is not null && known.Contains(Alkalinity)))
            return known;
        return
        [
            new CountedEntity("formula " + composition, species.Formula.Text, "mol", Charges.TryGetValue(composition, out var charge) ? charge : null,
                new Dictionary<string, double>(StringComparer.Ordinal) { [composition] = 1 }.ToFrozenDictionary(StringComparer.Ordinal)),
        ];
    }

    /// <summary>The entity of a listed parameter, or null where it is none of the known ones.</summary>
    public static CountedEntity? Of(Parameter parameter) => Array.Find(Known, each => string.Equals(each.Key, parameter.Key, StringComparison.Ordinal));

    private static CountedEntity Make(string key, string name, int? charge, params (string Formula, double Moles)[] formulas) =>
        new(key, name, "mol", charge, formulas.ToFrozenDictionary(each => ChemicalFormula.Parse(each.Formula).Composition, each => each.Moles, StringComparer.Ordinal));
}
