using CsCheck;
using Knownwater.Quantities;

namespace Knownwater.Tests.Quantities;

public class NumberWordsTests
{
    // JCGM 100:2008, 7.2.6: at most two significant digits for the uncertainty, the value to the same place.
    [Theory]
    [InlineData(8.7396, 0.168, "8.74", "0.17")]
    [InlineData(0.8396, 0.168, "0.84", "0.17")]
    [InlineData(100.02147, 0.00035, "100.021\u200947", "0.00035")]
    [InlineData(1234.6, 12.3, "1235", "12")]
    [InlineData(12346.6, 12.3, "12\u202F347", "12")]
    [InlineData(12346.6, 123, "12\u202F350", "120")]
    [InlineData(1234567, 1234, "1\u202F234\u202F600", "1200")]
    [InlineData(0.5, 0.0996, "0.50", "0.10")]
    [InlineData(9.96, 0.996, "10.0", "1.0")]
    [InlineData(5, 9.96, "5", "10")]
    [InlineData(-0.046, 0.0262, "\u22120.046", "0.026")]
    [InlineData(-0.0004, 0.1, "0.00", "0.10")]
    [InlineData(0, 0.02, "0.000", "0.020")]
    [InlineData(8.745, 0.1, "8.75", "0.10")]
    [InlineData(2, 0, "2", "0")]
    public void The_value_ends_where_its_doubt_ends(double value, double doubt, string expectedValue, string expectedDoubt) =>
        Assert.Equal((expectedValue.Replace("\u2009", "", StringComparison.Ordinal), expectedDoubt), NumberWords.WithDoubt(value, doubt, DecimalSign.Point));

    [Theory]
    [InlineData(0.84, 0.17, "+0.84")]
    [InlineData(-0.84, 0.17, "\u22120.84")]
    [InlineData(0.001, 0.17, "0.00")]
    [InlineData(-0.001, 0.17, "0.00")]
    public void A_distance_shows_its_sign_unless_it_rounds_to_zero(double value, double doubt, string expected) =>
        Assert.Equal(expected, NumberWords.Signed(value, doubt, DecimalSign.Point));

    [Fact]
    public void Percent_has_a_narrow_space_before_its_sign() => Assert.Equal("10,6\u202F%", NumberWords.Percent(10.62, 2.2, DecimalSign.Comma));

    [Theory]
    [InlineData(7.9, 6, "7,9")]
    [InlineData(7.90000001, 6, "7,9")]
    [InlineData(1234.5678, 6, "1234,57")]
    [InlineData(12345678, 3, "12\u202F300\u202F000")]
    [InlineData(0.000012345, 3, "0,0000123")]
    [InlineData(0, 3, "0")]
    [InlineData(99.96, 3, "100")]
    [InlineData(100, 6, "100")]
    public void Plain_numbers_lose_their_trailing_zeros_and_never_turn_scientific(double value, int digits, string expected) =>
        Assert.Equal(expected, NumberWords.Plain(value, digits, DecimalSign.Comma));

    [Fact]
    public void Minus_zero_is_written_as_zero() => Assert.Equal("0", NumberWords.Plain(double.NegativeZero, 3, DecimalSign.Point));

    [Theory]
    [InlineData(7.9, 2, "7.90")]
    [InlineData(-0.004, 2, "0.00")]
    [InlineData(1250, -2, "1300")]
    public void Fixed_numbers_keep_their_decimals(double value, int decimals, string expected) => Assert.Equal(expected, NumberWords.Fixed(value, decimals, DecimalSign.Point));

    [Theory]
    [InlineData(double.NaN, 1)]
    [InlineData(1, double.PositiveInfinity)]
    [InlineData(1, -0.1)]
    public void What_is_no_number_is_refused(double value, double doubt) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => NumberWords.Value(value, doubt, DecimalSign.Point));

    [Fact]
    public void What_is_shown_reads_back_within_half_a_unit_of_its_last_digit() =>
        Gen.Select(Gen.Double[-1e9, 1e9], Gen.Double[-8, 6], Gen.Bool).Sample((value, magnitude, comma) =>
        {
            var sign = comma ? DecimalSign.Comma : DecimalSign.Point;
            var doubt = Math.Pow(10, magnitude);
            var (shown, shownDoubt) = NumberWords.WithDoubt(value, doubt, sign);
            var back = NumberText.Read(shown, sign);
            var backDoubt = NumberText.Read(shownDoubt, sign);
            // Two significant digits of the doubt: the last digit of both is at most a tenth of it.
            return back.Ok && backDoubt.Ok && !shown.Contains('E', StringComparison.Ordinal)
                && Math.Abs(back.Value - value) <= (0.05 * backDoubt.Value) + 1e-6
                && Math.Abs(backDoubt.Value - doubt) <= 0.0501 * doubt;
        });
}
