namespace Knownwater.Statistics;

/// <summary>Least squares in double-double arithmetic: the solution of min |z − Aβ| by Householder reflections, and the inverse of the triangle.</summary>
/// <remarks>Golub and Van Loan, Matrix Computations, 5.2.1 and 5.3.2. With some 31 digits the condition of A costs digits only beyond 10¹⁵; MathNet.Numerics works in double, which leaves 7 of the 14 digits of Filip and 5 of the 15 of Wampler5 (NIST StRD).</remarks>
internal sealed class OrthogonalFactors
{
    // a column that the former ones explain to the rounding of doubles is none of its own
    private const double Dependent = 4e-15;

    private OrthogonalFactors(DoubleDouble[] solution, DoubleDouble[,] inverse)
    {
        Solution = solution;
        Inverse = inverse;
    }

    /// <summary>β.</summary>
    public DoubleDouble[] Solution { get; }

    /// <summary>R⁻¹, upper triangular: (AᵀA)⁻¹ = R⁻¹R⁻ᵀ.</summary>
    public DoubleDouble[,] Inverse { get; }

    /// <summary>Factors columns and solves.</summary>
    /// <param name="columns">The columns of A, each of the length of z; not kept and not changed.</param>
    /// <param name="z">Right-hand side.</param>
    /// <param name="dependent">The first column that is a combination of the former ones, where there is no solution.</param>
    /// <returns>Null where a column is a combination of the former ones.</returns>
    public static OrthogonalFactors? Solve(IReadOnlyList<DoubleDouble[]> columns, DoubleDouble[] z, out int dependent)
    {
        int n = z.Length, p = columns.Count;
        DoubleDouble[][] a = [.. columns.Select(c => (DoubleDouble[])c.Clone())];
        var right = (DoubleDouble[])z.Clone();
        var diagonal = new DoubleDouble[p];
        for (dependent = 0; dependent < p; dependent++)
        {
            var v = a[dependent];
            var k = dependent;
            var norm = Norm(v, k);
            if (!(norm.High > Dependent * Norm(columns[k], 0).High))
                return null;
            // the reflection sends v to −sign(v_k)·norm; its own square is 2·norm·(norm + |v_k|)
            diagonal[k] = v[k].High > 0 ? -norm : norm;
            v[k] -= diagonal[k];
            var half = -(diagonal[k] * v[k]);
            for (var j = k + 1; j < p; j++)
                Reflect(a[j], v, k, half);
            Reflect(right, v, k, half);
        }
        DoubleDouble R(int i, int j) => i == j ? diagonal[i] : a[j][i];

        var inverse = new DoubleDouble[p, p];
        var solution = new DoubleDouble[p];
        for (var j = 0; j < p; j++)
        {
            inverse[j, j] = (DoubleDouble)1 / diagonal[j];
            for (var i = j - 1; i >= 0; i--)
            {
                DoubleDouble sum = 0;
                for (var k = i + 1; k <= j; k++)
                    sum += R(i, k) * inverse[k, j];
                inverse[i, j] = -sum / diagonal[i];
            }
        }
        for (var i = p - 1; i >= 0; i--)
        {
            var sum = right[i];
            for (var k = i + 1; k < p; k++)
                sum -= R(i, k) * solution[k];
            solution[i] = sum / diagonal[i];
        }
        return new OrthogonalFactors(solution, inverse);

        static void Reflect(DoubleDouble[] column, DoubleDouble[] v, int from, DoubleDouble half)
        {
            DoubleDouble sum = 0;
            for (var i = from; i < v.Length; i++)
                sum += v[i] * column[i];
            var factor = sum / half;
            for (var i = from; i < v.Length; i++)
                column[i] -= factor * v[i];
        }
    }

    /// <summary>Length of a part of a column.</summary>
    public static DoubleDouble Norm(ReadOnlySpan<DoubleDouble> column, int from)
    {
        DoubleDouble sum = 0;
        foreach (var x in column[from..])
            sum += x * x;
        return DoubleDouble.Sqrt(sum);
    }
}
