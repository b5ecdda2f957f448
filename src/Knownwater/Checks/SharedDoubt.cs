using Knownwater.Uncertainty;

namespace Knownwater.Checks;

/// <summary>An error source that several known values lean on.</summary>
/// <param name="Source">The source.</param>
/// <param name="Parts">What it does to each value that leans on it.</param>
public sealed record SharedDoubt(ErrorSource Source, IReadOnlyList<SharedPart> Parts)
{
    /// <summary>The least share of a value's variance that counts as leaning on a source.</summary>
    public const double LeastShare = 0.01;

    /// <summary>The sources that at least two of some values lean on, the one with the largest second share first.</summary>
    /// <remarks>
    /// A value leans on a source whose part of its variance, c²/u², is at least <see cref="LeastShare"/>; smaller parts move it by less
    /// than a tenth of its doubt. What several verdicts share they get wrong together: agreement of such verdicts is no proof.
    /// </remarks>
    /// <param name="values">The known values, each with its ancestry.</param>
    public static IReadOnlyList<SharedDoubt> Among(IReadOnlyList<Estimate> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        var bySource = new Dictionary<Guid, (ErrorSource Source, List<SharedPart> Parts)>();
        for (var i = 0; i < values.Count; i++)
        {
            var variance = values[i].StandardUncertainty * values[i].StandardUncertainty;
            foreach (var part in values[i].Contributions)
            {
                var share = part.Value * part.Value / variance;
                if (!(share >= LeastShare))
                    continue;
                if (!bySource.TryGetValue(part.Source.Id, out var found))
                    bySource.Add(part.Source.Id, found = (part.Source, []));
                found.Parts.Add(new SharedPart(i, part.Value, values[i].Value == 0 ? null : part.Value / values[i].Value, share));
            }
        }
        return [.. bySource.Values.Where(s => s.Parts.Count > 1).Select(s => new SharedDoubt(s.Source, s.Parts)).OrderByDescending(s => s.Parts.Select(p => p.Share).Order().Reverse().ElementAt(1))];
    }

    /// <summary>How large one error of this source would have to be to explain wrong readings, in its standard uncertainties; null where fewer than two values that lean on it read wrong, or no one error explains all of these.</summary>
    /// <remarks>
    /// An error of k standard uncertainties moves value i by k·cᵢ, so that the method seems to be off by as much. It explains a bias if
    /// k·cᵢ lies within the interval of that bias; it explains several if one k does so for all of them. The smallest such k in size is given.
    /// </remarks>
    /// <param name="biases">Verdict and interval of the bias of each value, in the order in which the values were given; null where there is none.</param>
    public double? ErrorToExplain(IReadOnlyList<(Verdict Verdict, double Low, double High)?> biases)
    {
        ArgumentNullException.ThrowIfNull(biases);
        var (low, high, wrong) = (double.NegativeInfinity, double.PositiveInfinity, 0);
        foreach (var part in Parts)
        {
            if (biases[part.Index] is not { Verdict: Verdict.ReadsHigh or Verdict.ReadsLow } bias)
                continue;
            wrong++;
            var (a, b) = (bias.Low / part.Contribution, bias.High / part.Contribution);
            (low, high) = (Math.Max(low, Math.Min(a, b)), Math.Min(high, Math.Max(a, b)));
        }
        return wrong < 2 || low > high ? null : low > 0 ? low : high < 0 ? high : 0;
    }
}

/// <summary>What a shared source does to one value.</summary>
/// <param name="Index">Place of the value, from zero.</param>
/// <param name="Contribution">Signed contribution, sensitivity × u, in the unit of the value.</param>
/// <param name="Relative">That as a part of the value; null where the value is zero.</param>
/// <param name="Share">Its share of the variance, 0 to 1.</param>
public sealed record SharedPart(int Index, double Contribution, double? Relative, double Share);
