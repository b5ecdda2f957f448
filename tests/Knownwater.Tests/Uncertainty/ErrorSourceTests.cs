using Knownwater.Uncertainty;

namespace Knownwater.Tests.Uncertainty;

public class ErrorSourceTests
{
    // half-widths to standard uncertainties: JCGM 100:2008, 4.3.7, 4.3.9, F.2.2.1; JCGM 101:2008, 6.4
    [Fact]
    public void Shapes_turn_half_widths_into_standard_uncertainties()
    {
        Assert.Equal(0.1 / Math.Sqrt(3), ErrorSource.Rectangular("r", 0.1).StandardUncertainty, 1e-16);
        Assert.Equal(0.1 / Math.Sqrt(6), ErrorSource.Triangular("t", 0.1).StandardUncertainty, 1e-16);
        Assert.Equal(0.1 / Math.Sqrt(6), ErrorSource.Trapezoidal("z", 0.1, 0).StandardUncertainty, 1e-16);
        Assert.Equal(0.1 / Math.Sqrt(3), ErrorSource.Trapezoidal("z", 0.1, 1).StandardUncertainty, 1e-16);
        Assert.Equal(0.1 / Math.Sqrt(2), ErrorSource.ArcSine("a", 0.1).StandardUncertainty, 1e-16);
        Assert.Equal(0.1 / Math.Sqrt(12), ErrorSource.ResolutionStep("q", 0.1).StandardUncertainty, 1e-16);
        Assert.Equal(2.5, ErrorSource.Expanded("c", 5, 2).StandardUncertainty);
        var mean = ErrorSource.MeanOfReadings("m", 0.3, 9, "mg/L");
        Assert.Equal((0.1, 8.0, SourceShape.ScaledT, "mg/L"), (Math.Round(mean.StandardUncertainty, 15), mean.Dof, mean.Shape, mean.Unit));
        Assert.Equal(20, ErrorSource.MeanOfReadings("m", 0.3, 1, dof: 20).Dof);
        Assert.Equal("c: u = 2.5 mg/L", ErrorSource.Expanded("c", 5, 2, "mg/L").ToString());
    }

    [Fact]
    public void Every_new_source_has_an_identity_of_its_own()
    {
        Assert.NotEqual(ErrorSource.Normal("x", 1).Id, ErrorSource.Normal("x", 1).Id);
        var id = Guid.NewGuid();
        Assert.Equal(id, ErrorSource.Triangular("x", 1, id: id).Id);
    }

    public static TheoryData<string, string, Action> Refused => new()
    {
        { "id", "empty", () => _ = new ErrorSource(Guid.Empty, "x", 1) },
        { "family", "empty", () => _ = new ErrorSource(Guid.NewGuid(), "x", 1, family: Guid.Empty) },
        { "name", "", () => ErrorSource.Normal(" ", 1) },
        { "unit", "", () => ErrorSource.Normal("x", 1, null!) },
        { "standardUncertainty", "above zero", () => ErrorSource.Normal("x", 0) },
        { "standardUncertainty", "above zero", () => ErrorSource.Normal("x", double.PositiveInfinity) },
        { "dof", "above zero", () => ErrorSource.Normal("x", 1, dof: 0) },
        { "dof", "above zero", () => ErrorSource.Normal("x", 1, dof: double.NaN) },
        { "shape", "no shape", () => _ = new ErrorSource(Guid.NewGuid(), "x", 1, shape: (SourceShape)99) },
        { "topToBase", "trapezium", () => _ = new ErrorSource(Guid.NewGuid(), "x", 1, shape: SourceShape.Trapezoidal) },
        { "topToBase", "trapezium", () => _ = new ErrorSource(Guid.NewGuid(), "x", 1, topToBase: 0.5) },
        { "topToBase", "between 0 and 1", () => ErrorSource.Trapezoidal("x", 1, 1.5) },
        { "topToBase", "between 0 and 1", () => ErrorSource.Trapezoidal("x", 1, double.NaN) },
        { "topToBase", "between 0 and 1", () => _ = new ErrorSource(Guid.NewGuid(), "x", 1, shape: SourceShape.Censored, topToBase: -0.1) },
        { "topToBase", "censored", () => _ = new ErrorSource(Guid.NewGuid(), "x", 1, shape: SourceShape.Censored) },
        { "limit", "above zero", () => ErrorSource.Censored("x", double.NaN) },
        { "relativeUncertainty", "above zero", () => ErrorSource.DofOfReliability(double.NaN) },
        { "halfWidth", "above zero", () => ErrorSource.Rectangular("x", -1) },
        { "coverageFactor", "above zero", () => ErrorSource.Expanded("x", 1, 0) },
        { "expandedUncertainty", "above zero", () => ErrorSource.Expanded("x", double.NaN, 2) },
        { "step", "above zero", () => ErrorSource.ResolutionStep("x", 0) },
        { "n", "at least 2", () => ErrorSource.MeanOfReadings("x", 1, 1) },
    };

    [Theory(DisableDiscoveryEnumeration = true)]
    [MemberData(nameof(Refused))]
    public void A_source_that_cannot_be_is_refused(string argument, string word, Action act)
    {
        var error = Assert.ThrowsAny<ArgumentException>(act);
        Assert.Equal(argument, error.ParamName);
        Assert.Contains(word, error.Message);
    }
}
