namespace Knownwater.Drift;

/// <summary>What kind of dated thing happened to a method between its checks.</summary>
public enum DriftEventKind
{
    /// <summary>A new lot of a reagent came into use.</summary>
    LotOpened,

    /// <summary>Another bottle of the same lot was opened.</summary>
    BottleOpened,

    /// <summary>A cleaning, a repair, a new part.</summary>
    Service,

    /// <summary>A setting of the instrument was changed: its factor, offset or program.</summary>
    SettingChanged,
}
