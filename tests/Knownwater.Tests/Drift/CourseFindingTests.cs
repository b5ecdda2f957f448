using Knownwater.Drift;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Drift;

public class CourseFindingTests
{
    private static readonly DriftEvent First = new(40, DriftEventKind.LotOpened, "lot 7"), Second = new(80, DriftEventKind.LotOpened, "lot 8");

    [Fact]
    public void A_step_at_an_event_has_moved_the_method()
    {
        var found = Found([0.1, -0.1, 0.05, 2, 2.1, 1.9, 2.05, 1.95], First);
        Assert.Null(found.Passed);
        Assert.Equal(First, found.Moved!.Cause!.Event);
        Assert.Equal((CourseKind.Step, 40), (found.Moved.Kind, found.Moved.Likeliest));
        Assert.Equal(1.98, found.Moved.Size, 0.1);
    }

    [Fact]
    public void A_step_that_is_taken_back_is_a_fault_that_is_over()
    {
        var found = Found([0.1, -0.1, 0.05, 2, 2.1, 1.9, 0.05, 0.1, -0.05], First, Second);
        Assert.Null(found.Moved);
        Assert.Equal((First, Second), (found.Passed!.Came.Event, found.Passed.Went.Event));
    }

    // back to where it was, but that is farther from right: the second step is what stays
    [Fact]
    public void A_step_back_to_wrong_has_moved_the_method()
    {
        var found = Found([2, 2.1, 1.9, 0.1, -0.1, 0.05, 2, 2.1, 1.95], First, Second);
        Assert.Null(found.Passed);
        Assert.Equal(Second, found.Moved!.Cause!.Event);
    }

    [Fact]
    public void A_step_at_no_event_is_told_by_its_days()
    {
        var found = Found([0.1, -0.1, 0.05, 0, 2, 2.1, 1.9, 2.05, 1.95]);
        Assert.Null(found.Moved!.Cause);
        Assert.Equal((42, 56, 49), (found.Moved.Onset.Low, found.Moved.Onset.High, found.Moved.Likeliest));
    }

    [Fact]
    public void Two_checks_show_no_course()
    {
        var found = Found([0, 5], new DriftEvent(10, DriftEventKind.LotOpened, "lot 7"));
        Assert.Equal((null, null), (found.Moved, found.Passed));
    }

    private static CourseFinding Found(double[] biases, params DriftEvent[] events)
    {
        var checks = biases.Select((b, i) => new DriftCheck { Day = 14 * i, Levels = [new DriftLevel { Known = 10, Bias = Estimate.Exact(b), Replicates = 4, Sd = 0.2 }] });
        var history = new DriftHistory(new Tolerance(1, 0), checks, events);
        var change = ChangePoint.Find(history);
        return CourseFinding.Of(history, change, DriftModel.Fit(history).Beside(change).CombinedBias);
    }
}
