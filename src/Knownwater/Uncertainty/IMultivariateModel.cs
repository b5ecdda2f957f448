namespace Knownwater.Uncertainty;

/// <summary>A measurement model of several output quantities of the same inputs (JCGM 102:2011), written once for every number type.</summary>
/// <remarks>As for <see cref="IModel"/>: make it a struct, and write it without branches on values.</remarks>
public interface IMultivariateModel
{
    /// <summary>Number N of input quantities.</summary>
    int Inputs { get; }

    /// <summary>Number m of output quantities.</summary>
    int Outputs { get; }

    /// <summary>The measurands for given inputs.</summary>
    /// <param name="x">The N inputs, in the order the model defines.</param>
    /// <param name="y">Receives the m outputs.</param>
    /// <typeparam name="T">Number type.</typeparam>
    void Evaluate<T>(ReadOnlySpan<T> x, Span<T> y) where T : IReal<T>;
}
