using Knownwater.Benchmarks;
using Knownwater.Checks;

namespace Knownwater.Tests.Checks;

/// <summary>A small part of the fault study (docs/reference/fault-study.md) with seeds of its own. The simulator shares no code and no figure with the library.</summary>
public class DiagnosisOfKnownFaultsTests
{
    private const int Each = 8;

    private static readonly FaultWorld.History[] Histories =
        [.. FaultWorld.Faults.SelectMany(f => Enumerable.Range(0, Each).Select(i => FaultWorld.Make([f], 900_000_000 + 1_000 * (int)f + i)))];

    // Over all its histories the study finds 75 % right, 94 % of the best classifier’s rate; the sampling error of 184 histories is 3 % points of each rate. Floors four such errors below.
    [Fact]
    public void The_planted_fault_is_in_the_first_class_nearly_as_often_as_in_that_of_the_best_classifier()
    {
        var (ours, best) = (0, 0);
        foreach (var history in Histories)
        {
            ours += Diagnosis.Rank(FaultWorld.Evidence(history))[0].Faults.Any(f => f.Fault == history.Truth[0]) ? 1 : 0;
            var classes = FaultWorld.Classes(history.Scene);
            var first = BestClassifier.Posterior(history).GroupBy(p => classes[p.Key]).MaxBy(g => g.Sum(p => p.Value))!;
            best += first.Any(p => p.Key == history.Truth[0]) ? 1 : 0;
        }
        Assert.True(ours >= 0.63 * Histories.Length, $"{ours} of {Histories.Length}");
        Assert.True(ours >= 0.85 * best, $"{ours} against {best} of {Histories.Length}");
    }

    [Fact]
    public void The_classes_are_those_that_the_declared_rule_gives()
    {
        foreach (var history in Histories)
        {
            var classes = FaultWorld.Classes(history.Scene);
            classes.Remove(Fault.Unlisted);
            string[] declared = [.. classes.GroupBy(c => c.Value).Select(g => string.Join(' ', g.Select(c => c.Key).Order())).Order(StringComparer.Ordinal)];
            string[] found = [.. Diagnosis.Rank(FaultWorld.Evidence(history)).Where(c => !c.IsUnlisted).Select(c => string.Join(' ', c.Faults.Select(f => f.Fault).Order())).Order(StringComparer.Ordinal)];
            Assert.Equal(declared, found);
        }
    }
}
