namespace Knownwater.Drift;

/// <summary>The distribution over the states of a chart that has long been in control and has not signalled: the leading left eigenvector of its transition matrix.</summary>
internal static class QuasiStationary
{
    private const int MostSteps = 1_000_000;

    /// <summary>By power iteration, until no state moves by more than 10⁻¹⁴ of the whole.</summary>
    /// <param name="next">Carries a distribution over one point in control.</param>
    /// <param name="states">Number of states.</param>
    public static double[] Of(Func<double[], double[]> next, int states)
    {
        var state = new double[states];
        Array.Fill(state, 1.0 / states);
        for (var step = 0; step < MostSteps; step++)
        {
            var moved = next(state);
            double sum = 0, change = 0;
            foreach (var part in moved)
                sum += part;
            for (var i = 0; i < states; i++)
            {
                moved[i] /= sum;
                change = Math.Max(change, Math.Abs(moved[i] - state[i]));
            }
            state = moved;
            if (change < 1e-14)
                return state;
        }
        throw new InvalidOperationException($"The chart has not forgotten its start after {MostSteps} points; its memory is too long for a steady state.");
    }
}
