using Knownwater.Statistics;
using Sets = Knownwater.Tests.Statistics.StatisticalReferenceDatasets;

namespace Knownwater.Tests.Statistics;

public class NonlinearTests
{
    // far starts that lead away from the minimum: the first step sends the exponent of BoxBOD where the model is flat; MGH10 creeps along its valley for more than 2000 steps
    private static readonly HashSet<string> FarStarts = ["BoxBOD", "MGH10"];

    public static TheoryData<string> Names => [.. NonlinearModels.Names];

    // NIST StRD: 11 digits are certified, so that 10.3 to 11 or more are all of them. The residuals of Lanczos2, 1e-6 of values near 1, carry the rounding of the model
    // in double at 1e-10 of their size, and so do its standard errors.
    [Theory]
    [MemberData(nameof(Names))]
    public void Parameters_and_their_standard_errors_have_the_certified_digits_from_either_start(string set)
    {
        var certified = Sets.ReadRegression(set);
        foreach (var start in certified.Starts.Skip(FarStarts.Contains(set) ? 1 : 0))
        {
            var fit = NonlinearModels.Fit(set, certified, start);
            Assert.InRange(Sets.Worst(fit.Parameters, certified.Coefficients), 10.2, 15);
            Assert.InRange(Sets.Worst(fit.StandardErrors, certified.StandardErrors), set == "Lanczos2" ? 10 : 10.2, 15);
            Assert.InRange(Sets.Digits(fit.ResidualStandardDeviation, certified.ResidualSd), 10.2, 15);
            Assert.Equal(certified.Y.Length - certified.Coefficients.Length, fit.Dof);
            Assert.Equal(fit.StandardErrors[0] * fit.StandardErrors[0], fit.Covariance(0, 0), 1e-12 * fit.Covariance(0, 0));
        }
    }

    [Fact]
    public void A_start_that_leads_to_no_minimum_is_refused()
    {
        foreach (var set in FarStarts)
        {
            var certified = Sets.ReadRegression(set);
            Assert.Contains("begin", Assert.Throws<ArgumentException>(() => NonlinearModels.Fit(set, certified, certified.Starts[0])).Message);
        }
    }

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
}
