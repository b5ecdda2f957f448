using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Knownwater.Uncertainty;

/// <summary>How the sources of a model's inputs are drawn, a tile of trials at a time.</summary>
/// <remarks>A source that two inputs share is one column. A scaled t is a normal column times √(ν/χ²); members of one family share that factor.</remarks>
internal sealed class SourceDrawing
{
    /// <summary>Blocks of lanes in a tile: 128 trials, whose columns stay in the nearest cache.</summary>
    public const int Tile = 16;

    private readonly InputSources _inputs;
    private readonly int[] _families;
    private readonly double[] _familyDof;

    public SourceDrawing(InputSources inputs)
    {
        _inputs = inputs;
        var sources = inputs.Sources;
        _families = new int[sources.Length];
        var families = new Dictionary<Guid, int>();
        var dof = new List<double>();
        for (var s = 0; s < sources.Length; s++)
        {
            _families[s] = -1;
            if (sources[s].Shape != SourceShape.ScaledT || double.IsPositiveInfinity(sources[s].Dof))
                continue;
            if (sources[s].Family is { } family)
            {
                if (families.TryGetValue(family, out var known))
                {
                    // members of a family should state the same degrees of freedom; the least counts, as in the effective ones
                    _families[s] = known;
                    dof[known] = Math.Min(dof[known], sources[s].Dof);
                    continue;
                }
                families.Add(family, dof.Count);
            }
            _families[s] = dof.Count;
            dof.Add(sources[s].Dof);
        }
        _familyDof = [.. dof];
    }

    /// <summary>Number of inputs.</summary>
    public int Inputs => _inputs.Values.Length;

    /// <summary>Columns of a tile that a caller provides: one for each source and each family.</summary>
    public int Columns => _inputs.Sources.Length + _familyDof.Length;

    /// <summary>Draws a tile: the inputs of each block of lanes, one after the other.</summary>
    /// <param name="random">The block's generators.</param>
    /// <param name="columns">Room for <see cref="Columns"/> columns of a tile.</param>
    /// <param name="x">Receives <see cref="Inputs"/> numbers for each of the tile's blocks of lanes.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Draw(ref LaneRandom random, Span<Vector512<double>> columns, Span<Vector512<double>> x)
    {
        var sources = _inputs.Sources;
        for (var f = 0; f < _familyDof.Length; f++)
        {
            var factor = columns.Slice((sources.Length + f) * Tile, Tile);
            for (var k = 0; k < factor.Length; k++)
                factor[k] = Vector512.Sqrt(Vector512.Create(_familyDof[f]) / random.ChiSquare(_familyDof[f]));
        }
        for (var s = 0; s < sources.Length; s++)
        {
            var column = columns.Slice(s * Tile, Tile);
            Fill(ref random, sources[s], column);
            if (_families[s] < 0)
                continue;
            var factor = columns.Slice((sources.Length + _families[s]) * Tile, Tile);
            for (var k = 0; k < column.Length; k++)
                column[k] *= factor[k];
        }
        var n = Inputs;
        for (var i = 0; i < n; i++)
        {
            var value = Vector512.Create(_inputs.Values[i]);
            var parts = _inputs.Parts[i];
            if (parts.Length == 1)
            {
                var contribution = Vector512.Create(parts[0].Contribution);
                var column = columns.Slice(parts[0].Source * Tile, Tile);
                for (var k = 0; k < column.Length; k++)
                    x[k * n + i] = LaneMath.Fma(contribution, column[k], value);
                continue;
            }
            for (var k = 0; k < Tile; k++)
            {
                var sum = value;
                foreach (var (source, contribution) in parts)
                    sum = LaneMath.Fma(Vector512.Create(contribution), columns[source * Tile + k], sum);
                x[k * n + i] = sum;
            }
        }
    }

    /// <summary>One column of standardised draws: mean 0, and the sd that gives the contribution u its meaning (JCGM 101:2008, 6.4).</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Fill(ref LaneRandom generators, ErrorSource source, Span<Vector512<double>> column)
    {
        var random = generators;
        switch (source.Shape)
        {
            case SourceShape.Rectangular or SourceShape.Resolution:
            {
                Vector512<double> width = Vector512.Create(2 * Math.Sqrt(3)), middle = Vector512.Create(0.5);
                for (var k = 0; k < column.Length; k++)
                    column[k] = width * (random.Uniform() - middle);
                break;
            }
            case SourceShape.Triangular:
            {
                var half = Vector512.Create(Math.Sqrt(6));
                for (var k = 0; k < column.Length; k++)
                    column[k] = half * (random.Uniform() + random.Uniform() - Vector512<double>.One);
                break;
            }
            case SourceShape.Trapezoidal:
            {
                var beta = source.TopToBase!.Value;
                var scale = Math.Sqrt(6 / (1 + beta * beta));
                Vector512<double> wide = Vector512.Create(scale * (1 + beta)), narrow = Vector512.Create(scale * (1 - beta)), middle = Vector512.Create(0.5);
                for (var k = 0; k < column.Length; k++)
                    column[k] = LaneMath.Fma(wide, random.Uniform() - middle, narrow * (random.Uniform() - middle));
                break;
            }
            case SourceShape.ArcSine:
            {
                var amplitude = Vector512.Create(Math.Sqrt(2));
                for (var k = 0; k < column.Length; k++)
                    column[k] = amplitude * random.Direction().Cosine;
                break;
            }
            case SourceShape.Censored:
            {
                var ratio = source.TopToBase!.Value;
                var (mean, sd) = ErrorSource.CensoredMoments(ratio);
                Vector512<double> flat = Vector512.Create(ratio * ratio), ramp = Vector512.Create(1 - ratio * ratio), middle = Vector512.Create(mean), scale = Vector512.Create(1 / sd);
                for (var k = 0; k < column.Length; k++)
                    column[k] = scale * (random.Uniform() * Vector512.Sqrt(LaneMath.Fma(ramp, random.Uniform(), flat)) - middle);
                break;
            }
            default:
                for (var k = 0; k < column.Length; k += 2)
                    (column[k], column[k + 1]) = random.Normals();
                break;
        }
        generators = random;
    }
}
