using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>A dated event tested as a step of the bias, with the steps of the other clear events allowed.</summary>
/// <param name="Event">The event.</param>
/// <param name="Between">Days of the last check before it and of the first one after it, between which the step lies.</param>
/// <param name="Step">Step in tolerances, from before it to after it.</param>
/// <param name="Interval">95 % interval of the step.</param>
/// <param name="P">Two-sided p: how readily a method without a step would show one as clear.</param>
/// <param name="CorrectedP">The same corrected for the number of events tested (Holm 1979, Scandinavian Journal of Statistics 6, 65).</param>
/// <param name="Together">Other events between the same two checks, which these checks cannot tell from it.</param>
public sealed record EventStep(DriftEvent Event, Interval Between, double Step, Interval Interval, double P, double CorrectedP, IReadOnlyList<DriftEvent> Together)
{
    internal const double Clear = 0.05;

    /// <summary>Whether the step is clear: the corrected p is below 0.05.</summary>
    public bool IsClear => CorrectedP < Clear;
}
