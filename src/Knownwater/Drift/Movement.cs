using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>A change of the bias of a method that stays: a step or a drift, at a dated event or at none.</summary>
/// <param name="Kind">A step, or a drift.</param>
/// <param name="Size">Size in tolerances; of a drift in tolerances in thirty days.</param>
/// <param name="Interval">95 % interval of the size.</param>
/// <param name="Onset">Days between which it began: 95 % interval, or the two checks about its event.</param>
/// <param name="Likeliest">Likeliest day of its onset, or that of its event.</param>
/// <param name="Cause">The step at the event that is its candidate; null where it began at none.</param>
public sealed record Movement(CourseKind Kind, double Size, Interval Interval, Interval Onset, double Likeliest, EventStep? Cause);
