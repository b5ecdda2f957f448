namespace Knownwater.Records.Instruments;

/// <summary>Kinds of instrument.</summary>
public enum InstrumentKind
{
    /// <summary>An automatic analyser.</summary>
    Analyser = 0,

    /// <summary>A hand kit.</summary>
    HandKit = 1,

    /// <summary>A laboratory.</summary>
    Laboratory = 2,
}
