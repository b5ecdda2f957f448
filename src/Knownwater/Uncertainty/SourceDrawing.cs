using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Knownwater.Uncertainty;

/// <summary>How the sources of a model's inputs are drawn, a tile of trials at a time.</summary>
/// <remarks>A source that two inputs share is one column. A scaled t, and a normal source with finite degrees of freedom, is a normal column times √(ν/χ²); members of one family share that factor.</remarks>
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
            if (!sources[s].IsStudent || double.IsPositiveInfinity(sources[s].Dof))
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
    private static void Fill(ref LaneRandom random, ErrorSource source, Span<Vector512<double>> column)
    {
        var beta = source.TopToBase ?? 0;
        switch (source.Shape)
        {
            case SourceShape.Rectangular or SourceShape.Resolution:
                Rectangles(ref random, Math.Sqrt(3), column);
                break;
            case SourceShape.Triangular:
                Triangles(ref random, Math.Sqrt(6), column);
                break;
            case SourceShape.Trapezoidal:
                Trapeziums(ref random, Math.Sqrt(6 / (1 + beta * beta)), beta, column);
                break;
            case SourceShape.ArcSine:
                Cycles(ref random, Math.Sqrt(2), column);
                break;
            case SourceShape.Censored:
                OneSided(ref random, beta, column);
                break;
            default:
                Pairs(ref random, column);
                LaneMath.BoxMuller(column);
                break;
        }
    }

    // a loop for each shape, in a method of its own with the generators in a copy: so the compiler keeps them in registers, with narrow vectors too

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Rectangles(ref LaneRandom generators, double half, Span<Vector512<double>> column)
    {
        var random = generators;
        Vector512<double> width = Vector512.Create(2 * half), middle = Vector512.Create(0.5);
        for (var k = 0; k < column.Length; k++)
            column[k] = width * (random.Uniform() - middle);
        generators = random;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Triangles(ref LaneRandom generators, double half, Span<Vector512<double>> column)
    {
        var random = generators;
        var scale = Vector512.Create(half);
        for (var k = 0; k < column.Length; k++)
            column[k] = scale * (random.Uniform() + random.Uniform() - Vector512<double>.One);
        generators = random;
    }

    /// <summary>The sum of two rectangles of half-widths (1 ± β)/2 (JCGM 101:2008, 6.4.4.4).</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Trapeziums(ref LaneRandom generators, double half, double beta, Span<Vector512<double>> column)
    {
        var random = generators;
        Vector512<double> wide = Vector512.Create(half * (1 + beta)), narrow = Vector512.Create(half * (1 - beta)), middle = Vector512.Create(0.5);
        for (var k = 0; k < column.Length; k++)
            column[k] = LaneMath.Fma(wide, random.Uniform() - middle, narrow * (random.Uniform() - middle));
        generators = random;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Cycles(ref LaneRandom generators, double amplitude, Span<Vector512<double>> column)
    {
        var random = generators;
        var scale = Vector512.Create(amplitude);
        for (var k = 0; k < column.Length; k++)
            column[k] = scale * random.Cosine();
        generators = random;
    }

    /// <summary>Uniform times √(β² + (1 − β²)·uniform) has the density that is flat up to β and then falls in a straight line.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void OneSided(ref LaneRandom generators, double beta, Span<Vector512<double>> column)
    {
        var random = generators;
        var (mean, sd) = ErrorSource.CensoredMoments(beta);
        Vector512<double> flat = Vector512.Create(beta * beta), ramp = Vector512.Create(1 - beta * beta), middle = Vector512.Create(mean), scale = Vector512.Create(1 / sd);
        for (var k = 0; k < column.Length; k++)
            column[k] = scale * (random.Uniform() * Vector512.Sqrt(LaneMath.Fma(ramp, random.Uniform(), flat)) - middle);
        generators = random;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Pairs(ref LaneRandom generators, Span<Vector512<double>> column)
    {
        var random = generators;
        random.Pairs(column);
        generators = random;
    }
}
