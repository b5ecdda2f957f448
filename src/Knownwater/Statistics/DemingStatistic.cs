using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Knownwater.Statistics;

/// <summary>Slope and intercept of Deming’s line, for resampling: outputs 0 and 1.</summary>
/// <remarks>Resampling pairs keeps whatever the sizes of the errors do along the range. Yet below 100 pairs the exact intervals of <see cref="DemingLine"/> hold more often even where errors grow with the level: see <see cref="Bootstrap"/>.</remarks>
public readonly struct DemingStatistic : IResampledStatistic
{
    private readonly double[] _x;
    private readonly double[] _y;
    private readonly double _meanX;
    private readonly double _meanY;
    private readonly double _ratio;

    /// <summary>The statistic of pairs.</summary>
    /// <param name="x">Finite values of one method, at least 3.</param>
    /// <param name="y">As many of the other.</param>
    /// <param name="ratio">λ = var(error of y)/var(error of x), finite and above zero.</param>
    /// <exception cref="ArgumentException">The counts differ, there are fewer than 3 pairs, or a value is not finite.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The ratio is not finite and above zero.</exception>
    public DemingStatistic(ReadOnlySpan<double> x, ReadOnlySpan<double> y, double ratio = 1)
    {
        Require.Pairs(x, y, 3);
        _ratio = Require.Positive(ratio);
        var sums = CentredSums.Of(x, y);
        (_meanX, _meanY) = (sums.MeanX, sums.MeanY);
        // about the means, so that the sums of a resample hardly cancel
        (_x, _y) = (x.ToArray(), y.ToArray());
        for (var i = 0; i < _x.Length; i++)
        {
            _x[i] -= _meanX;
            _y[i] -= _meanY;
        }
    }

    /// <inheritdoc/>
    public int Observations => _x.Length;

    /// <inheritdoc/>
    public int Outputs => 2;

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Evaluate(ReadOnlySpan<double> weights, Span<double> outputs)
    {
        Vector512<double> vw = default, vx = default, vy = default, vxx = default, vyy = default, vxy = default;
        var i = 0;
        for (; i <= _x.Length - Vector512<double>.Count; i += Vector512<double>.Count)
        {
            Vector512<double> w = Vector512.Create(weights[i..]), x = Vector512.Create(_x, i), y = Vector512.Create(_y, i), wx = w * x, wy = w * y;
            vw += w;
            vx += wx;
            vy += wy;
            vxx = Vector512.FusedMultiplyAdd(wx, x, vxx);
            vyy = Vector512.FusedMultiplyAdd(wy, y, vyy);
            vxy = Vector512.FusedMultiplyAdd(wx, y, vxy);
        }
        double n = Vector512.Sum(vw), sx = Vector512.Sum(vx), sy = Vector512.Sum(vy), sxx = Vector512.Sum(vxx), syy = Vector512.Sum(vyy), sxy = Vector512.Sum(vxy);
        for (; i < _x.Length; i++)
        {
            double wx = weights[i] * _x[i], wy = weights[i] * _y[i];
            n += weights[i];
            sx += wx;
            sy += wy;
            sxx += wx * _x[i];
            syy += wy * _y[i];
            sxy += wx * _y[i];
        }
        double mx = sx / n, my = sy / n;
        var slope = DemingLine.SlopeOf(sxx - mx * sx, syy - my * sy, sxy - mx * sy, _ratio);
        outputs[0] = slope;
        outputs[1] = my + _meanY - slope * (mx + _meanX);
    }
}
