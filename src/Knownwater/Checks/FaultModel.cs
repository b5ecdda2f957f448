namespace Knownwater.Checks;

/// <summary>One pattern that a fault can leave: directions in the space of all readings and earlier biases, and how large the effect along them may be.</summary>
/// <param name="Weight">Prior weight within the fault.</param>
/// <param name="Directions">One direction, or several that add; each as long as the data.</param>
/// <param name="Sizes">The prior of the sizes as a sum of normal distributions.</param>
/// <param name="Noise">For a slip, what it does to the noise; null where the noise is the usual.</param>
internal sealed record FaultPattern(double Weight, double[][] Directions, SizeTerm[] Sizes, SlipNoise? Noise = null);

/// <summary>What a slip does to the noise: one in the numbers multiplies all errors of today with it; one in the water leaves the scatter that belongs to the value that is really there, and multiplies the doubt of the water.</summary>
/// <param name="Ratio">The ratio.</param>
/// <param name="InNumbers">Whether the numbers of today were slipped in, not the water.</param>
/// <param name="Past">Which earlier checks have it too.</param>
internal sealed record SlipNoise(double Ratio, bool InNumbers, bool[] Past);

/// <summary>One normal distribution of the prior of the sizes; independent along each direction.</summary>
internal readonly record struct SizeTerm(double Weight, double[] Mean, double[] Sd);

/// <summary>What the standard deviation of one reading may be, as a multiple of the usual.</summary>
internal enum Spread
{
    Usual,
    Worse,
    Any,
}

/// <summary>A fault with its patterns. A fault without directions (chance, scatter) has one pattern without.</summary>
/// <param name="Fault">The fault.</param>
/// <param name="Patterns">Its patterns; weights sum to 1.</param>
/// <param name="Spread">Its scatter.</param>
/// <param name="Multiple">For a slip its ratio; else 1.</param>
/// <param name="HasOwnSize">Whether its size is known beforehand, so that it is a class of its own.</param>
internal sealed record FaultHypothesis(Fault Fault, IReadOnlyList<FaultPattern> Patterns, Spread Spread = Spread.Usual, double Multiple = 1, bool HasOwnSize = false);

/// <summary>The patterns and effect sizes of every fault for one piece of evidence. The figures are judgement, documented in docs/explanation/diagnosis.md.</summary>
internal sealed class FaultModel
{
    private const int MostEarlier = 12;
    private const double Factor = 2.2;

    private readonly CheckEvidence _evidence;
    private readonly EarlierCheck[] _earlier;
    private readonly LevelEvidence[] _levels;
    private readonly double _leastTolerance, _greatest, _leastKnown, _gain;
    private readonly Lazy<double[,]> _ofWater;

    public FaultModel(CheckEvidence evidence)
    {
        _evidence = evidence;
        _levels = [.. evidence.Levels];
        _earlier = [.. evidence.Earlier.OrderBy(e => e.DaysBefore).Take(MostEarlier)];
        var today = new List<(int, int)>();
        for (var l = 0; l < _levels.Length; l++)
        {
            for (var i = 0; i < _levels[l].Readings.Count; i++)
                today.Add((l, i));
        }
        Today = [.. today];
        var before = new List<(int, int)>();
        for (var e = 0; e < _earlier.Length; e++)
        {
            for (var l = 0; l < _earlier[e].Levels.Count; l++)
                before.Add((e, l));
        }
        Before = [.. before];
        Length = Today.Length + Before.Length;
        _leastTolerance = _levels.Min(l => l.Tolerance);
        _greatest = _levels.Max(l => l.Known);
        _leastKnown = _levels.Where(l => l.Known > 0).Select(l => l.Known).DefaultIfEmpty(1).Min();
        // what one watches for: twice the tolerance at the top, as a share
        _gain = _greatest > 0 ? Math.Clamp(2 * _levels.MaxBy(l => l.Known)!.Tolerance / _greatest, 0.03, 0.3) : 0.1;
        Data = [.. Today.Select(t => Middle(_levels[t.Level].Readings[t.Reading]) - _levels[t.Level].Known), .. Before.Select(b => _earlier[b.Check].Levels[b.Level].Bias)];
        _ofWater = new(OfWater);
        Hypotheses = [.. Make().Where(h => h.Patterns.Count > 0)];
    }

    public (int Level, int Reading)[] Today { get; }

    public (int Check, int Level)[] Before { get; }

