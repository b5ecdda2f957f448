using System.Runtime.Intrinsics;

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
                var whole = matrix[row + j];
                var sum = whole - Dot(matrix.AsSpan(row, j), matrix.AsSpan(other, j));
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
            white[i] = (x[i] - Dot(_l.AsSpan(row + from, i - from), white[from..i])) / _l[row + i];
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

    /// <summary>Inner product in eight lanes, which add up in the same order on every machine.</summary>
    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        Vector256<double> one = default, two = default;
        var at = 0;
        for (; at + 8 <= a.Length; at += 8)
        {
            one += Vector256.Create(a.Slice(at, 4)) * Vector256.Create(b.Slice(at, 4));
            two += Vector256.Create(a.Slice(at + 4, 4)) * Vector256.Create(b.Slice(at + 4, 4));
        }
        var sum = Vector256.Sum(one + two);
        for (; at < a.Length; at++)
            sum += a[at] * b[at];
        return sum;
    }
}
