using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>The tabular cumulative sum, c ← max(0, c + x − k), which signals above h (ISO 7870-4:2021); watching both sides, a second one for −x beside it.</summary>
/// <remarks>
/// Run lengths of one side by the integral equation of van Dobben de Bruyn 1968 on Gauss–Legendre nodes. For two sides, 1/L = 1/L⁺ + 1/L⁻ (Kemp 1961, JRSS B 23, 149), and with a head start
/// L = (L⁺(u)·L⁻(0) + L⁻(u)·L⁺(0) − L⁺(0)·L⁻(0))/(L⁺(0) + L⁻(0)) (Lucas and Crosier 1982, Technometrics 24, 199): exact, as one sum stands at zero where the other signals.
/// The distribution, the steady state and drift are those of one side.
/// </remarks>
/// <param name="K">Reference value k in σ, at least 0: half the shift to be seen soon.</param>
/// <param name="H">Decision interval h in σ, above 0.</param>
public sealed record CusumChart(double K, double H) : ControlChart
{
    /// <inheritdoc cref="CusumChart"/>
    public double K { get; init; } = Require.NotNegative(K, nameof(K));

    /// <inheritdoc cref="CusumChart"/>
    public double H { get; init; } = Require.Positive(H, nameof(H));

    /// <summary>Value of each sum before the first point, from 0 to h; h/2 is the usual head start.</summary>
    public double HeadStart { get; init; }

    /// <inheritdoc/>
    public override double AverageRunLength(double shift = 0)
    {
        Require.Finite(shift);
        if (Sides == ChartSides.Upper)
            return base.AverageRunLength(shift);
        var upper = this with { Sides = ChartSides.Upper };
        double above = upper.AverageRunLength(shift), below = upper.AverageRunLength(-shift);
        if (HeadStart == 0)
            return 1 / (1 / above + 1 / below);
        var plain = upper with { HeadStart = 0 };
        double fromZeroAbove = plain.AverageRunLength(shift), fromZeroBelow = plain.AverageRunLength(-shift);
        return (above / fromZeroAbove + below / fromZeroBelow - 1) / (1 / fromZeroAbove + 1 / fromZeroBelow);
    }

    /// <summary>The sums of standardised points in their order.</summary>
    /// <param name="points">Points as distances from the target in σ.</param>
    /// <returns>The upper and the lower sum at each point; the lower one is zero throughout where only the upper side is watched.</returns>
    /// <exception cref="ArgumentException">There is no point, or one is not finite.</exception>
    public (double Upper, double Lower)[] Sums(ReadOnlySpan<double> points)
    {
        Require.Sample(points, 1);
        var sums = new (double Upper, double Lower)[points.Length];
        double upper = Start, lower = Sides == ChartSides.Both ? Start : 0;
        for (var i = 0; i < points.Length; i++)
        {
            upper = Math.Max(0, upper + points[i] - K);
            lower = Sides == ChartSides.Both ? Math.Max(0, lower - points[i] - K) : 0;
            sums[i] = (upper, lower);
        }
        return sums;
    }

    /// <summary>The decision interval whose average run length in control, in zero state, is this one.</summary>
    /// <param name="k">Reference value in σ, at least 0.</param>
    /// <param name="inControl">Wanted average run length, above 1.</param>
    /// <param name="sides">On which side it watches.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentOutOfRangeException">k or the run length is out of range.</exception>
    public static CusumChart For(double k, double inControl, ChartSides sides = ChartSides.Both)
    {
        RunLengthDesign.RequireRunLength(inControl);
        return RunLengthDesign.Solve(h => new CusumChart(k, h) { Sides = sides }, inControl);
    }

    private double Start => HeadStart >= 0 && HeadStart <= H
        ? HeadStart
        : throw new ArgumentOutOfRangeException(nameof(HeadStart), HeadStart, $"The head start is {HeadStart}; it must lie between 0 and the decision interval {H}.");

    private protected override IRunLengthChain Chain() => Sides == ChartSides.Upper
        ? new ScalarChain(1, 1, -K, Start, reflects: true, 1, _ => (0, H))
        : throw new InvalidOperationException("For the distribution of the run length, its steady state and drift, a cumulative sum is taken side by side: ask for the upper side, and for −x for the lower.");
}