    public int Length { get; }

    /// <summary>Deviations of today’s readings from the known values, then the earlier biases.</summary>
    public double[] Data { get; }

    public IReadOnlyList<FaultHypothesis> Hypotheses { get; }

    public IReadOnlyList<EarlierCheck> Earlier => _earlier;

    private static double Middle(Indication reading) => reading.Censoring == Quantities.Censoring.Below ? (reading.Least + reading.Value) / 2 : reading.Value;

    public static double UsualSd(LevelEvidence level) => level.UsualSd ?? level.Tolerance / 3;

    public static double UsualDof(LevelEvidence level) => level.UsualSd is null ? 2 : level.UsualSdDof;

    /// <summary>Covariance of the data where nothing is wrong or where a slip was made, with the scatter of single readings at a multiple of the usual.</summary>
    /// <remarks>
    /// Today: κ²s² + q²/12 a reading; (s/2)² + q²/12 shared by the readings of one level (what differs from check to check); stock, preparation and background shared by all levels. Earlier: the doubt of the mean,
    /// (s/2)², and the doubts of stock, preparation and background, shared with every check on the same one.
    /// </remarks>
    public double[,] Covariance(double multiple, SlipNoise? slip = null)
    {
        var n = Today.Length;
        var v = new double[Length, Length];
        var water = new double[Length];
        for (var i = 0; i < Length; i++)
            water[i] = slip is not null && (i < n || slip.Past[Before[i - n].Check]) ? slip.Ratio : 1;
        for (var i = 0; i < Length; i++)
        {
            var level = i < n ? _levels[Today[i].Level] : Nearest(_earlier[Before[i - n].Check].Levels[Before[i - n].Level].Known);
            var sd = water[i] == 1 ? UsualSd(level) : slip!.InNumbers ? water[i] * UsualSd(level) : SdAt(level, water[i]);
            var between = sd * sd / 4 + level.Resolution * level.Resolution / 12;
            for (var j = 0; j < Length; j++)
                v[i, j] = water[i] * water[j] * _ofWater.Value[i, j];
            if (i < n)
            {
                v[i, i] += multiple * multiple * sd * sd + level.Resolution * level.Resolution / 12 + Censored(level.Readings[Today[i].Reading]);
                for (var j = 0; j < n; j++)
                {
                    if (Today[j].Level == Today[i].Level)
                        v[i, j] += between;
                }
            }
            else
            {
                var u = _earlier[Before[i - n].Check].Levels[Before[i - n].Level].MeanU;
                v[i, i] += u * u + between;
            }
        }
        return v;
    }

    /// <summary>The part of the covariance that comes from the doubts of stock, preparation and background.</summary>
    private double[,] OfWater()
    {
        var v = new double[Length, Length];
        var (stock, preparation, background) = (Share(l => l.StockU), Share(l => l.PreparationU), _levels.Max(l => l.BackgroundU));
        (CheckCarriers Carriers, double Known)[] data =
        [
            .. Today.Select(t => (_evidence.Carriers, _levels[t.Level].Known)),
            .. Before.Select(b => (_earlier[b.Check].Carriers, _earlier[b.Check].Levels[b.Level].Known)),
        ];
        for (var i = 0; i < Length; i++)
        {
            for (var j = 0; j < Length; j++)
            {
                var known = data[i].Known * data[j].Known;
                if (Same(data[i].Carriers.Stock, data[j].Carriers.Stock))
                    v[i, j] += stock * stock * known;
                if (Same(data[i].Carriers.Preparation, data[j].Carriers.Preparation))
                    v[i, j] += preparation * preparation * known + background * background;
            }
        }
        return v;
    }

    /// <summary>Usual scatter where a level really holds a multiple of its known value: on the straight line through the lowest and the highest level, and at least a third of the least; with one level half of it grows with the value.</summary>
    private double SdAt(LevelEvidence level, double ratio)
    {
        var (low, high) = (_levels.MinBy(l => l.Known)!, _levels.MaxBy(l => l.Known)!);
        if (high.Known <= low.Known)
            return UsualSd(level) * (1 + ratio) / 2;
        var slope = Math.Max(0, (UsualSd(high) - UsualSd(low)) / (high.Known - low.Known));
        return Math.Max(UsualSd(level) + slope * (ratio - 1) * level.Known, Math.Min(UsualSd(low), UsualSd(level)) / 3);
    }

