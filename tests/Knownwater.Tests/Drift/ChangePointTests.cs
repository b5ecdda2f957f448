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
    public void Events_are_tested_as_steps_beside_the_clear_ones_and_corrected_by_Holm()
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

    // case 6 of drift.R: neither step of the fault is clear by itself
    [Fact]
    public void Fault_that_came_and_went_is_seen_as_two_steps_and_nothing_besides()
    {
        double[] biases = [0.1, -0.2, 0.05, 0.9, 1.1, 0.8, -0.1, 0.2, 0.15, 0.0];
        DriftEvent[] events = [new(40, DriftEventKind.LotOpened, "lot 7"), new(80, DriftEventKind.LotOpened, "lot 8"), new(110, DriftEventKind.Service, "new tubing")];
        var change = ChangePoint.Find(History(biases, events), Known);
        for (var i = 0; i < 3; i++)
        {
            Assert.Equal(Outside[$"went step {i + 1}"], change.Events[i].Step, 1e-3);
            Assert.Equal(Outside[$"went p {i + 1}"], change.Events[i].P, 0.02 * change.Events[i].P);
            Assert.Equal(Outside[$"went holm {i + 1}"], change.Events[i].CorrectedP, 0.02 * change.Events[i].CorrectedP);
        }
        Assert.Equal([true, true, false], change.Events.Select(e => e.IsClear));
        Assert.Equal((28, 42), (change.Events[0].Between.Low, change.Events[0].Between.High));
        Assert.Equal(CourseKind.Steady, change.Kind);
    }

    [Fact]
    public void Drift_is_not_taken_for_steps_at_the_lots_opened_while_it_went_on()
    {
        double[] rising = [0, 0.05, -0.1, 0.1, 0.0, 0.25, 0.6, 0.8, 1.1, 1.25, 1.6, 1.8, 2.1];
        var change = ChangePoint.Find(History(rising, [new(75, DriftEventKind.LotOpened, "lot 7"), new(120, DriftEventKind.LotOpened, "lot 8"), new(150, DriftEventKind.LotOpened, "lot 9")]));
        Assert.Equal(CourseKind.Drift, change.Kind);
        Assert.DoesNotContain(change.Events, e => e.IsClear);
    }

    // case 7 of drift.R
    [Fact]
    public void Changeover_sharpens_the_bias_of_its_lots_and_the_step_between_them()
    {
        double[] biases = [0.1, -0.2, 0.05, 0.9];
        Changeover[] changeovers =
        [
            new() { Day = 50, From = ["B"], To = ["C"], Level = 10, Step = -0.2, FromReplicates = 2, ToReplicates = 3 },
            new() { Day = 36, From = ["A"], To = ["B"], Level = 10, Step = 0.5, FromReplicates = 4, ToReplicates = 4 },
        ];
        var history = new DriftHistory(new Tolerance(1, 0), biases.Select((b, i) => Check(i, b) with { Lots = [i < 3 ? "A" : "B"] }), [new(35, DriftEventKind.LotOpened, "lot B") { Lots = ["B"] }], Typical, changeovers);
        var change = ChangePoint.Find(history, Known);
        Assert.Equal(["A", "B", "C"], change.Lots.Select(l => Assert.Single(l.Lots)));
        Assert.Equal([(3, 1), (1, 2), (0, 1)], change.Lots.Select(l => (l.Bias.Checks, l.Changeovers)));
        for (var i = 0; i < 3; i++)
        {
            Assert.Equal(Outside[$"lot value {i + 1}"], change.Lots[i].Bias.Value, 1e-3);
            Assert.Equal(Outside[$"lot u {i + 1}"], change.Lots[i].Bias.StandardUncertainty, 1e-3);
        }
        var step = Assert.Single(change.Events);
        Assert.Equal(Outside["lot step"], step.Step, 1e-3);
        Assert.Equal(2 * 1.959964 * Outside["lot step u"], step.Interval.High - step.Interval.Low, 2e-3);
    }

    [Fact]
    public void Changeover_that_touches_no_lot_of_the_checks_changes_nothing()
    {
        Changeover[] other = [new() { Day = 50, From = ["X"], To = ["Y"], Level = 10, Step = 2, FromReplicates = 4, ToReplicates = 4 }];
        DriftHistory Of(IEnumerable<Changeover> changeovers) => new(new Tolerance(1, 0), Risen.Select((b, i) => Check(i, b) with { Lots = ["A"] }), [new(35, DriftEventKind.Service, "new tubing")], Typical, changeovers);
        var (with, without) = (ChangePoint.Find(Of(other), Known), ChangePoint.Find(Of([]), Known));
        Assert.Equal(without.Lots.Single().Bias.Value, with.Lots.Single().Bias.Value, 1e-12);
        Assert.Equal(without.Events[0].Step, with.Events[0].Step, 1e-12);
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
