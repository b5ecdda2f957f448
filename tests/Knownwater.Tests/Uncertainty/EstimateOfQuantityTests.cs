using System.Reflection;
using System.Text.Json;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Uncertainty;

public class EstimateOfQuantityTests
{
    private static Estimate<Volume> Ml(double value, double u) => Estimate<Volume>.From(Volume.FromMillilitres(value), Volume.FromMillilitres(u), "volume");

    private static Estimate<Mass> G(double value, double u) => Estimate<Mass>.From(Mass.FromGrams(value), Mass.FromGrams(u), "mass");

    // 1.6307 g of potassium nitrate's nitrate in 1000 mL: by hand 1630.7 mg/L, u = 1630.7·√((0.0002/1.6307)² + (0.4/1000)²)
    [Fact]
    public void A_mass_in_a_volume_is_a_mass_concentration()
    {
        Estimate<MassConcentration> c = G(1.6307, 0.0002) / Ml(1000, 0.4);
        Assert.Equal(1630.7, c.Value.MilligramsPerLitre, 1e-10);
        Assert.Equal(1630.7 * Math.Sqrt(Math.Pow(0.0002 / 1.6307, 2) + 0.0004 * 0.0004), c.StandardUncertainty.MilligramsPerLitre, 1e-12);
    }

    [Fact]
    public void The_mass_comes_back_from_concentration_and_volume_without_uncertainty()
    {
        var (m, v) = (G(1.6307, 0.0002), Ml(1000, 0.4));
        var rest = m / v * v - m;
        Assert.Equal(0, rest.Value.Grams, 1e-15);
        Assert.Equal(0, rest.StandardUncertainty.Grams, 1e-18);
    }

    [Fact]
    public void Density_joins_mass_and_volume_and_both_kinds_of_content()
    {
        var density = Estimate<Density>.From(Density.FromKilogramsPerCubicMetre(1023.343), Density.FromKilogramsPerCubicMetre(0.02), "density");
        Assert.Equal(1.023343, density.Value.GramsPerMillilitre, 1e-15);
        Assert.Equal(102.3343, (density * Ml(100, 0.1)).Value.Grams, 1e-12);
        Assert.Equal(100, (G(102.3343, 0.001) / density).Value.Millilitres, 1e-11);
        Estimate<MassContent> w = MassContent.FromMilligramsPerKilogram(400);
        Assert.Equal(409.3372, (w * density).Value.MilligramsPerLitre, 1e-10);
        Assert.Equal(400, (w * density / density).Value.MilligramsPerKilogram, 1e-11);
        Assert.Equal(0, (w * density / density).StandardUncertainty.MilligramsPerKilogram, 1e-14);
        Estimate<AmountContent> b = AmountContent.FromMillimolesPerKilogram(10);
        Assert.Equal(10.23343, (b * density).Value.MillimolesPerLitre, 1e-12);
        Assert.Equal(10, (b * density / density).Value.MillimolesPerKilogram, 1e-12);
        Assert.Equal(0.0004, (G(1, 0.001) * w).Value.Grams, 1e-16);
    }

    [Fact]
    public void Kinds_add_scale_and_divide_to_a_number()
    {
        var (a, b) = (Ml(10, 0.02), Ml(90, 0.1));
        Assert.Equal(100, (a + b).Value.Millilitres);
        Assert.Equal(80, (b - a).Value.Millilitres);
        Assert.Equal(-10, (-a).Value.Millilitres);
        Assert.Equal(20, (a * 2.0).Value.Millilitres);
        Assert.Equal(20, (2.0 * a).Value.Millilitres);
        Assert.Equal(5, (a / 2.0).Value.Millilitres);
        Estimate ratio = a / (a + b);
        Assert.Equal(0.1, ratio.Value, 1e-15);
        Assert.Equal(Estimate.Exact(1), a / a);
        Assert.Equal(default, a - a);
        Assert.True(Estimate<Volume>.Exact(Volume.Zero) == default);
        Assert.Equal("(10 ± 0.02) mL (k = 1)", a.ToString());
        Assert.Equal("10 mL", ((Estimate<Volume>)Volume.FromMillilitres(10)).ToString());
    }

    [Fact]
    public void A_source_in_another_unit_is_refused()
    {
        var source = ErrorSource.Rectangular("flask", 0.1, "mL");
        Assert.Equal(0.1 / Math.Sqrt(3), Estimate<Volume>.From(Volume.FromMillilitres(100), source).StandardUncertainty.Millilitres, 1e-16);
        Assert.Contains("state u in g", Assert.Throws<ArgumentException>("source", () => Estimate<Mass>.From(Mass.FromGrams(1), source)).Message);
    }

