namespace Knownwater.Drift;

/// <summary>Lower factor L of a covariance matrix, V = LLᵀ, row after row, so that the first rows factor the first values alone: that gives every one-step forecast at once.</summary>
internal readonly struct CholeskyFactor
{
    private const double Rounding = 1e-14;

    private readonly double[] _l;

    /// <summary>Factors a matrix in place; only its lower half is read.</summary>
    public CholeskyFactor(double[] matrix, int order)
    {
        (_l, Order) = (matrix, order);
        double half = 0;
        for (var i = 0; i < order; i++)
        {
            var row = i * order;
            for (var j = 0; j <= i; j++)
            {
                var other = j * order;
                var sum = matrix[row + j];
                var whole = sum;
                for (var k = 0; k < j; k++)
                    sum -= matrix[row + k] * matrix[other + k];
                if (j < i)
                    matrix[row + j] = sum / matrix[other + j];
                else
                    half += Math.Log(matrix[row + i] = Math.Sqrt(Math.Max(sum, Rounding * whole)));
            }
        }
        HalfLogDeterminant = half;
    }

    public int Order { get; }

    /// <summary>½ ln det V.</summary>
    public double HalfLogDeterminant { get; }

    public double this[int row, int column] => _l[row * Order + column];

    /// <summary>L⁻¹x from a row on; x is zero before it.</summary>
    public void Whiten(ReadOnlySpan<double> x, Span<double> white, int from = 0)
    {
        white[..from].Clear();
        for (var i = from; i < Order; i++)
        {
            var row = i * Order;
            var sum = x[i];
            for (var k = from; k < i; k++)
                sum -= _l[row + k] * white[k];
            white[i] = sum / _l[row + i];
        }
    }

    /// <summary>L⁻ᵀx, in place.</summary>
    public void Unwhiten(Span<double> x)
    {
        for (var i = Order - 1; i >= 0; i--)
        {
            x[i] /= _l[i * Order + i];
            for (var k = 0; k < i; k++)
                x[k] -= _l[i * Order + k] * x[i];
        }
    }
}