    private static double Censored(Indication reading) => reading.Censoring switch
    {
        Quantities.Censoring.Below => Math.Pow(reading.Value - reading.Least, 2) / 12,
        Quantities.Censoring.Above => Math.Pow(reading.Value / 4, 2),
        _ => 0,
    };

    private double Share(Func<LevelEvidence, double> part) => _levels.Where(l => l.Known > 0).Select(l => part(l) / l.Known).DefaultIfEmpty(0).Min();

    private LevelEvidence Nearest(double known) => _levels.MinBy(l => Math.Abs(l.Known - known))!;

    private static bool Same(string? a, string? b) => a is null || b is null || string.Equals(a, b, StringComparison.Ordinal);

    private IEnumerable<FaultHypothesis> Make()
    {
        var here = _evidence.Carriers;
        bool[] none = new bool[_earlier.Length];
        var lots = Possible(c => c.Lot, _evidence.LotAgeDays);
        var stocks = Possible(c => c.Stock);
        var preparations = Possible(c => c.Preparation);
        bool[] preparation = [.. _earlier.Select(e => Same(e.Carriers.Preparation, here.Preparation))];
        bool[] settings = [.. _earlier.Select(e => Same(e.Carriers.Settings, here.Settings))];

        yield return new(Fault.Chance, [new(1, [], [])]);
        yield return new(Fault.WorseScatter, [new(1, [], [])], Spread.Worse);
        yield return new(Fault.Unlisted, [.. Unlisted()], Spread.Any);

        foreach (var kind in (Fault[])[Fault.WrongForm, Fault.WrongThousand, Fault.WrongHydrate, Fault.MassForVolume])
        {
            // in the numbers of today, in the water of this preparation, or in its stock
            List<(bool InNumbers, double Weight, bool[] Past)> ways = [];
            if (kind != Fault.WrongHydrate)
                ways.Add((true, 1, none));
            if (kind != Fault.WrongHydrate)
                ways.AddRange(preparations.Select(p => (false, 1.0 / preparations.Count, p)));
            if (kind != Fault.MassForVolume)
                ways.AddRange(stocks.Select(p => (false, 1.0 / stocks.Count, p)));
            var all = ways.Sum(w => w.Weight);
            var slips = _evidence.Slips.Where(s => s.Kind == kind).ToList();
            // each ratio is one hypothesis, since its scatter is its own
            foreach (var slip in slips)
            {
                var size = new SizeTerm(1, [slip.Ratio - 1], [(kind == Fault.MassForVolume ? 0.003 : 0.02) * slip.Ratio]);
                yield return new(kind, [.. ways.Select(w => new FaultPattern(w.Weight / all / slips.Count, [Levels(c => c, w.Past)], [size], new(slip.Ratio, w.InNumbers, w.Past)))], Spread.Usual, slip.Ratio, HasOwnSize: true);
            }
        }

        var gain = Sizes(_gain, Factor, 0.5);
        yield return Proportional(Fault.StockOff, stocks, gain);
        yield return Proportional(Fault.LotStrength, lots, Sizes(_gain, Factor, 0.35));
        yield return Proportional(Fault.DeliveryOff, preparations, gain);
        yield return Proportional(Fault.SettingChanged, Possible(c => c.Settings), gain);
        yield return Proportional(Fault.SampleVolume, [none], Sizes(0.1 * VolumeShare(), Factor, 0.5));
        yield return Weakened(lots);

        var amount = 2 * _leastTolerance;
        yield return new(Fault.ReagentBlank, [.. lots.Select(lot => new FaultPattern(1.0 / lots.Count, [Levels(_ => 1, lot)], Sizes(amount, 2.5, 0.75)))]);
        yield return new(Fault.MatrixContaminated, [.. preparations.Select(p => new FaultPattern(1.0 / preparations.Count, [Levels(_ => 1, p)], Sizes(amount, 2.5, 1)))]);
        yield return new(Fault.DirtyWindow, [.. AnyTimeSince(settings, _ => 1, Sizes(amount, 2.5, 1), 1)]);
        double[] flattening = [0.5, 1, 1.5, 2, 3];
        yield return new(Fault.Saturation, _greatest == 0 ? [] : [.. flattening.SelectMany(p => AnyTimeSince(settings, c => -c * Math.Pow(c / _greatest, p), Sizes(_gain, Factor, 1), 1.0 / flattening.Length))]);

        yield return Rinse(none);
        yield return CarryOver();
        yield return WrongMethod(none);
        yield return Aged(Fault.Evaporated, preparation);
        yield return Aged(Fault.Losses, preparation);
        yield return Drift();
        yield return OneOdd();
    }

