using System.Globalization;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Checks;

/// <summary>A titration counted in drops: so many until the colour turns.</summary>
/// <remarks>
/// <para><b>The last drop.</b> After n − 1 drops the colour had not turned, after n it had: what was needed lies within the last drop. Every place in it is as good as any
/// other (rectangular, JCGM 100:2008, 4.3.7 and F.2.2.1), so that n drops mean n − ½ drops' worth with u = v/√12. Taken as n·v the count reads half a drop too high on average, at 12 drops 4 %.
/// The half drop is therefore taken off, unless the table of the kit allows for it already (its value for n drops was set by water of known value, not by multiplying).</para>
/// <para><b>The drops.</b> Single drops vary with the relative standard deviation r, each by itself; the dropper as a whole gives drops too large or too small by one gain, and a syringe too much or too
/// little sample by another. What n drops delivered up to the turn, with the place U in the last drop uniform and apart from the rest, has the variance
/// v²/12 + v²r²·(n − ⅔): n − 1 whole drops and E(U²) = ⅓ of the last. The gains act on the whole value, and in a titration the sample volume does so in full: 1 % too little sample reads 1 % low.</para>
/// <para>Gains are shared by all counts with that dropper or syringe, so they are error sources of their own. In a check of the kit they belong to what is judged and do not widen its interval; the last drop and the scatter do.</para>
/// </remarks>
public sealed class DropCount : IReadingScale
{
    private const double MostDrops = 1000;

    /// <summary>A kit that counts drops.</summary>
    /// <param name="valuePerDrop">Value of one drop in the reporting form, for the sample volume that is used; above zero, finite.</param>
    /// <param name="tableAllowsForLastDrop">Whether the kit's own table makes up for the overshoot of the last drop, so that n drops mean n times the value.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value of a drop is not above zero.</exception>
    public DropCount(double valuePerDrop, bool tableAllowsForLastDrop = false)
    {
        if (!(valuePerDrop > 0) || double.IsInfinity(valuePerDrop))
            throw new ArgumentOutOfRangeException(nameof(valuePerDrop), valuePerDrop, string.Create(CultureInfo.InvariantCulture, $"One drop is worth {valuePerDrop}, but it must be worth more than nothing. Take it from the kit's table: the step from one drop to the next."));
        ValuePerDrop = valuePerDrop;
        TableAllowsForLastDrop = tableAllowsForLastDrop;
    }

    /// <summary>Value of one drop.</summary>
    public double ValuePerDrop { get; }

    /// <summary>Whether the kit's table makes up for the last drop.</summary>
    public bool TableAllowsForLastDrop { get; }

    /// <summary>The colour turned at a drop.</summary>
    /// <param name="drops">Number of drops, the one that turned it included; 1 to 1000.</param>
    /// <returns>The value in the middle of what the last drop leaves open.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number is not between 1 and 1000.</exception>
    public KitReading Turned(int drops)
    {
        Counted(drops);
        var value = (TableAllowsForLastDrop ? drops : drops - 0.5) * ValuePerDrop;
        return new KitReading(value, value - ValuePerDrop / 2, value + ValuePerDrop / 2);
    }

    /// <summary>The colour was that of the turn before the first drop: a limit below, of one drop, or of half a drop where the table allows for the last.</summary>
    public KitReading TurnedBeforeFirst()
    {
        var limit = TableAllowsForLastDrop ? ValuePerDrop / 2 : ValuePerDrop;
        return new KitReading(limit, 0, limit, Censoring.Below);
    }

    /// <summary>The colour had not turned when one stopped.</summary>
    /// <param name="drops">Number of drops given; 1 to 1000.</param>
    /// <returns>A limit above.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number is not between 1 and 1000.</exception>
    public KitReading NotTurned(int drops)
    {
        var limit = Turned(Counted(drops)).High;
        return new KitReading(limit, limit, double.PositiveInfinity, Censoring.Above);
    }

    /// <summary>Number of drops that a value stands for; null where it stands for no whole number.</summary>
    /// <param name="value">The value.</param>
    public int? DropsFor(double value)
    {
        var drops = value / ValuePerDrop + (TableAllowsForLastDrop ? 0 : 0.5);
        return drops is >= 0.5 and <= MostDrops && Math.Abs(drops - Math.Round(drops)) < 1e-6 ? (int)Math.Round(drops) : null;
    }

    /// <summary>A count with all that makes it doubtful.</summary>
    /// <param name="drops">Number of drops, the one that turned it included; 1 to 1000.</param>
    /// <param name="dropSd">Relative standard deviation of a single drop; zero or more.</param>
    /// <param name="dropperGain">Relative error of the dropper's mean drop, shared by all its counts; null where none is counted.</param>
    /// <param name="sampleGain">Relative error of the sample volume (a syringe's), shared by all samples taken with it; null where none is counted.</param>
    /// <param name="unit">Unit of the value.</param>
    /// <returns>The value with the sources: last drop, single drops, dropper, sample.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number of drops or the standard deviation is out of its range.</exception>
    public Estimate ToEstimate(int drops, double dropSd = 0, ErrorSource? dropperGain = null, ErrorSource? sampleGain = null, string unit = "")
    {
        Counted(drops);
        if (!(dropSd >= 0) || double.IsInfinity(dropSd))
            throw new ArgumentOutOfRangeException(nameof(dropSd), dropSd, string.Create(CultureInfo.InvariantCulture, $"Drops vary by {dropSd}, but a standard deviation is zero or more. Weigh twenty drops one by one to find it."));
        var value = Turned(drops).Value;
        var last = ErrorSource.Rectangular("last drop", ValuePerDrop / 2, unit);
        List<(ErrorSource, double)> sources = [(last, last.StandardUncertainty)];
        if (dropSd > 0)
        {
            var single = ErrorSource.Normal("size of single drops", ValuePerDrop * dropSd * Math.Sqrt(drops - 2.0 / 3), unit);
            sources.Add((single, single.StandardUncertainty));
        }
        if (dropperGain is not null)
            sources.Add((dropperGain, value * dropperGain.StandardUncertainty));
        if (sampleGain is not null)
            sources.Add((sampleGain, -value * sampleGain.StandardUncertainty));
        return Estimate.FromRows(value, sources);
    }

    /// <inheritdoc/>
    /// <remarks>One drop, wherever the value lies.</remarks>
    public double ResolutionAt(double value) => ValuePerDrop;

    private static int Counted(int drops)
    {
        if (drops is < 1 or > (int)MostDrops)
            throw new ArgumentOutOfRangeException(nameof(drops), drops, $"The count is {drops} drops, but it is between 1 and {MostDrops}. Count the drop that turned the colour too.");
        return drops;
    }
}
