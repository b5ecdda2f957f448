namespace Knownwater.Checks;

/// <summary>What to suspect when a check fails: ranks declared faults by how well each explains the levels, the order of the readings and the earlier checks.</summary>
/// <remarks>
/// <para>Each fault gives a distribution of the data: a pattern over readings, levels and earlier checks, times a size with a documented prior, plus noise whose covariance holds scatter, display, what differs
/// from check to check, and the doubts of stock, preparation and background where they are shared. The marginal likelihood is closed for the size and averaged over the scatter. Bayes’ theorem with equal prior
/// odds gives the probabilities; three records shift the odds: a matrix outside the method’s window, a date that has passed, an age. Faults whose patterns are the same up to a factor are one <see cref="Cause"/>.</para>
/// <para>The faults and classes are declared in <c>docs/explanation/diagnosis-faults.md</c>, the model and its figures in <c>docs/explanation/diagnosis.md</c>. No base rates of
/// these faults are published; the odds are a statement of indifference, and the probabilities are only as good as that.</para>
/// <para>Pure and deterministic. Scaling all amounts changes nothing.</para>
/// </remarks>
/// <example><code>
/// var result = Diagnosis.Of(new CheckEvidence
/// {
///     Levels = [new() { Known = 10, Readings = [new(2.2), new(2.3), new(2.3)], Tolerance = 1, UsualSd = 0.3 }],
///     Slips = Slips.For(nitrate, ReportingForm.Parse("mg/L NO3")),
/// });
/// // result.Causes[0].Faults[0].Fault is WrongForm
/// </code></example>
public static class Diagnosis
{
    // a record that speaks for a fault multiplies its odds, one that speaks against it divides them; judgement, no source
    private const double MatrixIsWrong = 20, MatrixIsRight = 3, IsPastUse = 3;

    private static readonly double ForFrom = Math.Log(2), AgainstFrom = Math.Log(3);

    /// <summary>Ranks what can be behind a failed check.</summary>
    /// <param name="evidence">What is known; at least one level with a reading.</param>
    /// <returns>Causes with probabilities and reasons, and the tests that would tell.</returns>
    /// <exception cref="ArgumentException">There is no level, a level has no reading, or there are more than 120 readings.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A number is out of its range; the sentence names it.</exception>
    public static DiagnosisResult Of(CheckEvidence evidence)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        evidence.Validate();
        var model = new FaultModel(evidence);
        var weighing = new FaultWeighing(model, evidence.Levels);
        var all = weighing.Weigh([.. Enumerable.Range(0, model.Length).Select(i => new[] { i })]);
        var (causes, shares) = Classes(model, evidence, all);

