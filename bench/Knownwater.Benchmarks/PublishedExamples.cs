using System.Globalization;
using System.Text;
using Knownwater.Uncertainty;

namespace Knownwater.Benchmarks;

/// <summary>The examples of JCGM 101:2008, clause 9, at a hundred million trials, beside their printed figures and, where there are, closed forms.</summary>
internal static class PublishedExamples
{
    private const int Trials = 100_000_000;

    private readonly struct Sum : IModel
    {
        public int Inputs => 4;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => x[0] + x[1] + x[2] + x[3];
    }

    /// <summary>JCGM 101:2008, 9.3, formula (33), mg and kg/m³.</summary>
    private readonly struct MassCalibration : IModel
    {
        public int Inputs => 5;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => (x[0] + x[1]) * (1.0 + (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4])) - 100000.0;
    }

    /// <summary>What is printed, with half a unit of its last digit, and the closed forms; the density of the distribution at an end of its interval, in 1/u, says how far chance moves it.</summary>
    private sealed record Example(string Clause, MonteCarloResult Found, double Printed, double ExactU, double Low, double High, double EndDigit, double Density, double? Exact);

    public static (string Table, bool Agree) Table()
    {
        var root = Math.Sqrt(3);
        Estimate[] normal = [.. Enumerable.Range(0, 4).Select(i => Estimate.From(0, 1, $"X{i}"))];
        Estimate[] equal = [.. Enumerable.Range(0, 4).Select(i => Rectangle(0, root))];
        Estimate[] ruled = [Rectangle(0, root), Rectangle(0, root), Rectangle(0, root), Rectangle(0, 10 * root)];
        Estimate[] mass = [Estimate.From(100000, 0.05, "mRc"), Estimate.From(1.234, 0.02, "dmRc"), Rectangle(1.2, 0.1), Rectangle(8000, 1000), Rectangle(8000, 50)];
        var calibration = MonteCarlo.Of(new MassCalibration(), mass, 1, Trials);
        Example[] examples =
        [
            new("9.2.2, four normal", MonteCarlo.Of(new Sum(), normal, 1, Trials), 2.0, 2, -3.92, 3.92, 0.005, 0.0584, 3.9199280),
            new("9.2.3, four rectangular", MonteCarlo.Of(new Sum(), equal, 1, Trials), 2.0, 2, -3.88, 3.88, 0.005, 0.0624, 3.8794067),
            new("9.2.4, one of them ten times as wide", MonteCarlo.Of(new Sum(), ruled, 1, Trials), 10.1, Math.Sqrt(103), -17.0, 17.0, 0.05, 0.25, null),
            // the shortest interval of 9.3: its flat minimum lets the ends slide by 0.02 u
            new("9.3, a mass", calibration with { Low = calibration.ShortestLow, High = calibration.ShortestHigh }, 0.0754, MassU(), 1.0834, 1.3825, 0.02 * 0.0754, 0.0584, null),
        ];

        var c = CultureInfo.InvariantCulture;
        var agree = true;
        var text = new StringBuilder();
        text.Append(c, $"""

            ## The examples of JCGM 101:2008 at {Trials:N0} trials

            | clause | u printed | u in closed form | u | interval printed | in closed form | interval |
            | --- | --- | --- | --- | --- | --- | --- |

            """);
        foreach (var e in examples)
        {
            // four sampling errors, and one bin for the ends
            var (u, end) = (4 * e.Found.StandardUncertainty / Math.Sqrt(2.0 * Trials), 4 * Math.Sqrt(0.025 * 0.975 / Trials) / e.Density * e.Found.StandardUncertainty + e.Found.BinWidth);
            var holds = Math.Abs(e.Found.StandardUncertainty - e.ExactU) <= u && Math.Abs(e.Found.Low - e.Low) <= e.EndDigit + end && Math.Abs(e.Found.High - e.High) <= e.EndDigit + end
                && (e.Exact is not { } exact || (Math.Abs(e.Found.High - exact) <= end && Math.Abs(e.Found.Low + exact) <= end));
            agree &= holds;
            text.Append(c, $"| {e.Clause} | {e.Printed} | {e.ExactU:0.000000} | {e.Found.StandardUncertainty:0.000000} | {e.Low} to {e.High} | {(e.Exact is { } known ? $"± {known.ToString("0.00000", c)}" : "")} | {e.Found.Low:0.00000} to {e.Found.High:0.00000}{(holds ? "" : " (differs)")} |\n");
        }
        text.Append("\nSymmetric intervals of 95 %, for 9.3 the shortest, whose ends a flat minimum lets slide. Four sampling errors part no u from its closed form, and with the printed digit no end from its example, unless a line says so. The u printed for 9.3 was a simulation too; its closed form rounds to 0.0755.\n");
        return (text.ToString(), agree);
    }

    /// <summary>u of 9.3 in closed form: the second moments of 1/ρ over a rectangle are known, and ρₐ − 1.2 has the mean zero.</summary>
    private static double MassU()
    {
        double w = Math.Log(9.0 / 7) / 2000, w2 = (1.0 / 7000 - 1.0 / 9000) / 2000, r = Math.Log(8050.0 / 7950) / 100, r2 = (1.0 / 7950 - 1.0 / 8050) / 100;
        double noise = 0.05 * 0.05 + 0.02 * 0.02, mass = 100001.234;
        return Math.Sqrt((mass * mass + noise) * (0.01 / 3) * (w2 - 2 * w * r + r2) + noise);
    }

    private static Estimate Rectangle(double middle, double half) => Estimate.From(middle, ErrorSource.Rectangular("rectangle", half));
}
