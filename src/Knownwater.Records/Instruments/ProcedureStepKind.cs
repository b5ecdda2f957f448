namespace Knownwater.Records.Instruments;

/// <summary>What a step of a procedure is.</summary>
public enum ProcedureStepKind
{
    /// <summary>Wait for a cue, or for a time.</summary>
    Wait = 0,

    /// <summary>Rinse: pour the rinse volume of known water; it is emptied again.</summary>
    Pour = 1,

    /// <summary>Do nothing where one might be tempted to.</summary>
    Nothing = 2,

    /// <summary>Dispense the exact sample volume of the method.</summary>
    Dispense = 3,

    /// <summary>Anything else that the hand does.</summary>
    Act = 4,

    /// <summary>Look, and say that it is so.</summary>
    Confirm = 5,

    /// <summary>Type the reading.</summary>
    Read = 6,
}