    private static FaultHypothesis NoEffect(Fault fault) => new(fault, []);

    private FaultHypothesis Proportional(Fault fault, IReadOnlyList<bool[]> pasts, SizeTerm[] sizes) =>
        _greatest == 0 ? NoEffect(fault) : new(fault, [.. pasts.Select(past => new FaultPattern(1.0 / pasts.Count, [Levels(c => c, past)], sizes))]);

    /// <summary>Which earlier checks may have used the carrier of today: one answer where the records say, several, equally likely, where entries are missing.</summary>
    /// <remarks>A carrier in use today was taken into use once, so that a missing entry between two checks on it was on it too; else the change may lie at any of the checks without an entry.</remarks>
    /// <param name="of">The carrier.</param>
    /// <param name="ageDays">How long it has been in use; null where it is not known.</param>
    private IReadOnlyList<bool[]> Possible(Func<CheckCarriers, string?> of, double? ageDays = null)
    {
        var here = of(_evidence.Carriers);
        bool?[] recorded = [.. _earlier.Select(e => of(e.Carriers) is { } there && here is not null ? string.Equals(there, here, StringComparison.Ordinal) : (bool?)null)];
        var least = Array.LastIndexOf(recorded, true) + 1;
        var most = Array.IndexOf(recorded, false) is >= 0 and var other ? other : recorded.Length;
        // the carrier came back after another: what stands in the records counts, and a missing entry goes with the next one
        if (least > most)
            return [[.. recorded.Select((r, i) => r ?? recorded.Take(i).LastOrDefault(x => x is not null) ?? true)]];
        if (ageDays is { } age)
            least = most = Math.Clamp(_earlier.Count(e => e.DaysBefore <= age), least, most);
        return [.. Enumerable.Range(least, most - least + 1).Select(k => recorded.Select((r, i) => r ?? i < k).ToArray()).DistinctBy(a => string.Join(' ', a))];
    }

    /// <summary>A direction that depends on the level alone; earlier checks have it where they had the carrier.</summary>
    private double[] Levels(Func<double, double> effect, bool[] past) => Levels(effect, [.. past.Select(p => p ? 1.0 : 0)]);

    private double[] Levels(Func<double, double> effect, double[] past) =>
        [.. Today.Select(t => effect(_levels[t.Level].Known)), .. Before.Select(b => past[b.Check] == 0 ? 0 : past[b.Check] * effect(_earlier[b.Check].Levels[b.Level].Known))];

    /// <summary>A reagent that weakens from its opening on: with the root of its age, with its age or with its square, from an opening that may lie anywhere between two checks where its day is not known.</summary>
    private FaultHypothesis Weakened(IReadOnlyList<bool[]> lots)
    {
        if (_greatest == 0)
            return NoEffect(Fault.ReagentWeakened);
        var directions = new List<(double Weight, double[] Direction)>();
        foreach (var lot in lots)
        {
            var oldest = _earlier.Where((_, i) => lot[i]).Select(e => e.DaysBefore).DefaultIfEmpty(0).Max();
            var next = _earlier.Where((e, i) => !lot[i] && e.DaysBefore > oldest).Select(e => e.DaysBefore).DefaultIfEmpty(2 * oldest).Min();
            double[] ages = oldest == 0 ? [1] : _evidence.LotAgeDays is { } age && age >= oldest ? [age] : [.. new[] { 1.0 / 6, 0.5, 5.0 / 6 }.Select(p => oldest + p * (next - oldest))];
            double[] powers = oldest == 0 ? [1] : [0.5, 1, 2];
            foreach (var now in ages)
            {
                foreach (var power in powers)
                    directions.Add((1.0 / lots.Count / ages.Length / powers.Length, Levels(c => c, [.. _earlier.Select((e, i) => lot[i] ? Math.Pow(Math.Max(0, now - e.DaysBefore) / now, power) : 0)])));
            }
        }
        return new(Fault.ReagentWeakened, [.. directions.Select(d => new FaultPattern(d.Weight, [d.Direction], Sizes(_gain, Factor, 0)))]);
    }

