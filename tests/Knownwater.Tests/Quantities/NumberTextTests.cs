using CsCheck;
using Knownwater.Quantities;

namespace Knownwater.Tests.Quantities;

public class NumberTextTests
{
    [Theory]
    [InlineData("7.9", 7.9, 1)]
    [InlineData("7,9", 7.9, 1)]
    [InlineData("7,90", 7.9, 2)]
    [InlineData("  8 ", 8, 0)]
    [InlineData("0.450", 0.45, 3)]
    [InlineData("0,450", 0.45, 3)]
    [InlineData(",5", 0.5, 1)]
    [InlineData(".125", 0.125, 3)]
    [InlineData("+0.5", 0.5, 1)]
    [InlineData("-0.5", -0.5, 1)]
    [InlineData("\u22120.5", -0.5, 1)]
    [InlineData("- 3", -3, 0)]
    [InlineData("1234,567", 1234.567, 3)]
    [InlineData("1,234.5", 1234.5, 1)]
    [InlineData("1.234,5", 1234.5, 1)]
    [InlineData("1,234,567", 1234567, 0)]
    [InlineData("1.234.567,8", 1234567.8, 1)]
    [InlineData("1 234", 1234, 0)]
    [InlineData("1\u202F234,5", 1234.5, 1)]
    [InlineData("12\u00A0345.678", 12345.678, 3)]
    [InlineData("1'234.50", 1234.5, 2)]
    [InlineData("1’234", 1234, 0)]
    [InlineData("1e-3", 0.001, 3)]
    [InlineData("1,5E+2", 150, 0)]
    [InlineData("1.25e1", 12.5, 1)]
    [InlineData("1,234e-3", 0.001234, 6)]
    [InlineData("0", 0, 0)]
    [InlineData("-0", 0, 0)]
    [InlineData("٧٫٩", 7.9, 1)]
    [InlineData("0.123\u202F45", 0.12345, 5)]
    public void Numbers_are_read_with_comma_or_point(string typed, double value, int decimals)
    {
        foreach (var sign in (DecimalSign?[])[null, DecimalSign.Point, DecimalSign.Comma])
        {
            var reading = NumberText.Read(typed, sign);
            Assert.Null(reading.Error);
            Assert.True(reading.Ok);
            Assert.Equal(value, reading.Value);
            Assert.Equal(decimals, reading.Decimals);
            Assert.Equal(Censoring.None, reading.Censoring);
            Assert.Equal(typed, reading.Typed);
            Assert.Empty(reading.Offers);
        }
    }

    [Fact]
    public void A_zero_typed_with_minus_carries_no_sign() => Assert.False(double.IsNegative(NumberText.Read("-0.0").Value));

    [Theory]
    [InlineData("<0.02", 0.02, Censoring.Below)]
    [InlineData("< 0,02", 0.02, Censoring.Below)]
    [InlineData("<=5", 5, Censoring.Below)]
    [InlineData("≤5", 5, Censoring.Below)]
    [InlineData(">50", 50, Censoring.Above)]
    [InlineData("≥ 1 000", 1000, Censoring.Above)]
    public void Limits_are_read_as_limits(string typed, double value, Censoring censoring)
    {
        var reading = NumberText.Read(typed);
        Assert.True(reading.Ok, reading.Error);
        Assert.Equal((value, censoring), (reading.Value, reading.Censoring));
    }

    [Fact]
    public void An_ambiguous_number_is_refused_with_both_readings()
    {
        var reading = NumberText.Read("1,234");
        Assert.False(reading.Ok);
        Assert.Equal("\"1,234\" can mean 1.234 or 1234. Which one?", reading.Error);
        Assert.Equal([new NumberCandidate("1.234", 1.234), new NumberCandidate("1234", 1234)], reading.Offers);
    }

    [Theory]
    [InlineData("1,234", DecimalSign.Comma)]
    [InlineData("1.234", DecimalSign.Point)]
    public void The_owners_own_sign_is_the_decimal_sign(string typed, DecimalSign sign) =>
        Assert.Equal(1.234, NumberText.Read(typed, sign).Value);

    [Theory]
    [InlineData("1.234", DecimalSign.Comma, "1,234", "1234")]
    [InlineData("-12,345", DecimalSign.Point, "-12.345", "-12345")]
    public void The_other_sign_before_three_digits_stays_ambiguous(string typed, DecimalSign sign, string first, string second)
    {
        var reading = NumberText.Read(typed, sign);
        Assert.False(reading.Ok);
        Assert.Equal([first, second], reading.Offers.Select(offer => offer.Text), StringComparer.Ordinal);
        Assert.All(reading.Offers, offer => Assert.Equal(offer.Value, NumberText.Read(offer.Text, sign).Value));
    }

