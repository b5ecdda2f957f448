using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>What the acts on a check have in common.</summary>
internal static class CheckFaults
{
    public static IReadOnlyList<FieldFault> Gone { get; } = [new FieldFault("", "This check is not there any more. Look in the list of checks, or take it back in the history.")];

    public static IReadOnlyList<FieldFault> NoLevel(int ordinal, CheckRows rows) =>
        [new FieldFault("Level", $"This check has {(rows.Levels.Count == 1 ? "one level" : Words.Count(rows.Levels.Count) + " levels")}; there is no level {ordinal}.")];

    public static IReadOnlyList<FieldFault> NoReading(int ordinal) =>
        [new FieldFault("Reading", $"There is no reading {ordinal} at this level. Look at the readings again.")];

    /// <summary>“ of level 2”, where there are several.</summary>
    public static string At(CheckRows rows, LevelRows level) => rows.Levels.Count > 1 ? $" of level {level.Row.Ordinal}" : "";

    /// <summary>An instant that differs from the last one, so that every act leaves its mark on the check.</summary>
    public static Instant Later(Instant last, Instant now) => now > last ? now : last + Duration.FromTicks(10);
}
