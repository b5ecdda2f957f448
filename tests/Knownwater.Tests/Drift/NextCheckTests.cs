using Knownwater.Drift;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Drift;

public class NextCheckTests
{
    private static readonly Dictionary<string, double> Outside = CheckData.Rows("drift/drift.csv").ToDictionary(r => r.Text("name"), r => r["value"]);

    // case 5 of drift.R
    private static readonly double[] Six = [0.30, 0.05, 0.42, 0.28, 0.61, 0.47];
    private static readonly DriftPriors Known = new() { BetweenScale = 1e-9, BetweenDof = double.PositiveInfinity };

    [Theory]
    [InlineData(0)]
    [InlineData(14)]
    [InlineData(30)]
    [InlineData(60)]
    public void Probability_of_reading_wrong_is_that_of_plain_quadrature(int days)
    {
        var last = 14.0 * 5;
        Assert.Equal(Outside[$"wrong still {days}"], NextCheck.After(History(Six), priors: Known with { WalkScale = 1e-6 }).ProbabilityWrong(last + days), 1e-4);
        // the half-normal prior of the walk stands for itself in twelve values
        Assert.Equal(Outside[$"wrong walk {days}"], NextCheck.After(History(Six), priors: Known).ProbabilityWrong(last + days), 3e-3);
    }

    [Fact]
    public void Due_day_is_the_first_beyond_the_risk()
    {
        var next = NextCheck.After(History(Six), 0.05);
        Assert.Equal(NextCheckReason.MayHaveDrifted, next.Reason);
        Assert.True(next.Probability > 0.05);
        Assert.True(next.ProbabilityWrong(next.Day - 1) <= 0.05);
        Assert.True(next.PriorDriven);
    }

    [Fact]
    public void Steady_method_is_checked_after_sixty_days_at_the_latest()
    {
        var next = NextCheck.After(History([.. Enumerable.Range(0, 20).Select(i => i % 2 == 0 ? 0.02 : -0.02)], sd: 0.05), 0.3);
        Assert.Equal(NextCheckReason.LongestTime, next.Reason);
        Assert.Equal(14 * 19 + 60, next.Day);
        Assert.False(next.PriorDriven);
    }

    [Fact]
    public void New_lot_is_due_at_once()
    {
        var next = NextCheck.After(History(Six, events: [new DriftEvent(75, DriftEventKind.LotOpened, "lot 9")]));
        Assert.Equal(75, next.Day);
        Assert.Equal(NextCheckReason.EventSince, next.Reason);
        Assert.Equal("lot 9", next.Since!.Label);
    }

    // case 8 of drift.R
    [Fact]
    public void Lot_whose_step_was_measured_is_not_waited_for_and_carries_the_bias_over()
    {
        DriftHistory Of(string from) => new(
            new Tolerance(1, 0), History(Six).Checks.Select(c => c with { Lots = ["8"] }), [new DriftEvent(75, DriftEventKind.LotOpened, "lot 9") { Lots = ["9"] }], new TypicalSd(0.3, 0, "invented"),
            [new Changeover { Day = 75.3, From = [from], To = ["9"], Level = 10, Step = 0.4, FromReplicates = 4, ToReplicates = 4 }]);
        var next = NextCheck.After(Of("8"), 0.4, Known);
        Assert.Null(next.Since);
        foreach (var days in (int[])[14, 30])
            Assert.Equal(Outside[$"wrong moved {days}"], next.ProbabilityWrong(70 + days), 3e-3);
        // a step from a lot that the last check was not made with says nothing of this one
        Assert.Equal("lot 9", NextCheck.After(Of("7"), 0.4, Known).Since!.Label);
    }

    [Fact]
    public void Method_that_reads_wrong_is_due_at_once()
    {
        var next = NextCheck.After(History([1.4, 1.6, 1.5]));
        Assert.Equal(28, next.Day);
        Assert.Equal(NextCheckReason.WrongAlready, next.Reason);
    }

    [Fact]
    public void More_risk_never_brings_the_day_forward()
    {
        var days = new[] { 0.02, 0.05, 0.1, 0.2, 0.4 }.Select(risk => NextCheck.After(History(Six), risk).Day).ToArray();
        Assert.Equal(days.Order(), days);
    }

    [Fact]
    public void Day_before_the_last_check_is_refused() =>
        Assert.Contains("lies before the last check", Assert.Throws<ArgumentOutOfRangeException>(() => NextCheck.After(History(Six)).ProbabilityWrong(69)).Message, StringComparison.Ordinal);

    private static DriftHistory History(double[] biases, double sd = 0.3, IEnumerable<DriftEvent>? events = null) => new(
        new Tolerance(1, 0),
        biases.Select((b, i) => new DriftCheck { Day = 14 * i, Levels = [new DriftLevel { Known = 10, Bias = Estimate.Exact(b), Replicates = 1, Sd = sd, SdDof = 1e6 }] }),
        events,
        new TypicalSd(sd, 0, "invented"));
}