    [Fact]
    public void Units_convert()
    {
        Assert.Equal(250, Volume.FromMicrolitres(250).Microlitres, 1e-12);
        Assert.Equal(0.25, Volume.FromMicrolitres(250).Millilitres);
        Assert.Equal(1500, Volume.FromLitres(1.5).Millilitres);
        Assert.Equal(1.5, Volume.FromLitres(1.5).Litres);
        Assert.Equal(0.0125, Mass.FromMilligrams(12.5).Grams);
        Assert.Equal(2000, Mass.FromKilograms(2).Grams);
        Assert.Equal(0.05, MassConcentration.FromMicrogramsPerLitre(50).MilligramsPerLitre);
        Assert.Equal(1020, Density.FromGramsPerMillilitre(1.02).KilogramsPerCubicMetre, 1e-12);
        Assert.Equal(2.3, AmountContent.FromMicromolesPerKilogram(2300).MillimolesPerKilogram);
    }

    // ---- the family: every quantity alike ----

    public static TheoryData<Type> Kinds =>
        [.. typeof(IQuantity<>).Assembly.GetTypes().Where(t => t.IsValueType && t.GetInterfaces().Any(i => i.IsGenericType && i.GetGenericTypeDefinition() == typeof(IQuantity<>)))];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_kind_has_operators_text_zero_and_a_way_through_JSON(Type kind) =>
        typeof(EstimateOfQuantityTests).GetMethod(nameof(Family), BindingFlags.NonPublic | BindingFlags.Static)!.MakeGenericMethod(kind).Invoke(null, null);

    private static void Family<Q>() where Q : struct, IQuantity<Q>, IComparable<Q>, IComparable
    {
        Q a = Q.FromBaseUnit(2.5), b = Q.FromBaseUnit(4);
        Assert.Equal($"2.5 {Q.BaseUnit}", a.ToString());
        Assert.Equal(default, (Q)typeof(Q).GetProperty("Zero")!.GetValue(null)!);
        Assert.Equal(a, Q.FromBaseUnit(a.InBaseUnit));
        Assert.True(a.CompareTo(b) < 0 && a.CompareTo((object)b) < 0 && a.CompareTo(null) > 0);
        Assert.Throws<ArgumentException>(() => a.CompareTo("a"));
        foreach (var bad in new[] { double.NaN, double.PositiveInfinity })
            Assert.Throws<ArgumentOutOfRangeException>(() => Q.FromBaseUnit(bad));

        object Call(string name, params object[] x) => typeof(Q).GetMethod(name, [.. x.Select(o => o.GetType())])!.Invoke(null, x)!;
        Assert.Equal(Q.FromBaseUnit(6.5), Call("op_Addition", a, b));
        Assert.Equal(Q.FromBaseUnit(-1.5), Call("op_Subtraction", a, b));
        Assert.Equal(Q.FromBaseUnit(-2.5), Call("op_UnaryNegation", a));
        Assert.Equal(Q.FromBaseUnit(5), Call("op_Multiply", a, 2.0));
        Assert.Equal(Q.FromBaseUnit(5), Call("op_Multiply", 2.0, a));
        Assert.Equal(Q.FromBaseUnit(1.25), Call("op_Division", a, 2.0));
        Assert.Equal(1.6, Call("op_Division", b, a));
        Assert.IsAssignableFrom<ArgumentOutOfRangeException>(Assert.Throws<TargetInvocationException>(() => Call("op_Division", b, default(Q))).InnerException);
        Assert.Equal((true, false, true, false), ((bool)Call("op_LessThan", a, b), (bool)Call("op_GreaterThan", a, b), (bool)Call("op_LessThanOrEqual", a, b), (bool)Call("op_GreaterThanOrEqual", a, b)));

        var json = JsonSerializer.Serialize(a);
        Assert.Equal(a, JsonSerializer.Deserialize<Q>(json));
        Assert.Equal(1, json.Count(c => c == ':'));
        // and every named unit goes there and back
        foreach (var from in typeof(Q).GetMethods(BindingFlags.Public | BindingFlags.Static).Where(m => m.Name.StartsWith("From", StringComparison.Ordinal)))
            Assert.Equal(7.25, (double)typeof(Q).GetProperty(from.Name[4..])!.GetValue(from.Invoke(null, [7.25]))!, 1e-14);
    }
}
