using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Checks;

/// <summary>One reading of a hand kit: a number and what the kit leaves open about it.</summary>
/// <remarks>
/// Within its limits every value is as good as any other, so that the reading is rectangular (JCGM 100:2008, 4.3.7 and F.2.2.1). Where the limits do not lie
/// evenly about the number that the kit gives, that number stays and the wider side counts for both: u² = max²/3 is never less than the mean square
/// distance from the number, width²/12 + (middle − value)², which F.2.4.5 asks for where a known shift is left uncorrected.
/// </remarks>
/// <param name="Value">The number read; the limit where it is censored.</param>
/// <param name="Low">Least value that the reading leaves open.</param>
/// <param name="High">Greatest value that it leaves open; positive infinity for “above”.</param>
/// <param name="Censoring">Whether it is only known to lie below or above the value.</param>
public readonly record struct KitReading(double Value, double Low, double High, Censoring Censoring = Censoring.None)
{
    /// <summary>Width of the step as a check counts it: twice the wider side; zero for a limit.</summary>
    public double Resolution => Censoring == Censoring.None ? 2 * Math.Max(High - Value, Value - Low) : 0;

    /// <summary>The reading as a check takes it.</summary>
    public Indication Indication => new(Value, Censoring);

    /// <summary>The reading as an estimate with the error source of its step alone.</summary>
    /// <param name="name">Name of that source, “step of the card”.</param>
    /// <param name="unit">Unit of the value.</param>
    /// <returns>For a limit below, the middle between zero and the limit, rectangular.</returns>
    /// <exception cref="InvalidOperationException">The reading lies above the limit of the kit, so that it has no upper end.</exception>
    public Estimate ToEstimate(string name, string unit = "") => Censoring switch
    {
        Censoring.Above => throw new InvalidOperationException($"The reading lies somewhere above {Value} {unit}, without an upper end, so it is no estimate. Dilute the sample, or take a smaller one."),
        Censoring.Below => Estimate.Below(Value, name, unit: unit),
        _ => Estimate.From(Value, ErrorSource.Rectangular(name, Resolution / 2, unit)),
    };
}
