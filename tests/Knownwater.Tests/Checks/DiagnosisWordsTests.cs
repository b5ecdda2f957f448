using Knownwater.Checks;
using Knownwater.Quantities;

namespace Knownwater.Tests.Checks;

public class DiagnosisWordsTests
{
    private static readonly ReportingForm Form = ReportingForm.Parse("mg/L NO3");

    private static Cause Of(params Fault[] faults) => new() { Faults = [.. faults.Select(f => new FaultShare(f, 0.5 / faults.Length))], Probability = 0.5, Reasons = [], ConfirmedBy = TestKind.Repeat };

    [Fact]
    public void A_class_names_its_faults_the_more_probable_first() =>
        Assert.Equal("The stock is off, or this lot of reagent has another strength.", DiagnosisWords.Say(Of(Fault.StockOff, Fault.LotStrength)));

    [Fact]
    public void A_slip_says_what_was_taken_for_what_and_how_many_times_that_is()
    {
        var cause = Of(Fault.WrongForm) with { Slip = new Slip(Fault.WrongForm, 1 / 4.426644, "mg/L NO₃", "mg/L NO₃-N") };
        Assert.Equal("The number is in another form: mg/L NO₃-N for mg/L NO₃.", DiagnosisWords.Say(cause));
        Assert.Equal("It would make them 0,226 times the known value.", DiagnosisWords.Size(cause, Form, DecimalSign.Comma));
    }

    [Fact]
    public void A_size_says_its_side()
    {
        Assert.Equal("It would make the readings about 8.1\u202F% low.", DiagnosisWords.Size(Of(Fault.StockOff) with { RelativeSize = -0.081 }, Form, DecimalSign.Point));
        Assert.Equal("It would make the readings about 0.6\u00A0mg/L high.", DiagnosisWords.Size(Of(Fault.DirtyWindow) with { Amount = 0.6 }, Form, DecimalSign.Point));
        Assert.Equal("", DiagnosisWords.Size(Of(Fault.Chance), Form, DecimalSign.Point));
    }

    [Fact]
    public void Reasons_carry_their_figures()
    {
        string Say(Reason reason, Fault fault) => DiagnosisWords.Say(reason, Of(fault), Form, DecimalSign.Point);
        Assert.Equal("The levels fit: −0.16\u00A0mg/L at 2, −0.81\u00A0mg/L at 10.", Say(new Reason(ReasonKind.Levels, true, 2, [2, -0.161, 10, -0.809]), Fault.StockOff));
        Assert.Equal("It fits that reading 2 of level 1 stands +1.5\u00A0mg/L from the mean of its level.", Say(new Reason(ReasonKind.Order, true, 2, [4, 0, 1, 1.5]), Fault.OneOddReading));
        Assert.Equal("The three earlier checks fit: one of them was made with this lot.", Say(new Reason(ReasonKind.Earlier, true, 2, [3, 1]), Fault.LotStrength));
        Assert.Equal("The earlier check does not fit: it was made with this stock.", Say(new Reason(ReasonKind.Earlier, false, 2, [1, 1]), Fault.StockOff));
        Assert.Equal("The two earlier checks fit with a fault of today alone.", Say(new Reason(ReasonKind.Earlier, true, 2, [2, 0]), Fault.CarryOver));
        Assert.Equal("The readings scatter 3.1 times the usual.", Say(new Reason(ReasonKind.Order, true, 2, [3.1, 0, 1, 0.4]), Fault.WorseScatter));
        Assert.Equal("The stock is past its date.", Say(new Reason(ReasonKind.PastUse, true, 1, []), Fault.StockOff));
    }

    [Fact]
    public void A_test_says_its_time_and_what_each_outcome_means()
    {
        var test = new DecidingTest
        {
            Kind = TestKind.NewLot,
            Minutes = 40,
            ExpectedBits = 0.4,
            IfFound = new TestOutcome(0.4, [new(Fault.LotStrength, 0.82)]),
            IfNot = new TestOutcome(0.6, [new(Fault.StockOff, 0.6), new(Fault.DeliveryOff, 0.004)]),
        };
        Assert.Equal(
            ["Read the same water with a new lot of reagent. It takes about 40\u00A0minutes.", "If the deviation is gone, most likely this lot of reagent has another strength (82\u202F%).", "If it stays, most likely the stock is off (60\u202F%); then pipette, flask or balance were off when the water was prepared (under 1\u202F%)."],
            DiagnosisWords.Say(test, DecimalSign.Point));
    }

    [Fact]
    public void Every_fault_and_every_test_has_words_of_its_own()
    {
        Assert.Equal(Enum.GetValues<Fault>().Length, Enum.GetValues<Fault>().Select(DiagnosisWords.Name).Distinct().Count());
        Assert.Equal(Enum.GetValues<TestKind>().Length, Enum.GetValues<TestKind>().Select(DiagnosisWords.Say).Distinct().Count());
    }
}
