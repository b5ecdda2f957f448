using System.Globalization;
using Knownwater.Quantities;

namespace Knownwater.Checks;

/// <summary>The card of a hand kit: steps of colour, each with its value.</summary>
/// <remarks>
/// <para><b>Like step k.</b> The colour is nearer to step k than to its neighbours: the value lies between the middles to both sides. The number stays that of the
/// card, since that is what the kit says and what a check judges.</para>
/// <para><b>Between two steps.</b> Darker than the one and paler than the other says no more than that: the value lies anywhere between the two, rectangular over the whole
/// step (JCGM 100:2008, 4.3.7), u = w/√12. A triangular distribution would claim that the eye had found the middle; nobody was asked that. Since not everyone
/// uses “between” alike, “like step k” is not narrowed to the inner half of its step either. Both choices err to the wide side.</para>
/// <para><b>The ends.</b> Paler than the first step is a limit below, darker than the last a limit above.</para>
/// </remarks>
public sealed class ColourCard : IReadingScale
{
    private readonly double[] _steps;

    /// <summary>A card with its steps.</summary>
    /// <param name="steps">Values of the steps, rising, two or more, none below zero; in one reporting form.</param>
    /// <exception cref="ArgumentException">There are fewer than two steps, one is below zero or no finite number, or they do not rise.</exception>
    public ColourCard(IReadOnlyList<double> steps)
    {
        ArgumentNullException.ThrowIfNull(steps);
        if (steps.Count < 2)
            throw new ArgumentException($"The card has {steps.Count} steps, but a colour lies on or between at least two. Write the value of every colour on it.", nameof(steps));
        for (var i = 0; i < steps.Count; i++)
        {
            if (!double.IsFinite(steps[i]) || steps[i] < 0)
                throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"A step of the card is {steps[i]}, but water holds zero or more. Write the value that stands beside the colour."), nameof(steps));
            if (i > 0 && !(steps[i] > steps[i - 1]))
                throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"Step {steps[i]} follows {steps[i - 1]}, but the steps of a card rise. Write them from the palest to the darkest, each once."), nameof(steps));
        }
        _steps = [.. steps];
    }

    /// <summary>Values of the steps, rising.</summary>
    public IReadOnlyList<double> Steps => _steps;

    /// <summary>The colour is like one step.</summary>
    /// <param name="step">Place of the step, from zero.</param>
    /// <returns>The value of the step, open to the middles between it and its neighbours; beyond an end step as far as on its inner side, yet not below zero.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The card has no such step.</exception>
    public KitReading Like(int step)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(step);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(step, _steps.Length);
        var value = _steps[step];
        double? below = step > 0 ? (value - _steps[step - 1]) / 2 : null, above = step < _steps.Length - 1 ? (_steps[step + 1] - value) / 2 : null;
        return new KitReading(value, Math.Max(0, value - (below ?? above!.Value)), value + (above ?? below!.Value));
    }

    /// <summary>The colour lies between two neighbouring steps.</summary>
    /// <param name="lower">Place of the paler step, from zero.</param>
    /// <returns>The middle, open over the whole step.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The card has no such pair.</exception>
    public KitReading Between(int lower)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(lower);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(lower, _steps.Length - 1);
        return new KitReading((_steps[lower] + _steps[lower + 1]) / 2, _steps[lower], _steps[lower + 1]);
    }

    /// <summary>No colour, or a paler one than the first step.</summary>
    /// <exception cref="InvalidOperationException">The first step is zero, so that nothing lies below it.</exception>
    public KitReading PalerThanFirst() => _steps[0] > 0
        ? new KitReading(_steps[0], 0, _steps[0], Censoring.Below)
        : throw new InvalidOperationException("The first step of the card is zero, and nothing is paler. Read it as like the first step.");

    /// <summary>A darker colour than the last step.</summary>
    public KitReading DarkerThanLast() => new(_steps[^1], _steps[^1], double.PositiveInfinity, Censoring.Above);

    /// <summary>Place of a step by its value; −1 where the card has none.</summary>
    /// <param name="value">Value of the step.</param>
    public int IndexOf(double value) => Array.IndexOf(_steps, value);

    /// <summary>Places of the steps next to a value: the greatest not above and the least not below it; null beyond an end.</summary>
    /// <param name="value">The value.</param>
    public (int? Below, int? Above) Neighbours(double value)
    {
        var below = Array.FindLastIndex(_steps, s => s <= value);
        var above = Array.FindIndex(_steps, s => s >= value);
        return (below < 0 ? null : below, above < 0 ? null : above);
    }

    /// <inheritdoc/>
    /// <remarks>For a value that is the middle between two steps the width of that step, else that of “like” the nearest one.</remarks>
    public double ResolutionAt(double value)
    {
        if (IndexOf(value) < 0 && Neighbours(value) is ({ } below, { }) && Between(below).Value == value)
            return Between(below).Resolution;
        var nearest = 0;
        for (var i = 1; i < _steps.Length; i++)
        {
            if (Math.Abs(_steps[i] - value) <= Math.Abs(_steps[nearest] - value))
                nearest = i;
        }
        return Like(nearest).Resolution;
    }
}
