namespace Knownwater.Checks;

/// <summary>What tests cost and how probably each finds something, given the fault. Judgement, documented in docs/explanation/diagnosis.md.</summary>
internal static class FaultTests
{
    private const double Finds = 0.9, Partly = 0.5, Misleads = 0.08;
    private const double WorthIt = 0.02;

    private static readonly Fault[] OfTheOccasion = [Fault.Chance, Fault.PureWaterRinse, Fault.CarryOver, Fault.OneOddReading];

    private static readonly Fault[] OfTheWater = [Fault.DeliveryOff, Fault.Evaporated, Fault.Losses];

    private static readonly TestKind[] All = Enum.GetValues<TestKind>();

    public static IReadOnlyList<DecidingTest> Rank(IReadOnlyList<FaultShare> faults, CheckEvidence evidence)
    {
        var before = Entropy(faults);
        var tests = new List<DecidingTest>();
        foreach (var kind in All)
        {
            if (kind == TestKind.ThinnedHigh && evidence.Levels.All(l => l.Known == 0))
                continue;
            double found = 0;
            foreach (var share in faults)
                found += share.Probability * Chance(kind, share.Fault);
            var ifFound = After(faults, f => Chance(kind, f), found);
            var ifNot = After(faults, f => 1 - Chance(kind, f), 1 - found);
            var bits = before - found * Entropy(ifFound) - (1 - found) * Entropy(ifNot);
            if (bits >= WorthIt)
                tests.Add(new DecidingTest { Kind = kind, Minutes = Minutes(kind, evidence), ExpectedBits = bits, IfFound = Outcome(found, ifFound), IfNot = Outcome(1 - found, ifNot) });
        }
        return [.. tests.OrderByDescending(t => t.BitsPerMinute).ThenBy(t => t.Kind)];
    }

    public static double Entropy(IReadOnlyList<FaultShare> faults) => -faults.Sum(f => f.Probability > 0 ? f.Probability * Math.Log2(f.Probability) : 0);

    /// <summary>The test that most surely finds a fault, of several the cheapest.</summary>
    public static TestKind Confirms(Fault fault, CheckEvidence evidence) => fault == Fault.Unlisted ? TestKind.Repeat : All.OrderByDescending(k => Chance(k, fault)).ThenBy(k => Minutes(k, evidence)).First();

    private static TestOutcome Outcome(double probability, IReadOnlyList<FaultShare> faults) => new(probability, [.. faults.OrderByDescending(f => f.Probability).ThenBy(f => f.Fault).Take(3)]);

    private static FaultShare[] After(IReadOnlyList<FaultShare> faults, Func<Fault, double> likelihood, double total) =>
        [.. faults.Select(f => f with { Probability = f.Probability * likelihood(f.Fault) / total })];

    private static double Minutes(TestKind kind, CheckEvidence evidence)
    {
        var reading = evidence.Method.MinutesPerReading;
        // on the level that is off most, three readings tell
        return kind switch
        {
            TestKind.ReadLabels => 2,
            TestKind.LookUpSettings => 3,
            TestKind.Repeat => 3 * reading,
            TestKind.WaitAndRepeat => 45 + 3 * reading,
            TestKind.WeighSample => 10,
            TestKind.CleanAndBlank => 10 + 2 * reading,
            TestKind.OtherBlank => 5 + 2 * reading,
            TestKind.FreshWater => 20 + 3 * reading,
            TestKind.SecondStock => 25 + 3 * reading,
            TestKind.NewLot => 10 + 3 * reading,
            _ => 5 + 3 * reading,
        };
    }

    private static double Chance(TestKind kind, Fault fault)
    {
        var occasion = OfTheOccasion.Contains(fault);
        var water = OfTheWater.Contains(fault);
        return (kind, fault) switch
        {
            (_, Fault.Unlisted) => 0.3,
            (TestKind.ReadLabels, Fault.WrongForm or Fault.WrongThousand or Fault.WrongHydrate or Fault.MassForVolume or Fault.WrongMethod) => Finds,
            (TestKind.LookUpSettings, Fault.SettingChanged) => Finds,
            (TestKind.Repeat or TestKind.WaitAndRepeat, Fault.SampleVolume or Fault.WorseScatter) => Partly,
            (TestKind.Repeat, Fault.DriftWithin) => Partly,
            (TestKind.WaitAndRepeat, Fault.DriftWithin) => Finds,
            (TestKind.Repeat or TestKind.WaitAndRepeat, _) when occasion => Finds,
            (TestKind.WeighSample, Fault.SampleVolume) => Finds,
            (TestKind.WeighSample, Fault.DeliveryOff) => Partly,
            (TestKind.CleanAndBlank, Fault.DirtyWindow) => Finds,
            (TestKind.CleanAndBlank, Fault.Saturation) => Partly,
            (TestKind.OtherBlank, Fault.MatrixContaminated) => Finds,
            (TestKind.FreshWater or TestKind.SecondStock, Fault.MatrixContaminated or Fault.SampleVolume or Fault.WorseScatter or Fault.DriftWithin) => Partly,
            (TestKind.FreshWater or TestKind.SecondStock, _) when occasion || water => Finds,
            (TestKind.FreshWater, Fault.WrongForm or Fault.WrongThousand or Fault.MassForVolume) => Partly,
            (TestKind.SecondStock, Fault.StockOff or Fault.WrongHydrate or Fault.WrongForm or Fault.WrongThousand) => Finds,
            (TestKind.NewLot, Fault.LotStrength or Fault.ReagentWeakened or Fault.ReagentBlank) => Finds,
            (TestKind.NewLot, Fault.SampleVolume or Fault.WorseScatter or Fault.DriftWithin) => Partly,
            (TestKind.NewLot, _) when occasion => Finds,
            (TestKind.ThinnedHigh, Fault.Saturation) => Finds,
            (TestKind.ThinnedHigh, _) when occasion => Partly,
            _ => Misleads,
        };
    }
}
