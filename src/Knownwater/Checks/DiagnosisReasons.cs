namespace Knownwater.Checks;

/// <summary>What speaks for a cause and against it: how much more probable each part of the evidence is under it than under the average of all faults.</summary>
internal sealed class DiagnosisReasons(FaultModel model, CheckEvidence evidence, Dictionary<Fault, double> means, Dictionary<Fault, double> today, Dictionary<Fault, double> all)
{
    public IReadOnlyList<Reason> Of(Cause cause, double forFrom, double againstFrom)
    {
        var lead = cause.Faults[0].Fault;
        var reasons = new List<Reason>();
        Add(ReasonKind.Levels, Part(f => means[f]), LevelFigures());
        Add(ReasonKind.Order, Part(f => today[f] - means[f]), OrderFigures());
        if (model.Before.Length > 0)
            Add(ReasonKind.Earlier, Part(f => all[f] - today[f]), EarlierFigures(lead));
        if (cause.Slip is { } slip && MeanRatio() is { } ratio)
        {
            var expected = Math.Abs(Math.Log(ratio / slip.Ratio));
            reasons.Add(new Reason(ReasonKind.Size, expected < 0.1, Math.Log(2) + Math.Max(0, -Math.Log(Math.Max(expected, 1e-3))), [slip.Ratio, ratio]));
        }
        var odds = Diagnosis.Odds(lead, evidence);
        if (odds != 1)
            reasons.Add(new Reason(lead == Fault.WrongMethod ? ReasonKind.Matrix : ReasonKind.PastUse, odds > 1, Math.Abs(Math.Log(odds)), []));
        return [.. reasons.OrderByDescending(r => r.Weight).ThenBy(r => r.Kind)];

        double Part(Func<Fault, double> block)
        {
            var blocks = all.Keys.Select(block).ToList();
            var most = blocks.Max();
            var average = most + Math.Log(blocks.Average(b => Math.Exp(b - most)));
            return block(lead) - average;
        }

        void Add(ReasonKind kind, double weight, IReadOnlyList<double> figures)
        {
            if (weight >= forFrom || weight <= -againstFrom)
                reasons.Add(new Reason(kind, weight > 0, Math.Abs(weight), figures));
        }
    }

    private double[] LevelMeans() => [.. evidence.Levels.Select((_, l) => Places(l).Average(i => model.Data[i]))];

    private IEnumerable<int> Places(int level) => Enumerable.Range(0, model.Today.Length).Where(i => model.Today[i].Level == level);

    private List<double> LevelFigures() => [.. evidence.Levels.Zip(LevelMeans()).SelectMany(p => new[] { p.First.Known, p.Second })];

    /// <summary>Reading over known value, by the levels above zero, each weighed by its known value.</summary>
    private double? MeanRatio()
    {
        var byLevel = LevelMeans();
        var known = evidence.Levels.Sum(l => l.Known);
        var read = evidence.Levels.Select((l, i) => l.Known > 0 ? l.Known + byLevel[i] : 0).Sum();
        return known > 0 && read > 0 ? read / known : null;
    }

    private double[] OrderFigures()
    {
        var byLevel = LevelMeans();
        double squares = 0, dof = 0, far = 0, farDeviation = 0;
        var at = (Level: 0, Reading: 0);
        for (var i = 0; i < model.Today.Length; i++)
        {
            var (level, reading) = model.Today[i];
            var sd = FaultModel.UsualSd(evidence.Levels[level]);
            var deviation = model.Data[i] - byLevel[level];
            squares += deviation * deviation / (sd * sd);
            if (reading > 0)
                dof++;
            if (Math.Abs(deviation) / sd > far)
                (far, at, farDeviation) = (Math.Abs(deviation) / sd, (level, reading), deviation);
        }
        return [dof > 0 ? Math.Sqrt(squares / dof) : 1, at.Level, at.Reading, farDeviation];
    }

    private double[] EarlierFigures(Fault fault)
    {
        var patterns = model.Hypotheses.Where(h => h.Fault == fault).SelectMany(h => h.Patterns).SelectMany(p => p.Directions).ToList();
        var n = model.Today.Length;
        var with = Enumerable.Range(0, model.Earlier.Count).Count(e => patterns.Exists(d => Enumerable.Range(0, model.Before.Length).Any(b => model.Before[b].Check == e && d[n + b] != 0)));
        return [model.Earlier.Count, with];
    }
}