    private IEnumerable<FaultPattern> AnyTimeSince(bool[] settings, Func<double, double> effect, SizeTerm[] sizes, double weight)
    {
        var since = settings.TakeWhile(s => s).Count();
        for (var k = 0; k <= since; k++)
            yield return new(weight / (since + 1), [Levels(effect, [.. settings.Select((_, i) => i < k)])], sizes);
    }

    private double VolumeShare() => _evidence.Method switch
    {
        { IsTitration: true } => 1,
        { SampleMillilitres: { } sample, ReagentMillilitres: { } reagent } => reagent / (sample + reagent),
        _ => 0.3,
    };

    private double? ResidualShare() => _evidence.Method is { ResidualMillilitres: { } residual, SampleMillilitres: { } sample } ? residual / (residual + sample) : null;

    private FaultHypothesis Rinse(bool[] none)
    {
        if (_greatest == 0)
            return NoEffect(Fault.PureWaterRinse);
        SizeTerm[] sizes = ResidualShare() is { } share ? [new(1, [-share], [0.2 * share])] : Sizes(0.05, 1.8, 0);
        return new(Fault.PureWaterRinse, [new(1, [Levels(c => c, none)], sizes)], HasOwnSize: ResidualShare() is not null);
    }

    private FaultHypothesis CarryOver()
    {
        var shares = new List<(double Share, double Weight)>();
        foreach (var general in (ReadOnlySpan<double>)[0.02, 0.05, 0.1, 0.2, 0.35])
            shares.Add((general, ResidualShare() is null ? 0.2 : 0.08));
        if (ResidualShare() is { } share)
        {
            // no rinse at all, or one of those asked for left out
            shares.Add((share, 0.45));
            shares.Add((Math.Pow(share, Math.Max(1, _evidence.Method.Rinses)), 0.15));
        }
        // what the chamber held before the first reading: nothing, or up to twice the strongest water, where nobody noted it
        double[] formers = _evidence.FormerValue is { } noted ? [noted] : [0, 0.5 * _greatest, 1.5 * _greatest, 2 * _greatest];
        var patterns = new List<FaultPattern>();
        foreach (var (k, weight) in shares)
        {
            foreach (var before in formers)
            {
                var direction = new double[Length];
                for (var i = 0; i < Today.Length; i++)
                {
                    var (level, reading) = Today[i];
                    direction[i] = Math.Pow(k, reading) * ((level == 0 ? before : _levels[level - 1].Known) - _levels[level].Known);
                }
                if (direction.Any(d => d != 0))
                    patterns.Add(new(weight / formers.Length, [direction], [new(1, [k], [0.3 * k])]));
            }
        }
        return new(Fault.CarryOver, patterns);
    }

    private FaultHypothesis WrongMethod(bool[] none)
    {
        if (_greatest == 0)
            return new(Fault.WrongMethod, [new(1, [Levels(_ => 1, none)], Sizes(_leastTolerance, 2.5, 0.5))]);
        var sizes = from gain in Sizes(0.12, 2, 0.5)
                    from amount in Sizes(_leastTolerance, 2.5, 0.5)
                    select new SizeTerm(gain.Weight * amount.Weight, [gain.Mean[0], amount.Mean[0]], [gain.Sd[0], amount.Sd[0]]);
        return new(Fault.WrongMethod, [new(1, [Levels(c => c, none), Levels(_ => 1, none)], [.. sizes])]);
    }

