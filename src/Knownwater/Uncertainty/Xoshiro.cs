using System.Numerics;

namespace Knownwater.Uncertainty;

/// <summary>xoshiro256++ (Blackman and Vigna 2021, ACM Transactions on Mathematical Software 47, 36), one stream for each seed and block, seeded through splitmix64.</summary>
internal struct Xoshiro
{
    private ulong _a, _b, _c, _d;
    private double _spare;
    private bool _hasSpare;

    public Xoshiro(ulong seed, ulong block)
    {
        // the block steps the seed by an odd constant of its own, so that streams do not run into each other
        var state = seed ^ (block * 0xD1342543DE82EF95 + 0x632BE59BD9B4E019);
        _a = Split(ref state);
        _b = Split(ref state);
        _c = Split(ref state);
        _d = Split(ref state);
    }

    /// <summary>A uniform number strictly between 0 and 1, of 52 bits.</summary>
    public double Uniform() => ((Next() >> 12) + 0.5) * (1.0 / (1UL << 52));

    /// <summary>A standard normal number (Box and Muller 1958).</summary>
    public double Normal()
    {
        if (_hasSpare)
        {
            _hasSpare = false;
            return _spare;
        }
        var radius = Math.Sqrt(-2 * Math.Log(Uniform()));
        var (sine, cosine) = Math.SinCos(2 * Math.PI * Uniform());
        _spare = radius * sine;
        _hasSpare = true;
        return radius * cosine;
    }

    /// <summary>A χ² number (Marsaglia and Tsang 2000, ACM Transactions on Mathematical Software 26, 363).</summary>
    public double ChiSquare(double dof)
    {
        var shape = dof / 2;
        var boost = 1.0;
        if (shape < 1)
        {
            boost = Math.Pow(Uniform(), 1 / shape);
            shape += 1;
        }
        var d = shape - 1.0 / 3;
        var c = 1 / Math.Sqrt(9 * d);
        while (true)
        {
            var x = Normal();
            var v = 1 + c * x;
            if (v <= 0)
                continue;
            v = v * v * v;
            if (Math.Log(Uniform()) < 0.5 * x * x + d - d * v + d * Math.Log(v))
                return 2 * d * v * boost;
        }
    }

    private ulong Next()
    {
        var result = BitOperations.RotateLeft(_a + _d, 23) + _a;
        var t = _b << 17;
        _c ^= _a;
        _d ^= _b;
        _b ^= _c;
        _a ^= _d;
        _c ^= t;
        _d = BitOperations.RotateLeft(_d, 45);
        return result;
    }

    private static ulong Split(ref ulong state)
    {
        var z = state += 0x9E3779B97F4A7C15;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
