using CsCheck;
using Knownwater.Statistics;

namespace Knownwater.Tests.Statistics;

public class TPlusNormalTests
{
    // Two Cauchy-like parts have no closed form with a normal one; an independent quadrature does: the convolution ∫ F_t((x − z)/a) φ(z/b)/b dz by the trapezium rule
    [Theory]
    [InlineData(1, 1, 1)]
    [InlineData(1, 1, 0.1)]
    [InlineData(0.3, 2, 1)]
    [InlineData(1, 4, 3)]
    [InlineData(2, 9, 0.5)]
    [InlineData(1, 2.5, 1)]
    [InlineData(1, 150, 0.7)]
    [InlineData(1, 1e5, 0.7)]
    public void The_distribution_agrees_with_the_convolution(double a, double dof, double b)
    {
        var sum = new TPlusNormal(a, dof, b);
        foreach (var x in new[] { -30, -4, -1.5, -0.2, 0, 0.4, 2, 5, 100 })
        {
            const int n = 4000;
            double convolution = 0, h = 20.0 / n;
            for (var i = -n / 2; i <= n / 2; i++)
                convolution += StudentT.Cdf((x - b * i * h) / a, dof) * Normal.Density(i * h) * h;
            Assert.Equal(convolution, sum.Cdf(x), 1e-12);
        }
    }

    [Fact]
    public void Quantile_and_distribution_are_inverse() => Check.Sample(
        Gen.Select(Gen.Double[0.01, 10], Gen.Double[0, 8], Gen.Double[0.01, 10], Gen.Double[1e-5, 1 - 1e-5]),
        (a, lnDof, b, p) =>
        {
            var sum = new TPlusNormal(a, Math.Exp(lnDof), b);
            Assert.Equal(p, sum.Cdf(sum.Quantile(p)), 1e-12);
            Assert.Equal(-sum.Quantile(p), sum.Quantile(1 - p), 1e-9 * Math.Abs(sum.Quantile(p)) + 1e-9);
        },
        iter: 200);

    [Fact]
    public void Without_a_normal_part_it_is_Student_t()
    {
        var sum = new TPlusNormal(2, 3, 0);
        Assert.Equal(StudentT.Cdf(0.7, 3), sum.Cdf(1.4), 1e-15);
        Assert.Equal(2 * StudentT.Quantile(0.9, 3), sum.Quantile(0.9), 1e-14);
        // and a vanishing one changes nothing
        Assert.Equal(sum.Cdf(1.4), new TPlusNormal(2, 3, 1e-9).Cdf(1.4), 1e-12);
    }

    [Fact]
    public void Without_a_t_part_or_with_infinite_degrees_of_freedom_it_is_normal()
    {
        Assert.Equal(Normal.Cdf(0.7), new TPlusNormal(0, 3, 2).Cdf(1.4), 1e-15);
        Assert.Equal(Normal.Cdf(0.7), new TPlusNormal(0, double.NaN, 2).Cdf(1.4), 1e-15);
        Assert.Equal(Normal.Cdf(1), new TPlusNormal(3, double.PositiveInfinity, 4).Cdf(5), 1e-15);
        Assert.Equal(5 * Normal.Quantile(0.2), new TPlusNormal(3, double.PositiveInfinity, 4).Quantile(0.2), 1e-14);
        Assert.Equal(Normal.Cdf(1), new TPlusNormal(3, 1e9, 4).Cdf(5), 1e-8);
    }

    [Fact]
    public void With_nothing_varying_it_is_exactly_zero()
    {
        var nothing = new TPlusNormal(0, 3, 0);
        Assert.Equal((0, 1, 1), (nothing.Cdf(-1e-300), nothing.Cdf(0), nothing.Cdf(1)));
        Assert.Equal(0, nothing.Quantile(0.99));
        Assert.Equal(1, nothing.Between(0, 1));
        Assert.Equal(1, nothing.Between(-1, 0));
        Assert.Equal(0, nothing.Between(0.1, 1));
    }

    [Fact]
    public void Between_is_the_difference_and_keeps_the_tail()
    {
        var sum = new TPlusNormal(1, 6, 0.5);
        Assert.Equal(sum.Cdf(2) - sum.Cdf(-1), sum.Between(-1, 2), 1e-15);
        Assert.Equal(sum.Cdf(-20), sum.Between(20, double.PositiveInfinity), 1e-20);
        Assert.Equal(1, sum.Between(double.NegativeInfinity, double.PositiveInfinity));
        Assert.Throws<ArgumentOutOfRangeException>(() => sum.Between(1, 0));
    }
}
