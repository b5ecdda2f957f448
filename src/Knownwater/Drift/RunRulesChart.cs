using System.Numerics;
using Knownwater.Statistics;
using MathNet.Numerics.LinearAlgebra.Double;

namespace Knownwater.Drift;

/// <summary>A chart of single points with the four usual rules together: one beyond 3 σ, two of three beyond 2 σ, four of five beyond 1 σ, eight in a row, each on one side of the target.</summary>
/// <remarks>
/// Run lengths by the exact Markov chain of Champ and Woodall 1987 (Technometrics 29, 393): the state is what the last points tell the rules; states that lead to the same
/// future are merged (Moore 1956). Each rule may be left out. Watching above alone, only what lies above counts.
/// </remarks>
public sealed record RunRulesChart : ControlChart
{
    private const int Zones = 6, LongestRun = 8;

    /// <summary>Whether two of three points beyond 2 σ on one side signal.</summary>
    public bool TwoOfThree { get; init; } = true;

    /// <summary>Whether four of five points beyond 1 σ on one side signal.</summary>
    public bool FourOfFive { get; init; } = true;

    /// <summary>Whether eight points in a row on one side signal.</summary>
    public bool EightInARow { get; init; } = true;

    /// <summary>Which standardised points signal, and by which rules.</summary>
    /// <param name="points">Points as distances from the target in σ. After a signal the memory of the rules goes on.</param>
    /// <returns>The rules that each point breaks; none is an empty set.</returns>
    /// <exception cref="ArgumentException">There is no point, or one is not finite.</exception>
    public RunRules[] Signals(ReadOnlySpan<double> points)
    {
        Require.Sample(points, 1);
        var found = new RunRules[points.Length];
        var memory = default(Memory);
        for (var i = 0; i < points.Length; i++)
        {
            var zone = ZoneOf(points[i]);
            memory = memory.After(zone);
            found[i] = Broken(memory, Math.Abs(points[i]) > 3 && (points[i] > 0 || Sides == ChartSides.Both));
        }
        return found;
    }

    private protected override IRunLengthChain Chain() => new FiniteChain(Merged(), Sides);

    // zones from the lowest: (−3, −2), (−2, −1), (−1, 0), (0, 1), (1, 2), (2, 3), here as ±1, ±2, ±3
    private static int ZoneOf(double point) => point > 0 ? point > 2 ? 3 : point > 1 ? 2 : 1 : point < -2 ? -3 : point < -1 ? -2 : -1;

    private RunRules Broken(Memory memory, bool beyond)
    {
        var rules = beyond ? RunRules.OneBeyondThree : RunRules.None;
        var both = Sides == ChartSides.Both;
        if (TwoOfThree && (Pair(memory.Above2) || both && Pair(memory.Below2)))
            rules |= RunRules.TwoOfThreeBeyondTwo;
        if (FourOfFive && (Four(memory.Above1) || both && Four(memory.Below1)))
            rules |= RunRules.FourOfFiveBeyondOne;
        if (EightInARow && (memory.Run >= LongestRun || both && memory.Run <= -LongestRun))
            rules |= RunRules.EightOnOneSide;
        return rules;

        // the newest point must be one of them, else it was signalled before
        static bool Pair(int bits) => (bits & 1) != 0 && BitOperations.PopCount((uint)(bits & 7)) >= 2;
        static bool Four(int bits) => (bits & 1) != 0 && BitOperations.PopCount((uint)(bits & 31)) >= 4;
    }

    private (int[][] Next, int Start) Merged()
    {
        // every state that can be reached without a signal, then Moore's refinement into those with the same future
        Dictionary<Memory, int> index = new() { [default] = 0 };
        List<Memory> states = [default];
        List<int[]> next = [];
        for (var at = 0; at < states.Count; at++)
        {
            var row = new int[Zones];
            for (var zone = 0; zone < Zones; zone++)
            {
                var after = states[at].After(zone < 3 ? zone - 3 : zone - 2);
                if (Broken(after, false) != RunRules.None)
                {
                    row[zone] = -1;
                    continue;
                }
                after = after.Cut();
                if (!index.TryGetValue(after, out var to))
                {
                    index[after] = to = states.Count;
                    states.Add(after);
                }
                row[zone] = to;
            }
            next.Add(row);
        }
        var group = new int[states.Count];
        for (var groups = 1; ;)
        {
            Dictionary<(int, int, int, int, int, int, int), int> seen = [];
            var refined = new int[group.Length];
            int Of(int state) => state < 0 ? -1 : group[state];
            for (var i = 0; i < group.Length; i++)
            {
                var row = next[i];
                var key = (group[i], Of(row[0]), Of(row[1]), Of(row[2]), Of(row[3]), Of(row[4]), Of(row[5]));
                if (!seen.TryGetValue(key, out refined[i]))
                    seen[key] = refined[i] = seen.Count;
            }
            group = refined;
            if (seen.Count == groups)
                break;
            groups = seen.Count;
        }
        var merged = new int[group.Max() + 1][];
        for (var i = 0; i < group.Length; i++)
            merged[group[i]] ??= [.. next[i].Select(to => to < 0 ? -1 : group[to])];
        return (merged, group[0]);
    }

    /// <summary>What the last points tell the rules: bits, newest lowest, and the signed length of the run on one side.</summary>
    private readonly record struct Memory(int Above2, int Above1, int Below2, int Below1, int Run)
    {
        public Memory After(int zone) => new(
            (Above2 << 1) | (zone >= 3 ? 1 : 0),
            (Above1 << 1) | (zone >= 2 ? 1 : 0),
            (Below2 << 1) | (zone <= -3 ? 1 : 0),
            (Below1 << 1) | (zone <= -2 ? 1 : 0),
            zone > 0 ? Math.Min(LongestRun, Math.Max(Run, 0) + 1) : Math.Max(-LongestRun, Math.Min(Run, 0) - 1));

        public Memory Cut() => new(Above2 & 3, Above1 & 15, Below2 & 3, Below1 & 15, Run);
    }

    private sealed class FiniteChain((int[][] Next, int Start) chain, ChartSides sides) : IRunLengthChain
    {
        public int Settled => 1;

        public double[] First(double mean)
        {
            var state = new double[chain.Next.Length];
            state[chain.Start] = 1;
            return Next(state, mean, 1);
        }

        public double[] Next(double[] state, double mean, int point)
        {
            var p = Probabilities(mean);
            var after = new double[state.Length];
            for (var i = 0; i < state.Length; i++)
            {
                for (var zone = 0; zone < Zones; zone++)
                {
                    if (chain.Next[i][zone] is >= 0 and var to)
                        after[to] += p[zone] * state[i];
                }
            }
            return after;
        }

        public double[] Remaining(double mean)
        {
            var p = Probabilities(mean);
            var n = chain.Next.Length;
            var equations = DenseMatrix.CreateIdentity(n);
            for (var i = 0; i < n; i++)
            {
                for (var zone = 0; zone < Zones; zone++)
                {
                    if (chain.Next[i][zone] is >= 0 and var to)
                        equations[i, to] -= p[zone];
                }
            }
            return equations.LU().Solve(DenseVector.Create(n, 1)).AsArray();
        }

        public double[] Stationary() => QuasiStationary.Of(state => Next(state, 0, 2), chain.Next.Length);

        private double[] Probabilities(double mean)
        {
            var p = new double[Zones];
            for (var zone = 0; zone < Zones; zone++)
                p[zone] = Normal.Between(zone == 0 && sides == ChartSides.Upper ? double.NegativeInfinity : zone - 3 - mean, zone - 2 - mean);
            return p;
        }
    }
}