    [Theory]
    [InlineData("7,9o", "\"7,9o\" ends in the letter o, so it is not a number yet. Did you mean 7,90?", 7.9)]
    [InlineData("l2.5", "\"l2.5\" begins with the letter l, so it is not a number yet. Did you mean 12.5?", 12.5)]
    [InlineData("1O.5", "\"1O.5\" holds the letter O, so it is not a number yet. Did you mean 10.5?", 10.5)]
    [InlineData("½", "\"½\" holds the sign ½. Type it with decimals. Did you mean 0.5?", 0.5)]
    [InlineData("2½", "\"2½\" holds the sign ½. Type it with decimals. Did you mean 2.5?", 2.5)]
    [InlineData("1/4", "\"1/4\" is a fraction. Type it with decimals. Did you mean 0.25?", 0.25)]
    [InlineData("8.0 dKH", "\"8.0 dKH\" carries a unit, dKH, and this field wants the number alone, in the unit beside it. Did you mean 8.0?", 8)]
    [InlineData("5,2mg/L NO3-N", "\"5,2mg/L NO3-N\" carries a unit, mg/L NO3-N, and this field wants the number alone, in the unit beside it. Did you mean 5,2?", 5.2)]
    [InlineData("12 %", "\"12 %\" carries a unit, %, and this field wants the number alone, in the unit beside it. Did you mean 12?", 12)]
    [InlineData("25 °C", "\"25 °C\" carries a unit, °C, and this field wants the number alone, in the unit beside it. Did you mean 25?", 25)]
    [InlineData("7,", "\"7,\" ends in a comma, so a digit may be missing. Did you mean 7?", 7)]
    public void A_slip_is_named_and_the_likely_meaning_offered(string typed, string sentence, double meant)
    {
        var reading = NumberText.Read(typed);
        Assert.False(reading.Ok);
        Assert.Equal(sentence, reading.Error);
        Assert.Equal(meant, reading.Offers[0].Value);
    }

    [Theory]
    [InlineData(null, "Nothing is typed here yet. Type a number, such as 7.90.")]
    [InlineData("   ", "Nothing is typed here yet. Type a number, such as 7.90.")]
    [InlineData("NaN", "\"NaN\" is not a number. Type one such as 7.90, or leave the reading out.")]
    [InlineData("-", "\"-\" is not a number. Type one such as 7.90, or leave the reading out.")]
    [InlineData("infinity", "\"infinity\" is not a number that can be measured. Type one such as 7.90; where the display shows only a limit, type it as in >50.")]
    [InlineData("-∞", "\"-∞\" is not a number that can be measured. Type one such as 7.90; where the display shows only a limit, type it as in >50.")]
    [InlineData("1e999", "\"1e999\" is larger than any number that can be kept. Check its exponent.")]
    [InlineData("1e-999", "\"1e-999\" is too close to zero to be kept. Check its exponent, or type 0.")]
    [InlineData("<", "\"<\" has no number behind its sign. Type the limit too, such as <7.90.")]
    [InlineData("about eight", "\"about eight\" is not a number. Type digits with one decimal sign, such as 7.90.")]
    [InlineData("1.2.3", "\"1.2.3\" has commas or points where a number has none. Type digits with one decimal sign, such as 7.90.")]
    [InlineData("1,2.3", "\"1,2.3\" has commas or points where a number has none. Type digits with one decimal sign, such as 7.90.")]
    [InlineData("0,123,456", "\"0,123,456\" has commas or points where a number has none. Type digits with one decimal sign, such as 7.90.")]
    [InlineData("5-6", "\"5-6\" looks like a range or a date, not like one number. Type one such as 7.90.")]
    [InlineData("2026-03-01", "\"2026-03-01\" looks like a range or a date, not like one number. Type one such as 7.90.")]
    [InlineData("12:30", "\"12:30\" looks like a range or a date, not like one number. Type one such as 7.90.")]
    [InlineData("10^3", "\"10^3\" is not a number. Type digits with one decimal sign, such as 7.90.")]
    [InlineData("10³", "\"10³\" is not a number. Type digits with one decimal sign, such as 7.90.")]
    [InlineData("5;6", "\"5;6\" is not a number. Type digits with one decimal sign, such as 7.90.")]
    [InlineData("1.2e", "\"1.2e\" ends before its exponent is written. Did you mean 1.2?")]
    [InlineData("7.9 7.9", "\"7.9 7.9\" holds a space where none can be: one number, and groups of three digits.")]
    [InlineData("0x1F", "\"0x1F\" is not a number. Type digits with one decimal sign, such as 7.90.")]
    public void What_is_not_a_number_is_refused_with_a_sentence(string? typed, string sentence)
    {
        var reading = NumberText.Read(typed);
        Assert.False(reading.Ok);
        Assert.Equal(sentence, reading.Error);
    }

    [Fact]
    public void A_space_in_the_wrong_place_offers_both_meanings()
    {
        var reading = NumberText.Read("1 23", DecimalSign.Comma);
        Assert.False(reading.Ok);
        Assert.Equal([new NumberCandidate("1,23", 1.23), new NumberCandidate("123", 123)], reading.Offers);
    }

    [Fact]
    public void Examples_follow_the_owners_sign() =>
        Assert.EndsWith("such as 7,90.", NumberText.Read("", DecimalSign.Comma).Error, StringComparison.Ordinal);

    [Fact]
    public void Whatever_is_typed_never_throws_and_always_answers() =>
        Gen.String[Gen.Char["0123456789.,' eE+-−<>oOlI½%/µ\u202F∞NaNdKHmg\0\t\uD800"], 0, 70].Sample(typed =>
        {
            foreach (var sign in (DecimalSign?[])[null, DecimalSign.Point, DecimalSign.Comma])
            {
                var reading = NumberText.Read(typed, sign);
                if (reading.Ok != double.IsFinite(reading.Value) && reading.Ok)
                    return false;
                if (!reading.Ok && (reading.Error!.Length < 10 || reading.Error[^1] is not ('.' or '?')))
                    return false;
            }
            return true;
        });

    [Fact]
    public void A_number_written_in_full_comes_back_exactly() =>
        Gen.Double.Where(double.IsFinite).Sample(number =>
        {
            // Seventeen digits may have an exponent; then no reading is ambiguous. Otherwise the owner's sign settles it.
            var text = number.ToString("R", System.Globalization.CultureInfo.InvariantCulture);
            return NumberText.Read(text, DecimalSign.Point) is { Ok: true } point && point.Value == number
                && NumberText.Read(text.Replace('.', ','), DecimalSign.Comma) is { Ok: true } comma && comma.Value == number;
        });
}
