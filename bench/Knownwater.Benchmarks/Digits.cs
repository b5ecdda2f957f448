using System.Globalization;
using System.Text;
using Knownwater.Statistics;
using Knownwater.Tests.Statistics;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearRegression;
using MathNet.Numerics.Statistics;
using Sets = Knownwater.Tests.Statistics.StatisticalReferenceDatasets;

namespace Knownwater.Benchmarks;

/// <summary>Correct significant digits on the NIST Statistical Reference Datasets, beside those of MathNet.Numerics and numpy.</summary>
internal static class Digits
{
    private sealed record Line(string Set, string Quantity, double Ours, double? MathNet, string? Numpy);

    public static int Run(string[] args)
    {
        var folder = "docs/reference";
        Sets.Folder = "tests/data/nist-strd";
        for (var i = 0; i + 1 < args.Length; i += 2)
        {
            if (args[i] == "--out")
                folder = args[i + 1];
            else if (args[i] == "--data")
                Sets.Folder = args[i + 1];
        }
        var numpy = File.ReadLines(Path.Combine(Sets.Folder, "digits_numpy.csv")).Skip(1).Select(l => l.Split(',')).ToDictionary(c => (c[0], c[1]), c => c[2]);
        string? Peer(string set, string quantity) => numpy.GetValueOrDefault((set, quantity));
        Line[] univariate = [.. Sets.UnivariateNames.SelectMany(Univariate)], anova = [.. Sets.AnovaNames.SelectMany(Anova)], regression = [.. Sets.RegressionNames.SelectMany(Regression)], nonlinear = [.. NonlinearModels.Names.SelectMany(Nonlinear)];
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "digits.md"), Report([.. univariate.Select(WithPeer)], [.. anova.Select(WithPeer)], [.. regression.Select(WithPeer)], [.. nonlinear.Select(WithPeer)]));
        Console.WriteLine($"{univariate.Length + anova.Length + regression.Length + nonlinear.Length} quantities of {Sets.UnivariateNames.Length + Sets.AnovaNames.Length + Sets.RegressionNames.Length + NonlinearModels.Names.Length} sets");
        return 0;

        Line WithPeer(Line line) => line with { Numpy = Peer(line.Set, line.Quantity) };
    }

    private static IEnumerable<Line> Univariate(string name)
    {
        var set = Sets.ReadUnivariate(name);
        var moments = SampleMoments.Of(set.Values);
        yield return new(name, "mean", Sets.Digits(moments.Mean, set.Mean), Sets.Digits(set.Values.Mean(), set.Mean), null);
        yield return new(name, "sd", Sets.Digits(moments.StandardDeviation, set.StandardDeviation), Sets.Digits(set.Values.StandardDeviation(), set.StandardDeviation), null);
        yield return new(name, "autocorrelation", Sets.Digits(Autocorrelation.Lag1(set.Values), set.Autocorrelation), Sets.Digits(Correlation.Auto(set.Values, 1, 1)[0], set.Autocorrelation), null);
    }

    private static IEnumerable<Line> Anova(string name)
    {
        var set = Sets.ReadAnova(name);
        var anova = OneWayAnova.Of(set.Groups);
        // MathNet has no analysis of variance: its means and variances, put together in two passes
        double[] all = [.. set.Groups.SelectMany(g => g)];
        var mean = all.Mean();
        double between = set.Groups.Sum(g => g.Length * Math.Pow(g.Mean() - mean, 2)) / (set.Groups.Length - 1), within = set.Groups.Sum(g => g.Variance() * (g.Length - 1)) / (all.Length - set.Groups.Length);
        yield return new(name, "f", Sets.Digits(anova.F, set.F), Sets.Digits(between / within, set.F), null);
    }

    private static IEnumerable<Line> Regression(string name)
    {
        var set = Sets.ReadRegression(name);
        var fit = Sets.Fit(name, set);
        double[] x = [.. set.X.Select(r => r[0])];
        var through = name.StartsWith("NoInt", StringComparison.Ordinal);
        var design = Matrix<double>.Build.Dense(set.Y.Length, set.Coefficients.Length, (i, j) => name == "Longley" ? j == 0 ? 1 : set.X[i][j - 1] : Math.Pow(x[i], through ? 1 : j));
        var y = Vector<double>.Build.Dense(set.Y);
        var tried = new List<Func<IEnumerable<double>>> { () => MultipleRegression.QR(design, y), () => MultipleRegression.Svd(design, y) };
        if (set.X[0].Length == 1 && !through)
            tried.Add(() => MathNet.Numerics.Fit.Polynomial(x, set.Y, set.Coefficients.Length - 1, DirectRegressionMethod.QR));
        yield return new(name, "coefficients", Sets.Worst(fit.Coefficients, set.Coefficients), tried.Max(f => Sets.Worst(f(), set.Coefficients)), null);
        yield return new(name, "standard errors", Sets.Worst(fit.StandardErrors, set.StandardErrors), null, null);
    }

    private static IEnumerable<Line> Nonlinear(string name)
    {
        var set = Sets.ReadRegression(name);
        var fit = NonlinearModels.Fit(name, set, set.Starts[1]);
        yield return new(name, "parameters", Sets.Worst(fit.Parameters, set.Coefficients), null, null);
        yield return new(name, "standard errors", Sets.Worst(fit.StandardErrors, set.StandardErrors), null, null);
    }

    private static string Report(Line[] univariate, Line[] anova, Line[] regression, Line[] nonlinear)
    {
        var text = new StringBuilder();
        text.Append("""
            # Digits reached on the NIST Statistical Reference Datasets

            Written by `bench/Knownwater.Benchmarks digits`. A number is the log relative error −log₁₀|(value − certified)/certified|: the correct significant digits, at most 15, as many as are certified; of several numbers the worst.
            All take the data as doubles. Where a set has many constant leading digits (NumAcc, SmLs), the rounding of its decimals to doubles alone costs digits: those lines show what the input allows, and exact rational arithmetic
            on the doubles gives the same. The data, and the script behind the column numpy, are in `tests/data/nist-strd`.


            """);
        Table(text, "Univariate statistics", "MathNet’s `Mean`, `StandardDeviation` and `Correlation.Auto`; numpy’s `mean` and `std`.", univariate);
        Table(text, "One-way analysis of variance", "MathNet has none: its means and variances put together; in the column numpy scipy’s `f_oneway`, which takes the mean off first.", anova);
        Table(text, "Linear regression", "MathNet’s best of QR and singular values on the design and `Fit.Polynomial`, which gives no standard errors; numpy’s best of `lstsq` and `Polynomial.fit`, standard errors by `qr`.", regression);
        Table(text, "Nonlinear regression", "Sixteen sets, 11 digits certified, from the second start of each; from the first all but BoxBOD and MGH10 lead to the minimum too, and these two are refused. In the column numpy scipy’s `curve_fit` with the tightest tolerances, whose derivatives are differences. MathNet’s minimisers were not run.", nonlinear);
        return text.ToString();
    }

    private static void Table(StringBuilder text, string title, string peers, Line[] lines)
    {
        static string Shown(double? digits) => digits is { } d ? d.ToString("0.0", CultureInfo.InvariantCulture) : "–";
        text.Append(CultureInfo.InvariantCulture, $"## {title}\n\n{peers}\n\n| set | quantity | Knownwater | MathNet | numpy |\n| --- | --- | --- | --- | --- |\n");
        foreach (var line in lines)
            text.Append(CultureInfo.InvariantCulture, $"| {line.Set} | {(line.Quantity == "f" ? "F" : line.Quantity)} | {Shown(line.Ours)} | {Shown(line.MathNet)} | {line.Numpy ?? "–"} |\n");
        text.Append('\n');
    }
}