    /// <summary>Evaporation and losses: grow with the age of each water.</summary>
    private FaultHypothesis Aged(Fault fault, bool[] preparation)
    {
        const double usualAge = 7, spread = 3;
        var loses = fault == Fault.Losses;
        double Rate(LevelEvidence level) => (loses ? level.MostLossPercentPerDay ?? 2 : level.MostEvaporationPercentPerDay ?? 0.05) / 100;
        double Age(LevelEvidence level) => level.AgeDays ?? usualAge;
        var levels = _levels.Where(l => l.Known > 0).ToList();
        var most = levels.Select(l => Rate(l) * Age(l)).DefaultIfEmpty(0).Max();
        if (most <= 0)
            return NoEffect(fault);
        var oldest = levels.Max(Age);
        // as it is usually kept, or as much as one watches for: a bottle left open, a water spoilt
        var weakest = levels.MinBy(l => l.Known)!;
        var watched = loses ? Math.Clamp(2 * weakest.Tolerance / weakest.Known, 0.03, 0.5) : _gain;
        static IEnumerable<SizeTerm> Half(SizeTerm[] sizes) => sizes.Select(t => t with { Weight = t.Weight / 2 });
        double Part(LevelEvidence level, double daysBefore) => Rate(level) <= 0 ? 0 : Math.Max(0, Age(level) - daysBefore) / oldest;
        var patterns = new List<FaultPattern>();
        double[] powers = loses ? [0.5, 1] : [0];
        foreach (var p in powers)
        {
            double Effect(double c) => c <= 0 ? 0 : loses ? -c * Math.Pow(_leastKnown / c, p) : c;
            double[] direction =
            [
                .. Today.Select(t => Effect(_levels[t.Level].Known) * Part(_levels[t.Level], 0)),
                .. Before.Select(b => preparation[b.Check] ? Effect(_earlier[b.Check].Levels[b.Level].Known) * Part(Nearest(_earlier[b.Check].Levels[b.Level].Known), _earlier[b.Check].DaysBefore) : 0),
            ];
            patterns.Add(new(1.0 / powers.Length, [direction], [.. Half(Sizes(loses ? Math.Min(0.5, most / 2) : most / 2, spread, 1)), .. Half(Sizes(watched, Factor, 1))]));
        }
        return new(fault, patterns);
    }

    private FaultHypothesis Drift()
    {
        if (Today.Length < 2 || _greatest == 0)
            return NoEffect(Fault.DriftWithin);
        double[] Direction(Func<double, double> course)
        {
            var direction = new double[Length];
            for (var i = 0; i < Today.Length; i++)
                direction[i] = _levels[Today[i].Level].Known * course((double)i / (Today.Length - 1));
            return direction;
        }
        var sizes = Sizes(_gain, Factor, 0.5);
        // settles within a tenth, a third or most of the run, or runs away
        (double Weight, Func<double, double> Course)[] courses = [(1.0 / 6, t => Math.Exp(-8 * t)), (1.0 / 6, t => Math.Exp(-3 * t)), (1.0 / 6, t => Math.Exp(-1.5 * t)), (0.25, t => t), (0.25, t => t * t)];
        return new(Fault.DriftWithin, [.. courses.Select(c => new FaultPattern(c.Weight, [Direction(c.Course)], sizes))]);
    }

    private FaultHypothesis OneOdd()
    {
        var patterns = new List<FaultPattern>();
        for (var i = 0; i < Today.Length; i++)
        {
            var level = _levels[Today[i].Level];
            var direction = new double[Length];
            direction[i] = 1;
            patterns.Add(new(1.0 / Today.Length, [direction], Sizes(Math.Max(5 * UsualSd(level), level.Tolerance), 2.5, 0.8)));
        }
        return new(Fault.OneOddReading, patterns);
    }

    /// <summary>Every level off by an amount of its own, of any order of size.</summary>
    private IEnumerable<FaultPattern> Unlisted()
    {
        var directions = new double[_levels.Length][];
        for (var l = 0; l < _levels.Length; l++)
        {
            directions[l] = new double[Length];
            for (var i = 0; i < Today.Length; i++)
                directions[l][i] = Today[i].Level == l ? 1 : 0;
        }
        double[] reaches = [1, 3, 10, 30];
        var zero = new double[_levels.Length];
        yield return new(1, directions, [.. reaches.Select(r => new SizeTerm(1.0 / reaches.Length, zero, [.. _levels.Select(l => r * l.Tolerance)]))]);
    }

    /// <summary>A log-normal size as a sum of eight normal distributions: median, its factor (one standard deviation up), and the chance that it is upward.</summary>
    internal static SizeTerm[] Sizes(double median, double factor, double upward)
    {
        const double step = 0.6, first = -2.1;
        const int count = 8;
        var log = Math.Log(factor);
        var terms = new List<SizeTerm>();
        double sum = 0;
        for (var i = 0; i < count; i++)
            sum += Math.Exp(-0.5 * Math.Pow(first + step * i, 2));
        foreach (var (sign, chance) in (ReadOnlySpan<(int, double)>)[(1, upward), (-1, 1 - upward)])
        {
            for (var i = 0; i < count && chance > 0; i++)
            {
                var z = first + step * i;
                var size = median * Math.Exp(z * log);
                terms.Add(new(chance * Math.Exp(-0.5 * z * z) / sum, [sign * size], [0.45 * log * size]));
            }
        }
        return [.. terms];
    }
}
