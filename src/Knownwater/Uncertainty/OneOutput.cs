namespace Knownwater.Uncertainty;

/// <summary>One output of a model that has several.</summary>
internal readonly struct OneOutput<M>(M model, int output) : IModel where M : struct, IMultivariateModel
{
    public int Inputs => model.Inputs;

    public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T>
    {
        var y = new T[model.Outputs];
        model.Evaluate(x, y.AsSpan());
        return y[output];
    }
}
