namespace Knownwater.Checks;

/// <summary>On what a check of several levels rests.</summary>
public enum LevelsBasis
{
    /// <summary>Every level against its own known value; offset and gain follow.</summary>
    EachLevel = 0,

    /// <summary>The higher levels against the lowest: what the levels share in absolute terms, as an uncertain background, drops out. An offset is then not tested.</summary>
    Difference,
}
