namespace Knownwater.Uncertainty;

/// <summary>A measurement model y = f(x₁ … x_N), written once for every number type.</summary>
/// <remarks>Make it a struct, so that each number type gets its own compiled code, and write it without branches on values.</remarks>
/// <example><code>
/// public readonly struct Dilution : IModel
/// {
///     public int Inputs => 3;
///     public T Evaluate&lt;T&gt;(ReadOnlySpan&lt;T&gt; x) where T : IReal&lt;T&gt; => x[0] * x[1] / x[2];
/// }
/// </code></example>
public interface IModel
{
    /// <summary>Number N of input quantities.</summary>
    int Inputs { get; }

    /// <summary>The measurand for given inputs.</summary>
    /// <param name="x">The N inputs, in the order the model defines.</param>
    /// <typeparam name="T">Number type.</typeparam>
    T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T>;
}
