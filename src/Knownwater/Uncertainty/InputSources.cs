namespace Knownwater.Uncertainty;

/// <summary>The inputs of a model as a linear form in their independent sources: xᵢ = valueᵢ + Σ cᵢₛ ξₛ, each source once.</summary>
internal sealed class InputSources
{
    public InputSources(ReadOnlySpan<Estimate> inputs, int wanted, string model)
    {
        if (inputs.Length != wanted)
            throw new ArgumentException($"The model {model} has {wanted} inputs, {inputs.Length} are given.", nameof(inputs));
        var index = new Dictionary<Guid, int>();
        var sources = new List<ErrorSource>();
        Values = new double[inputs.Length];
        Parts = new (int, double)[inputs.Length][];
        for (var i = 0; i < inputs.Length; i++)
        {
            Values[i] = inputs[i].Value;
            var contributions = inputs[i].Contributions;
            Parts[i] = new (int, double)[contributions.Count];
            for (var k = 0; k < contributions.Count; k++)
            {
                if (!index.TryGetValue(contributions[k].Source.Id, out var at))
                {
                    at = sources.Count;
                    index.Add(contributions[k].Source.Id, at);
                    sources.Add(contributions[k].Source);
                }
                Parts[i][k] = (at, contributions[k].Value);
            }
        }
        Sources = [.. sources];
    }

    /// <summary>Values of the inputs.</summary>
    public double[] Values { get; }

    /// <summary>Every source once, in the order of first appearance.</summary>
    public ErrorSource[] Sources { get; }

    /// <summary>For each input the index of its sources with the signed contribution.</summary>
    public (int Source, double Contribution)[][] Parts { get; }
}
