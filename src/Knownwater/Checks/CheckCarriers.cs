namespace Knownwater.Checks;

/// <summary>What a check was made with: the things that a fault can sit in. Any text that tells one from another will do, such as an identity in the records.</summary>
/// <remarks>Null means not known. A change that the entries leave open may lie at any of the checks without one, each equally likely.</remarks>
public sealed record CheckCarriers
{
    /// <summary>The lot of the reagent; several lots in use make one text together.</summary>
    public string? Lot { get; init; }

    /// <summary>The stock that the known water was made from, or the bottle that it was poured from.</summary>
    public string? Stock { get; init; }

    /// <summary>The preparation of the known water: one batch, at all its levels.</summary>
    public string? Preparation { get; init; }

    /// <summary>The state of the instrument: changes with every setting, service and repair.</summary>
    public string? Settings { get; init; }
}