        var today = weighing.Weigh([.. Enumerable.Range(0, model.Today.Length).Select(i => new[] { i })]);
        var means = weighing.Weigh([.. Enumerable.Range(0, model.Today.Length).GroupBy(i => model.Today[i].Level).Select(g => g.ToArray())]);
        var reasons = new DiagnosisReasons(model, evidence, ByFault(model, means), ByFault(model, today), ByFault(model, all));
        return new DiagnosisResult
        {
            Causes = [.. causes.Select(c => c with { Reasons = reasons.Of(c, ForFrom, AgainstFrom) })],
            Tests = FaultTests.Rank(shares, evidence),
            EntropyBits = FaultTests.Entropy(shares),
        };
    }

    /// <summary>The causes alone, without reasons and tests.</summary>
    internal static IReadOnlyList<Cause> Rank(CheckEvidence evidence)
    {
        evidence.Validate();
        var model = new FaultModel(evidence);
        return Classes(model, evidence, new FaultWeighing(model, evidence.Levels).Weigh([.. Enumerable.Range(0, model.Length).Select(i => new[] { i })])).Causes;
    }

    /// <summary>How the records shift the odds of a fault.</summary>
    internal static double Odds(Fault fault, CheckEvidence evidence) => fault switch
    {
        Fault.WrongMethod => evidence.Method.MatrixFits switch { false => MatrixIsWrong, true => 1 / MatrixIsRight, null => 1 },
        Fault.LotStrength or Fault.ReagentWeakened or Fault.ReagentBlank when evidence.LotIsPastUse => IsPastUse,
        Fault.StockOff when evidence.StockIsPastUse => IsPastUse,
        Fault.Evaporated or Fault.Losses when evidence.WaterIsPastUse => IsPastUse,
        _ => 1,
    };

    private static (List<Cause> Causes, List<FaultShare> Shares) Classes(FaultModel model, CheckEvidence evidence, (double Log, double Size)[] weighed)
    {
        var byFault = ByFault(model, weighed);
        var most = byFault.Max(f => f.Value + Math.Log(Odds(f.Key, evidence)));
        var weights = byFault.ToDictionary(f => f.Key, f => Odds(f.Key, evidence) * Math.Exp(f.Value - most));
        var sum = weights.Values.Sum();
        var shares = weights.Select(w => new FaultShare(w.Key, w.Value / sum)).ToList();

        var causes = shares.GroupBy(s => ClassKey(model, s.Fault)).Select(g =>
        {
            List<FaultShare> faults = [.. g.OrderByDescending(f => f.Probability).ThenBy(f => f.Fault)];
            var lead = faults[0].Fault;
            var (size, slip) = SizeOf(model, evidence, weighed, lead);
            return new Cause
            {
                Faults = faults,
                Probability = faults.Sum(f => f.Probability),
                RelativeSize = IsRelative(lead) ? size : null,
                Amount = IsAmount(lead) ? size : null,
                Slip = slip,
                ConfirmedBy = FaultTests.Confirms(lead, evidence),
                Reasons = [],
            };
        });
        return ([.. causes.OrderByDescending(c => c.Probability).ThenBy(c => c.Faults[0].Fault)], shares);
    }

    /// <summary>Several hypotheses of one fault (one a slip) share its prior and add.</summary>
    private static Dictionary<Fault, double> ByFault(FaultModel model, (double Log, double Size)[] weighed) =>
        model.Hypotheses.Zip(weighed).GroupBy(p => p.First.Fault).ToDictionary(g => g.Key, g => LogSum([.. g.Select(p => p.Second.Log)]));

    private static double LogSum(double[] logs)
    {
        var most = logs.Max();
        return most + Math.Log(logs.Sum(l => Math.Exp(l - most)));
    }

    /// <summary>A text that two faults share where their patterns are the same up to a factor.</summary>
    private static string ClassKey(FaultModel model, Fault fault)
    {
        var hypotheses = model.Hypotheses.Where(h => h.Fault == fault).ToList();
        if (hypotheses.Exists(h => h.HasOwnSize) || hypotheses[0].Patterns.Any(p => p.Directions.Length == 0) || fault == Fault.Unlisted)
            return fault.ToString();
        return string.Join('|', hypotheses.SelectMany(h => h.Patterns).SelectMany(p => p.Directions).Select(Shape).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal));

        static string Shape(double[] direction)
        {
            var peak = direction[0];
            foreach (var d in direction)
            {
                if (Math.Abs(d) > Math.Abs(peak) * (1 + 1e-9))
                    peak = d;
            }
            return string.Join(' ', direction.Select(d => (d == 0 ? 0 : Math.Round(d / peak, 6)).ToString(System.Globalization.CultureInfo.InvariantCulture)));
        }
    }

    private static (double? Size, Slip? Slip) SizeOf(FaultModel model, CheckEvidence evidence, (double Log, double Size)[] weighed, Fault fault)
    {
        var best = Enumerable.Range(0, weighed.Length).Where(i => model.Hypotheses[i].Fault == fault).MaxBy(i => weighed[i].Log);
        var slip = model.Hypotheses[best].Multiple == 1 ? null : evidence.Slips.FirstOrDefault(s => s.Kind == fault && s.Ratio == model.Hypotheses[best].Multiple);
        // losses and a flattened curve are counted downward
        var size = fault is Fault.Losses or Fault.Saturation ? -weighed[best].Size : weighed[best].Size;
        return (size, slip);
    }

    private static bool IsRelative(Fault fault) => !IsAmount(fault) && fault is not (Fault.Chance or Fault.WorseScatter or Fault.Unlisted or Fault.CarryOver or Fault.WrongMethod);

    private static bool IsAmount(Fault fault) => fault is Fault.ReagentBlank or Fault.DirtyWindow or Fault.MatrixContaminated or Fault.OneOddReading;
}
