using CsCheck;
using Knownwater.Records.Checks;
using NodaTime;

namespace Knownwater.Records.Tests.Checks;

/// <summary>Laws of the fold that says where a run stands.</summary>
public class RunProgressTests
{
    private const int Steps = 12;

    private static readonly Instant Start = Instant.FromUtc(2026, 9, 3, 7, 40);

    /// <summary>Steps done by one device in order, from the first to any.</summary>
    private static readonly Gen<int> HowFar = Gen.Int[0, Steps];

    /// <summary>Any events whatever, sensible or not, some told twice under one key.</summary>
    private static readonly Gen<RunHappening[]> Anything =
        Gen.Select(Gen.Int[0, 25], Gen.Int[0, 8], Gen.Int[-1, Steps + 1], (key, kind, step) => new RunHappening(Key(key), (RunEventKind)kind, step, Start + Duration.FromSeconds(key))).Array[0, 40];

    [Fact]
    public void However_two_devices_interleave_the_run_stands_where_the_further_one_is() =>
        Gen.Select(HowFar, HowFar, Gen.Bool.Array[2 * Steps]).Sample((a, b, turns) =>
        {
            var mixed = Interleave(Doing(0, a), Doing(100, b), turns);
            Assert.Equal(Math.Max(a, b), RunProgress.Of(Steps, mixed).Step);
        });

    [Fact]
    public void Everything_told_again_in_any_order_changes_nothing() =>
        Gen.Select(Anything, Gen.Int[0, int.MaxValue]).Sample((events, seed) =>
        {
            var once = RunProgress.Of(Steps, events);
            var again = events.ToArray();
            new Random(seed).Shuffle(again);
            Same(once, RunProgress.Of(Steps, [.. events, .. again]));
        });

    [Fact]
    public void Steps_of_a_device_that_comes_late_and_did_no_more_change_nothing() =>
        Gen.Select(HowFar, HowFar).Sample((far, late) =>
        {
            var done = Doing(0, Math.Max(far, late));
            Same(RunProgress.Of(Steps, done), RunProgress.Of(Steps, [.. done, .. Doing(100, Math.Min(far, late))]));
        });

    [Fact]
    public void An_event_for_another_step_than_the_one_at_hand_changes_nothing() =>
        Gen.Select(Anything, Gen.Int[1, 5], Gen.Int[-1, Steps + 1]).Sample((events, kind, step) =>
        {
            var before = RunProgress.Of(Steps, events);
            if (step != before.Step)
                Same(before, RunProgress.Of(Steps, [.. events, new RunHappening(Key(999), (RunEventKind)kind, step, Start)]));
        });

    [Fact]
    public void Notes_slips_and_photos_never_move_a_run() =>
        Gen.Select(Anything, Gen.Int[(int)RunEventKind.Note, (int)RunEventKind.Photo], Gen.Int[-1, Steps + 1]).Sample((events, kind, step) =>
            Same(RunProgress.Of(Steps, events), RunProgress.Of(Steps, [.. events, new RunHappening(Key(999), (RunEventKind)kind, step, Start)])));

    [Fact]
    public void A_run_stands_at_one_of_its_steps_or_behind_the_last() =>
        Anything.Sample(events => Assert.InRange(RunProgress.Of(Steps, events).Step, 0, Steps));

    [Fact]
    public void Back_after_done_stands_where_it_stood_and_keeps_the_timer_that_was_running() =>
        HowFar.Where(far => far < Steps).Sample(far =>
        {
            var before = RunProgress.Of(Steps, Doing(0, far));
            var after = RunProgress.Of(Steps, [.. Doing(0, far), At(200, RunEventKind.Done, far), At(201, RunEventKind.Back, far + 1)]);
            Assert.Equal(before.Step, after.Step);
            Assert.Equal(before.Starts[far], after.Starts[far]);
        });

    [Fact]
    public void Two_devices_that_press_back_at_one_step_go_back_once()
    {
        var run = Doing(0, 5);
        Assert.Equal(4, RunProgress.Of(Steps, [.. run, At(200, RunEventKind.Back, 5), At(201, RunEventKind.Back, 5)]).Step);
    }

    [Fact]
    public void An_ended_run_moves_no_more()
    {
        var ended = RunProgress.Of(Steps, [.. Doing(0, 5), At(200, RunEventKind.Ended, 5), At(201, RunEventKind.Done, 5)]);
        Assert.True(ended.Ended);
        Assert.Equal(5, ended.Step);
    }

    [Fact]
    public void A_timer_runs_from_the_step_before_it_or_from_its_last_start()
    {
        var run = Doing(0, 3);
        Assert.Equal(Start + Duration.FromSeconds(3), RunProgress.Of(Steps, run).Starts[3]);
        Assert.Equal(Start + Duration.FromSeconds(200), RunProgress.Of(Steps, [.. run, At(200, RunEventKind.TimerStarted, 3)]).Starts[3]);
    }

    private static List<RunHappening> Doing(int device, int count) =>
        [At(900, RunEventKind.Begun, 0), .. Enumerable.Range(0, count).Select(i => At(device + i + 1, i % 3 == 2 ? RunEventKind.ReadingKept : RunEventKind.Done, i))];

    private static List<RunHappening> Interleave(List<RunHappening> a, List<RunHappening> b, bool[] turns)
    {
        var (mixed, i, j) = (new List<RunHappening>(), 0, 0);
        foreach (var turn in turns)
        {
            if (turn && i < a.Count)
                mixed.Add(a[i++]);
            else if (!turn && j < b.Count)
                mixed.Add(b[j++]);
        }
        return [.. mixed, .. a.Skip(i), .. b.Skip(j)];
    }

    private static RunHappening At(int key, RunEventKind kind, int step) => new(Key(key), kind, step, kind == RunEventKind.Begun ? Start : Start + Duration.FromSeconds(key));

    private static Guid Key(int n) => new(n, 0, 0, new byte[8]);

    private static void Same(RunProgress one, RunProgress other)
    {
        Assert.Equal(one.Step, other.Step);
        Assert.Equal(one.Ended, other.Ended);
        Assert.Equal(one.Starts, other.Starts);
    }
}
