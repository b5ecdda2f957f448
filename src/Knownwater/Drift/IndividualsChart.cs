using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>A chart of single points (or means of so many) between two lines; a point beyond one of them signals.</summary>
/// <remarks>Its run length is geometric: with p the probability of one point beyond, its mean is 1/p (Shewhart; ISO 7870-2:2013). For means of n readings give the shift in units of σ/√n.</remarks>
/// <param name="Width">Distance of a line from the target in σ, above 0; 3 is the usual one.</param>
public sealed record IndividualsChart(double Width = 3) : ControlChart
{
    /// <inheritdoc cref="IndividualsChart"/>
    public double Width { get; init; } = Require.Positive(Width, nameof(Width));

    /// <inheritdoc/>
    public override double AverageRunLength(double shift = 0) => 1 / Beyond(Require.Finite(shift));

    /// <summary>The same as in zero state: the chart has no memory.</summary>
    /// <param name="shift">Mean of the points in units of σ.</param>
    /// <returns>Number of points, at least 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The shift is not a finite number.</exception>
    public override double SteadyStateAverageRunLength(double shift) => AverageRunLength(shift);

    private protected override IRunLengthChain Chain() => new Memoryless(this);

    private double Beyond(double mean) => Normal.Cdf(mean - Width) + (Sides == ChartSides.Both ? Normal.Cdf(-mean - Width) : 0);

    private sealed class Memoryless(IndividualsChart chart) : IRunLengthChain
    {
        public int Settled => 1;

        public double[] First(double mean) => [1 - chart.Beyond(mean)];

        public double[] Next(double[] state, double mean, int point) => [state[0] * (1 - chart.Beyond(mean))];

        public double[] Remaining(double mean) => [1 / chart.Beyond(mean)];

        public double[] Stationary() => [1];
    }
}
