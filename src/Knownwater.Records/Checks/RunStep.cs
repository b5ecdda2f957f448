namespace Knownwater.Records.Checks;

/// <summary>One step of a run as the sheet shows it, one a screen. Texts are whole sentences in the keeper’s words.</summary>
/// <param name="Index">Place in the order of doing, from 0.</param>
/// <param name="Kind">What it asks.</param>
/// <param name="Level">The level, from 1; null for steps of the whole run.</param>
/// <param name="Replicate">The replicate of that level, from 1; null for steps of the whole run.</param>
/// <param name="Key">Stable within a version of the procedure: “level-1/replicate-2/fill-1”, “start/line-off”.</param>
/// <param name="Act">What to do, in very large type.</param>
/// <param name="Cue">What is heard or seen before it; null where it follows at once.</param>
/// <param name="Done">The one button, named by what was done.</param>
/// <param name="Seconds">Seconds of a timer; null without one.</param>
/// <param name="Signal">Whether the end of the timer may sound or vibrate.</param>
/// <param name="Why">The reason, with its computed figure; null where none is given.</param>
/// <param name="Caution">What the hand must mind here; null where nothing.</param>
/// <param name="Conditioning">The conditioning run of that level, from 1, whose reading does not count; null for all other steps.</param>
public sealed record RunStep(
    int Index, RunStepKind Kind, int? Level, int? Replicate, string Key, string Act, string? Cue, string Done, int? Seconds, bool Signal, string? Why, string? Caution, int? Conditioning = null);
