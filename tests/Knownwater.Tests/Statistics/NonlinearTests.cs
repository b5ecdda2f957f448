using System.Globalization;
using System.Text.RegularExpressions;
using Knownwater.Statistics;
using Sets = Knownwater.Tests.Statistics.StatisticalReferenceDatasets;

namespace Knownwater.Tests.Statistics;

public partial class NonlinearTests
{
    public static TheoryData<string> Names => [.. NonlinearModels.Names];

    // NIST StRD: 11 digits are certified, so that 10.3 to 11 or more are all of them. The residuals of Lanczos2, 1e-6 of values near 1, carry the rounding of the model
    // in double at 1e-10 of their size, and so do its standard errors. Those of Lanczos1, 9e-14, carry it at 1e-3: three digits of the residual standard deviation and the standard errors can be had.
    [Theory]
    [MemberData(nameof(Names))]
    public void Parameters_and_their_standard_errors_have_the_certified_digits_from_either_start(string set)
    {
        var certified = Sets.ReadRegression(set);
        Assert.Equal(2, certified.Starts.Length);
        foreach (var start in certified.Starts)
        {
            var fit = NonlinearModels.Fit(set, certified, start);
            Assert.InRange(Sets.Worst(fit.Parameters, certified.Coefficients), 10.2, 15);
            Assert.InRange(Sets.Worst(fit.StandardErrors, certified.StandardErrors), set switch { "Lanczos1" => 3, "Lanczos2" => 10, _ => 10.2 }, 15);
            Assert.InRange(Sets.Digits(fit.ResidualStandardDeviation, certified.ResidualSd), set == "Lanczos1" ? 3 : 10.2, 15);
            Assert.Equal(certified.Y.Length - certified.Coefficients.Length, fit.Dof);
            Assert.Equal(fit.StandardErrors[0] * fit.StandardErrors[0], fit.Covariance(0, 0), 1e-12 * fit.Covariance(0, 0));
        }
    }

    // where the head of a file was kept whole it says how many values follow
    [Fact]
    public void The_files_hold_as_many_values_as_they_say()
    {
        var stated = NonlinearModels.Names.Select(name => (Name: name, Text: ValuesStated().Match(File.ReadAllText(Path.Combine(Sets.Folder, name + ".dat"))))).Where(s => s.Text.Success).ToArray();
        Assert.Equal(15, stated.Length);
        Assert.All(stated, s => Assert.Equal(int.Parse(s.Text.Groups["n"].Value, CultureInfo.InvariantCulture), Sets.ReadRegression(s.Name).Y.Length));
    }

    // three exponentials at their rounding: the last steps are as long as the rounding of the values makes them, and end at the parameters that made the values
    [Fact]
    public void Values_on_the_curve_to_their_rounding_are_fitted()
    {
        var certified = Sets.ReadRegression("Lanczos1");
        double[] made = [0.0951, 1, 0.8607, 3, 1.5576, 5];
        var values = new double[certified.Y.Length];
        NonlinearModels.Of("Lanczos1", certified.X)(made, values, new double[values.Length, made.Length]);
        foreach (var start in certified.Starts)
        {
            var fit = NonlinearLeastSquares.Fit(values, start, NonlinearModels.Of("Lanczos1", certified.X), TestContext.Current.CancellationToken);
            Assert.Equal(made, fit.Parameters, (a, b) => Math.Abs(a - b) < 1e-11 * a);
            Assert.InRange(fit.ResidualStandardDeviation, 0, 1e-15);
        }
    }

    // a curve that stays above zero never meets values below it, and goes on nearing zero
    [Fact]
    public void A_model_that_has_no_minimum_is_refused() =>
        Assert.Contains("begin", Assert.Throws<ArgumentException>(() => Fit([-1, -2, -1.5], [0.0], (b, values, derivatives) =>
        {
            for (var i = 0; i < values.Length; i++)
                (values[i], derivatives[i, 0]) = (Math.Exp(-b[0]), -Math.Exp(-b[0]));
        })).Message);

    // a linear model needs no iteration: the fit is the linear one
    [Fact]
    public void A_linear_model_gives_the_linear_fit()
    {
        double[] x = [0, 2, 4, 6, 8, 10, 12], y = [2.1, 5.0, 9.0, 12.6, 17.3, 21.0, 24.7];
        var line = PolynomialFit.Line(x, y).Fit;
        var fit = Fit(y, [0.0, 0.0], Line(x));
        Assert.Equal(line.Coefficients, fit.Parameters, (a, b) => Math.Abs(a - b) < 1e-14);
        Assert.Equal(line.StandardErrors, fit.StandardErrors, (a, b) => Math.Abs(a - b) < 1e-14);
        Assert.Equal(line.ResidualSumOfSquares, fit.ResidualSumOfSquares, 1e-13);
        // values exactly on the line leave nothing over
        var exact = Fit([.. x.Select(v => 1 + 2 * v)], [5.0, 5.0], Line(x));
        Assert.Equal([1.0, 2.0], exact.Parameters, (a, b) => Math.Abs(a - b) < 1e-14);
        Assert.InRange(exact.ResidualStandardDeviation, 0, 1e-14);
    }

    [Fact]
    public void What_cannot_be_fitted_is_refused_with_its_limit()
    {
        double[] x = [1, 2, 3], y = [1, 2, 4];
        static string Refused(Action act)
        {
            var error = Assert.ThrowsAny<ArgumentException>(act);
            Assert.False(string.IsNullOrEmpty(error.ParamName));
            return error.Message;
        }
        Assert.Contains("at least 3", Refused(() => Fit([1, 2], [0, 0], Line(x))));
        Assert.Contains("at least 1", Refused(() => Fit(y, [], Line(x))));
        Assert.Contains("Value 2", Refused(() => Fit([1, double.NaN, 2], [0, 0], Line(x))));
        Assert.Contains("not finite", Refused(() => Fit(y, [0.0], (_, values, _) => values[0] = double.NaN)));
        Assert.Contains("Parameter 2", Refused(() => Fit(y, [0.0, 0], (b, values, derivatives) =>
        {
            for (var i = 0; i < 3; i++)
                (values[i], derivatives[i, 0], derivatives[i, 1]) = (b[0] * x[i], x[i], 0);
        })));
        using var stopped = new CancellationTokenSource();
        stopped.Cancel();
        Assert.Throws<OperationCanceledException>(() => NonlinearLeastSquares.Fit(y, [0.0, 0], Line(x), stopped.Token));
    }

    private static NonlinearFit Fit(double[] y, double[] start, NonlinearModel model) => NonlinearLeastSquares.Fit(y, start, model, TestContext.Current.CancellationToken);

    private static NonlinearModel Line(double[] x) => (b, values, derivatives) =>
    {
        for (var i = 0; i < values.Length; i++)
            (values[i], derivatives[i, 0], derivatives[i, 1]) = (b[0] + b[1] * x[i], 1, x[i]);
    };

    [GeneratedRegex(@"^Number of Observations:\s+(?<n>\d+)\s*$", RegexOptions.ExplicitCapture | RegexOptions.Multiline, matchTimeoutMilliseconds: 1000)]
    private static partial Regex ValuesStated();
}
