using System.Runtime.CompilerServices;

namespace Knownwater.Uncertainty;

/// <summary>A model of one output as one that has several.</summary>
internal readonly struct OnlyOutput<M>(M model) : IMultivariateModel where M : struct, IModel
{
    public int Inputs => model.Inputs;

    public int Outputs => 1;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Evaluate<T>(ReadOnlySpan<T> x, Span<T> y) where T : IReal<T> => y[0] = model.Evaluate(x);
}
