namespace Knownwater.Records.Instruments;

/// <summary>What the acts on instruments have in common.</summary>
internal static class InstrumentFaults
{
    public static IReadOnlyList<FieldFault> InstrumentGone { get; } = [new FieldFault("Instrument", "This instrument is not there any more. Look in the list of instruments, or take it back in the history.")];

    public static IReadOnlyList<FieldFault> MethodGone { get; } = [new FieldFault("Method", "This method is not there any more. Look at the instrument, or take it back in the history.")];

    public static IReadOnlyList<FieldFault> LotGone { get; } = [new FieldFault("Lot", "This lot is not there any more. Look at the instrument, or take it back in the history.")];
}
