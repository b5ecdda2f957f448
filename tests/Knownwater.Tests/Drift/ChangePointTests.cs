using Knownwater.Drift;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Drift;

public class ChangePointTests
{
    private static readonly Dictionary<string, double> Outside = CheckData.Rows("drift/drift.csv").ToDictionary(r => r.Text("name"), r => r["value"]);

    // case 4 of drift.R: the scatter is known
    private static readonly double[] Risen = [0.1, -0.2, 0.05, 0.9, 1.3, 1.0, 1.2];
    private static readonly DriftPriors Known = new() { BetweenScale = 1e-9, BetweenDof = double.PositiveInfinity, LevelSd = 30 };

    [Fact]
    public void Step_drift_and_no_change_have_their_probabilities()
    {
        var change = ChangePoint.Find(History(Risen), Known);
        // relative: the grid holds the scatter within 0.3 to about a part in a thousand
        Assert.Equal(Outside["change steady"], change.SteadyProbability, 0.02 * Outside["change steady"]);
        Assert.Equal(Outside["change step"], change.StepProbability, 1e-3);
        Assert.Equal(Outside["change drift"], change.DriftProbability, 1e-3);
        Assert.Equal(Outside["change size"], change.Size!.Value, 1e-3);
        Assert.Equal(CourseKind.Step, change.Kind);
        Assert.Equal(35, change.LikeliestOnset);
        Assert.True(change.Onset!.Value.Contains(35));
        Assert.True(change.SizeInterval!.Value.Contains(1.08));
    }

    [Fact]
    public void Events_are_tested_as_steps_and_corrected_by_Holm()
    {
        DriftEvent[] events = [new(20, DriftEventKind.LotOpened, "lot 7"), new(35, DriftEventKind.Service, "new tubing")];
        var tests = ChangePoint.Find(History(Risen, events), Known).Events;
        for (var i = 0; i < 2; i++)
        {
            Assert.Equal(events[i], tests[i].Event);
            Assert.Equal(Outside[$"event step {i + 1}"], tests[i].Step, 1e-3);
            Assert.Equal(Outside[$"event p {i + 1}"], tests[i].P, 0.02 * tests[i].P);
            Assert.Equal(Outside[$"event holm {i + 1}"], tests[i].CorrectedP, 0.02 * tests[i].CorrectedP);
            Assert.Empty(tests[i].Together);
        }
    }

    [Fact]
    public void Events_between_the_same_two_checks_count_as_one_test()
    {
        DriftEvent[] events = [new(31, DriftEventKind.LotOpened, "lot 7"), new(35, DriftEventKind.Service, "new tubing")];
        var tests = ChangePoint.Find(History(Risen, events), Known).Events;
        Assert.Equal(tests[0].P, tests[0].CorrectedP);
        Assert.Equal(events[1], Assert.Single(tests[0].Together));
    }

    [Fact]
    public void Drift_that_goes_on_is_named_a_drift()
    {
        double[] rising = [0, 0.05, -0.1, 0.1, 0.0, 0.25, 0.6, 0.8, 1.1, 1.25, 1.6, 1.8, 2.1];
        var change = ChangePoint.Find(History(rising));
        Assert.Equal(CourseKind.Drift, change.Kind);
        // 0.27 a fortnight
        Assert.InRange(change.Size!.Value, 0.45, 0.7);
        Assert.True(change.Onset!.Value.Contains(60));
    }

    [Fact]
    public void Changed_setting_is_no_change_to_be_found()
    {
        var change = ChangePoint.Find(History(Risen, [new DriftEvent(40, DriftEventKind.SettingChanged, "factor 1.1")]));
        Assert.Equal(CourseKind.Steady, change.Kind);
        Assert.Empty(change.Events);
    }

    [Fact]
    public void Each_lot_has_the_mean_of_its_checks()
    {
        var history = new DriftHistory(new Tolerance(1, 0), Risen.Select((b, i) => Check(i, b) with { Lots = [i < 3 ? "A" : "B"] }), typical: Typical);
        var lots = ChangePoint.Find(history, Known).Lots;
        // by hand: means of three and four checks, u = 0.3/√n
        Assert.Equal(["A", "B"], lots.Select(l => Assert.Single(l.Lots)));
        Assert.Equal(-0.05 / 3, lots[0].Bias.Value, 1e-9);
        Assert.Equal(1.1, lots[1].Bias.Value, 1e-9);
        Assert.Equal(0.3 / Math.Sqrt(3), lots[0].Bias.StandardUncertainty, 1e-3);
        Assert.Equal(0.15, lots[1].Bias.StandardUncertainty, 1e-3);
        Assert.Equal(4, lots[1].Bias.Checks);
    }

    [Fact]
    public void Two_checks_show_no_onset()
    {
        var change = ChangePoint.Find(History([0.1, 0.9]));
        Assert.Null(change.Onset);
        Assert.Equal(1, change.SteadyProbability);
    }

    private static readonly TypicalSd Typical = new(0.3, 0, "invented");

    // the mean of one reading whose scatter, 0.3, rests on a million degrees of freedom
    private static DriftCheck Check(int i, double bias) => new() { Day = 14 * i, Levels = [new DriftLevel { Known = 10, Bias = Estimate.Exact(bias), Replicates = 1, Sd = 0.3, SdDof = 1e6 }] };

    private static DriftHistory History(double[] biases, IEnumerable<DriftEvent>? events = null) => new(new Tolerance(1, 0), biases.Select((b, i) => Check(i, b)), events, Typical);
}
