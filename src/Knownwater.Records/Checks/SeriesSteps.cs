using Knownwater.Records.Instruments;

namespace Knownwater.Records.Checks;

/// <summary>What the two series of a line check or a changeover check have beside the steps of the procedure. Common practice, no published source.</summary>
internal static class SeriesSteps
{
    private const string Never = "Known water never goes into a tank.";

    private static readonly ProcedureStep InletIn = new()
    {
        Key = "inlet-in", When = ProcedureWhen.FirstReplicate, Kind = ProcedureStepKind.Act,
        Act = "Hang the inlet of the sampling line in the same bottle.", Done = "It hangs in it",
        Why = "The same water comes another way now. What differs is what the line does.", Caution = Never,
    };

    private static readonly ProcedureStep Flush = new()
    {
        Key = "line-flushed", When = ProcedureWhen.FirstReplicate, Kind = ProcedureStepKind.Act,
        Act = "Let the line draw at least three times its own volume, to waste.", Done = "It is flushed",
        Why = "Old water in the line would be read too. A bore of 4 mm holds 13 mL a metre, one of 6 mm 28 mL.",
    };

    private static readonly ProcedureStep Start = new()
    {
        Key = "line-start", When = ProcedureWhen.EachReplicate, Kind = ProcedureStepKind.Act,
        Act = "Start the method for {method}. It draws the water by itself.", Done = "Started",
    };

    private static readonly ProcedureStep Finish = new()
    {
        Key = "line-finish", When = ProcedureWhen.EachReplicate, Kind = ProcedureStepKind.Wait,
        Act = "Let the analyser finish. Look that no air comes with the water.", Done = "It has finished", TakesReadingTime = true, Signal = true,
        Why = "Air in the line makes the fill too small.",
    };

    private static readonly ProcedureStep InletBack = new()
    {
        Key = "inlet-back", When = ProcedureWhen.End, Kind = ProcedureStepKind.Act,
        Act = "Hang the inlet of the sampling line back where it was.", Done = "It hangs there", Caution = Never,
    };

    private static readonly ProcedureStep OldBottle = new()
    {
        Key = "old-bottle", When = ProcedureWhen.FirstReplicate, Kind = ProcedureStepKind.Confirm,
        Act = "See that the old bottle of reagent is still in use.", Done = "The old one is in use",
        Why = "The first series is read with the old bottle, the second with the new one.",
    };

    private static readonly ProcedureStep NewBottle = new()
    {
        Key = "new-bottle", When = ProcedureWhen.FirstReplicate, Kind = ProcedureStepKind.Act,
        Act = "Put the new bottle of reagent in the place of the old one, and keep what is left of that.", Done = "The new one is in use",
        Why = "Which of the two is right is not known until a check against known water passes.",
        Caution = "Gloves and eye protection. The data sheet of the reagent comes first.",
    };

    private static readonly ProcedureStep Primed = new()
    {
        Key = "primed", When = ProcedureWhen.FirstReplicate, Kind = ProcedureStepKind.Act,
        Act = "Prime until the old reagent is out of the tube, as the manual of the analyser says.", Done = "Primed",
        Why = "What stands in the tube is still the old lot.",
    };

    /// <summary>The steps of one replicate in a series.</summary>
    /// <param name="kind">What the check asks.</param>
    /// <param name="instrument">What it runs on.</param>
    /// <param name="procedure">The procedure of the instrument.</param>
    /// <param name="series">1 or 2.</param>
    /// <param name="first">Whether it is the first of its series.</param>
    public static IEnumerable<ProcedureStep> Of(CheckKind kind, InstrumentKind instrument, Procedure procedure, int series, bool first)
    {
        var own = procedure.StepsOfReplicate(first);
        return (kind, series) switch
        {
            (CheckKind.Line, 2) => [.. first ? [InletIn, Flush] : Array.Empty<ProcedureStep>(), Start, Finish, .. own.Where(s => s.Kind == ProcedureStepKind.Read)],
            (CheckKind.Changeover, 1) when first => own.Prepend(OldBottle),
            (CheckKind.Changeover, 2) when first && instrument == InstrumentKind.Analyser => own.Prepend(Primed).Prepend(NewBottle),
            (CheckKind.Changeover, 2) when first => own.Prepend(NewBottle),
            _ => own,
        };
    }

    /// <summary>The steps after the last reading.</summary>
    public static IEnumerable<ProcedureStep> AtEnd(CheckKind kind, Procedure procedure)
    {
        var own = procedure.Steps.Where(s => s.When == ProcedureWhen.End);
        return kind == CheckKind.Line ? own.Prepend(InletBack) : own;
    }
}
