using System.Globalization;
using System.Text;
using Knownwater.Statistics;
using Knownwater.Tests.Statistics;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearRegression;
using MathNet.Numerics.Optimization;
using MathNet.Numerics.Statistics;
using Sets = Knownwater.Tests.Statistics.StatisticalReferenceDatasets;

namespace Knownwater.Benchmarks;

/// <summary>Correct significant digits on the NIST Statistical Reference Datasets, beside those of MathNet.Numerics and numpy.</summary>
internal static class Digits
{
    private const string FirstStart = " from start 1";

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
        foreach (var (start, from) in ((double[], string)[])[(set.Starts[1], ""), (set.Starts[0], FirstStart)])
        {
            var (parameters, errors) = Reached(set, () =>
            {
                var fit = NonlinearModels.Fit(name, set, start);
                return (fit.Parameters, fit.StandardErrors);
            });
            var (theirs, theirErrors) = Reached(set, () =>
            {
                var found = new LevenbergMarquardtMinimizer(maximumIterations: 100_000).FindMinimum(MathNetObjective(name, set), Vector<double>.Build.DenseOfArray(start));
                return (found.MinimizingPoint, found.StandardErrors);
            });
            yield return new(name, "parameters" + from, parameters, theirs, null);
            yield return new(name, "standard errors" + from, errors, theirErrors, null);
        }
    }

    /// <summary>The fewest digits of the parameters and of their standard errors; none where the fit is refused.</summary>
    private static (double Parameters, double StandardErrors) Reached(Sets.Regression set, Func<(IEnumerable<double> Parameters, IEnumerable<double> StandardErrors)> fit)
    {
        try
        {
            var (parameters, errors) = fit();
            return (Sets.Worst(parameters, set.Coefficients), Sets.Worst(errors, set.StandardErrors));
        }
        catch (Exception refused) when (refused is ArgumentException or ArithmeticException or MathNet.Numerics.NumericalBreakdownException or OptimizationException)
        {
            return (0, 0);
        }
    }

    /// <summary>The model with its exact derivatives as MathNet takes it; its predictors are the rows by number.</summary>
    private static IObjectiveModel MathNetObjective(string name, Sets.Regression set)
    {
        var model = NonlinearModels.Of(name, set.X);
        (double[] Values, double[,] Derivatives) At(Vector<double> parameters)
        {
            var (values, derivatives) = (new double[set.Y.Length], new double[set.Y.Length, parameters.Count]);
            model(parameters.ToArray(), values, derivatives);
            return (values, derivatives);
        }
        return ObjectiveFunction.NonlinearModel((parameters, _) => Vector<double>.Build.DenseOfArray(At(parameters).Values), (parameters, _) => Matrix<double>.Build.DenseOfArray(At(parameters).Derivatives),
            Vector<double>.Build.Dense(set.Y.Length, i => i), Vector<double>.Build.DenseOfArray(NonlinearModels.Response(name, set)));
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
        NonlinearTable(text, nonlinear);
        return text.ToString();
    }

    private static void NonlinearTable(StringBuilder text, Line[] lines)
    {
        text.Append("""
            ## Nonlinear regression

            All 27 sets, 11 digits certified, from both starts of each: the second lies near the minimum, the first far from it. 0.0 is a fit that is refused, that ends elsewhere, or that has no digit right.
            Lanczos1 has residuals of 9e-14 beside values near 1: the rounding of the model in double leaves three to four digits of its standard errors.
            MathNet’s `LevenbergMarquardtMinimizer` has the same exact derivatives, its own tolerances and up to 100 000 steps; its standard errors come from a pseudo-inverse that drops the directions of small singular values, which costs all digits
            where parameters differ much in size. scipy’s `curve_fit` has the tightest tolerances, and differences for derivatives.

            | set | quantity | Knownwater | MathNet | scipy | Knownwater, first start | MathNet, first start | scipy, first start |
            | --- | --- | --- | --- | --- | --- | --- | --- |

            """);
        var far = lines.Where(l => l.Quantity.EndsWith(FirstStart, StringComparison.Ordinal)).ToDictionary(l => (l.Set, l.Quantity));
        foreach (var line in lines.Where(l => far.ContainsKey((l.Set, l.Quantity + FirstStart))))
        {
            var first = far[(line.Set, line.Quantity + FirstStart)];
            text.Append(CultureInfo.InvariantCulture, $"| {line.Set} | {line.Quantity} | {Shown(line.Ours)} | {Shown(line.MathNet)} | {line.Numpy ?? "–"} | {Shown(first.Ours)} | {Shown(first.MathNet)} | {first.Numpy ?? "–"} |\n");
        }
        text.Append('\n');
    }

    private static string Shown(double? digits) => digits is { } d ? d.ToString("0.0", CultureInfo.InvariantCulture) : "–";

    private static void Table(StringBuilder text, string title, string peers, Line[] lines)
    {
        text.Append(CultureInfo.InvariantCulture, $"## {title}\n\n{peers}\n\n| set | quantity | Knownwater | MathNet | numpy |\n| --- | --- | --- | --- | --- |\n");
        foreach (var line in lines)
            text.Append(CultureInfo.InvariantCulture, $"| {line.Set} | {(line.Quantity == "f" ? "F" : line.Quantity)} | {Shown(line.Ours)} | {Shown(line.MathNet)} | {line.Numpy ?? "–"} |\n");
        text.Append('\n');
    }
}
