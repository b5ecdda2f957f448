namespace Knownwater.Preparation;

/// <summary>An artificial seawater, weighed out.</summary>
public sealed record SeawaterMix
{
    /// <summary>The recipe it follows.</summary>
    public required SeawaterRecipe Recipe { get; init; }

    /// <summary>Salts in the order in which they are dissolved.</summary>
    public required IReadOnlyList<SeawaterMixLine> Lines { get; init; }

    /// <summary>Purified water, g, hydrate water already taken off.</summary>
    public required double WaterGrams { get; init; }

    /// <summary>Mass of the whole, kg.</summary>
    public required double Kilograms { get; init; }

    /// <summary>Volume of the whole at 20 °C, L (TEOS-10).</summary>
    public required double Litres { get; init; }

    /// <summary>Practical salinity of what is mixed: dissolved salt without hydrate water, 35.16504 g/kg at salinity 35.</summary>
    public required double PracticalSalinity { get; init; }

    /// <summary>mol/kg of each element or group, by Na, K, Mg, Ca, Sr, Cl, Br, F, SO4, HCO3, B.</summary>
    public required IReadOnlyDictionary<string, double> MolesPerKilogram { get; init; }

    /// <summary>Chlorinity, g/kg: 0.3285234 times the silver that chloride and bromide take (the definition).</summary>
    public required double Chlorinity { get; init; }

    /// <summary>What was left out, and why: a sentence each.</summary>
    public required IReadOnlyList<string> LeftOut { get; init; }

    /// <summary>Cautions, a sentence each, at the turn they belong to; turn 0 before all.</summary>
    public required IReadOnlyList<(int Turn, string Sentence)> Cautions { get; init; }
}
