namespace Knownwater.Drift;

/// <summary>The scatter within one check by the usual one of its method, all levels of the check together, on its chart.</summary>
/// <param name="Check">Its place in the history, from 0.</param>
/// <param name="Ratio">Pooled standard deviation of the readings, each level’s by the usual one at that level.</param>
/// <param name="Chart">The chart for its number of readings.</param>
public sealed record CheckScatter(int Check, double Ratio, SdChart Chart)
{
    /// <summary>Whether it lies beyond a limit.</summary>
    public bool Signals => Ratio > Chart.Upper || Ratio < Chart.Lower;

    /// <summary>The scatter of each check that has repeated readings.</summary>
    /// <param name="model">The model of the history, which knows what is usual.</param>
    public static IReadOnlyList<CheckScatter> Of(DriftModel model)
    {
        ArgumentNullException.ThrowIfNull(model);
        List<CheckScatter> found = [];
        Dictionary<int, SdChart> charts = [];
        for (var i = 0; i < model.History.Checks.Count; i++)
        {
            double squares = 0, dof = 0;
            foreach (var level in model.History.Checks[i].Levels)
            {
                if (level.Sd is not { } sd || level.Replicates < 2)
                    continue;
                // a display shows no scatter smaller than its own step
                var usual = Math.Max(model.Components.WithinCurve.At(level.Known), level.Resolution / Math.Sqrt(12));
                squares += (level.Replicates - 1) * sd * sd / (usual * usual);
                dof += level.Replicates - 1;
            }
            if (dof >= 1)
                found.Add(new CheckScatter(i, Math.Sqrt(squares / dof), charts.TryGetValue((int)dof + 1, out var chart) ? chart : charts[(int)dof + 1] = new SdChart((int)dof + 1)));
        }
        return found;
    }
}
