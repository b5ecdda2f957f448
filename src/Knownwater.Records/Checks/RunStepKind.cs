namespace Knownwater.Records.Checks;

/// <summary>What a step of a run asks of the person.</summary>
public enum RunStepKind
{
    /// <summary>Wait for a cue that can be heard or seen, or for a time.</summary>
    Wait = 0,

    /// <summary>Do something with the hand, or leave it be.</summary>
    Act = 1,

    /// <summary>Look, and say that it is so.</summary>
    Confirm = 2,

    /// <summary>Type the reading of this replicate.</summary>
    Read = 3,
}
