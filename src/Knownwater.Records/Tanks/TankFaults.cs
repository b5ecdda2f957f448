namespace Knownwater.Records.Tanks;

/// <summary>What the acts on tanks have in common.</summary>
internal static class TankFaults
{
    public static IReadOnlyList<FieldFault> TankGone { get; } = [new FieldFault("", "This tank is not there any more. Look in the list of tanks, or take it back in the history.")];

    public static IReadOnlyList<FieldFault> ReadingGone { get; } = [new FieldFault("", "This reading is not there any more. Look at the tank, or take it back in the history.")];

    public static IReadOnlyList<FieldFault> DoseGone { get; } = [new FieldFault("", "This dose is not there any more. Look at the tank, or take it back in the history.")];
}
