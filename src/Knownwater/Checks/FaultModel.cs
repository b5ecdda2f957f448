namespace Knownwater.Checks;

/// <summary>One pattern that a fault can leave: directions in the space of all readings and earlier biases, and how large the effect along them may be.</summary>
/// <param name="Weight">Prior weight within the fault.</param>
/// <param name="Directions">One direction, or several that add; each as long as the data.</param>
/// <param name="Sizes">The prior of the sizes as a sum of normal distributions.</param>
internal sealed record FaultPattern(double Weight, double[][] Directions, SizeTerm[] Sizes);

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
/// <param name="Multiple">For a slip its ratio: the scatter may be that much larger or smaller; else 1.</param>
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

    /// <summary>Covariance of the data where nothing is wrong, with the scatter of single readings at a multiple of the usual.</summary>
    /// <remarks>
    /// Today: κ²s² + q²/12 a reading; (s/2)² + q²/12 shared by the readings of one level (what differs from check to check); stock, preparation and background shared by all levels. Earlier: the doubt of the mean,
    /// (s/2)², and the doubts of stock, preparation and background, shared with every check on the same one.
    /// </remarks>
    public double[,] Covariance(double multiple)
    {
        var n = Today.Length;
        var v = new double[Length, Length];
        var stockShare = Share(l => l.StockU);
        var preparationShare = Share(l => l.PreparationU);
        var background = _levels.Max(l => l.BackgroundU);
        var carriers = new CheckCarriers[Length];
        var known = new double[Length];
        var own = new double[Length];
        for (var i = 0; i < Length; i++)
        {
            carriers[i] = i < n ? _evidence.Carriers : _earlier[Before[i - n].Check].Carriers;
            known[i] = i < n ? _levels[Today[i].Level].Known : _earlier[Before[i - n].Check].Levels[Before[i - n].Level].Known;
        }
        for (var i = 0; i < Length; i++)
        {
            var level = i < n ? _levels[Today[i].Level] : Nearest(known[i]);
            var sd = UsualSd(level);
            var between = sd * sd / 4 + level.Resolution * level.Resolution / 12;
            if (i < n)
            {
                var reading = level.Readings[Today[i].Reading];
                own[i] = multiple * multiple * sd * sd + level.Resolution * level.Resolution / 12 + Censored(reading);
                for (var j = 0; j < n; j++)
                {
                    if (Today[j].Level == Today[i].Level)
                        v[i, j] += between;
                }
            }
            else
            {
                var u = _earlier[Before[i - n].Check].Levels[Before[i - n].Level].MeanU;
                own[i] = u * u + between;
            }
            v[i, i] += own[i];
            for (var j = 0; j < Length; j++)
            {
                if (Same(carriers[i].Stock, carriers[j].Stock))
                    v[i, j] += stockShare * stockShare * known[i] * known[j];
                if (Same(carriers[i].Preparation, carriers[j].Preparation))
                    v[i, j] += preparationShare * preparationShare * known[i] * known[j] + background * background;
            }
        }
        return v;
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
        bool[] lot = [.. _earlier.Select(e => Same(e.Carriers.Lot, here.Lot))];
        bool[] stock = [.. _earlier.Select(e => Same(e.Carriers.Stock, here.Stock))];
        bool[] preparation = [.. _earlier.Select(e => Same(e.Carriers.Preparation, here.Preparation))];
        bool[] settings = [.. _earlier.Select(e => Same(e.Carriers.Settings, here.Settings))];

        yield return new(Fault.Chance, [new(1, [], [])]);
        yield return new(Fault.WorseScatter, [new(1, [], [])], Spread.Worse);
        yield return new(Fault.Unlisted, [.. Unlisted()], Spread.Any);

        foreach (var kind in (Fault[])[Fault.WrongForm, Fault.WrongThousand, Fault.WrongHydrate, Fault.MassForVolume])
        {
            bool[][] pasts = kind switch
            {
                Fault.WrongHydrate => [stock],
                Fault.MassForVolume => [none, preparation],
                _ => [none, preparation, stock],
            };
            var slips = _evidence.Slips.Where(s => s.Kind == kind).ToList();
            // each ratio is one hypothesis, since its scatter is its own
            foreach (var slip in slips)
            {
                var size = new SizeTerm(1, [slip.Ratio - 1], [(kind == Fault.MassForVolume ? 0.003 : 0.02) * slip.Ratio]);
                yield return new(kind, [.. pasts.Select(past => new FaultPattern(1.0 / pasts.Length / slips.Count, [Levels(c => c, past)], [size]))], Spread.Usual, slip.Ratio, HasOwnSize: true);
            }
        }

        var gain = Sizes(_gain, Factor, 0.5);
        yield return Proportional(Fault.StockOff, stock, gain);
        yield return Proportional(Fault.LotStrength, lot, Sizes(_gain, Factor, 0.35));
        yield return Proportional(Fault.DeliveryOff, preparation, gain);
        yield return Proportional(Fault.SettingChanged, settings, gain);
        yield return Proportional(Fault.SampleVolume, none, Sizes(0.1 * VolumeShare(), Factor, 0.5));
        yield return new(Fault.ReagentWeakened, [new(1, [Levels(c => c, LotAges(lot))], Sizes(_gain, Factor, 0))]);

        var amount = 2 * _leastTolerance;
        yield return new(Fault.ReagentBlank, [new(1, [Levels(_ => 1, lot)], Sizes(amount, 2.5, 0.75))]);
        yield return new(Fault.MatrixContaminated, [new(1, [Levels(_ => 1, preparation)], Sizes(amount, 2.5, 1))]);
        yield return new(Fault.DirtyWindow, [.. AnyTimeSince(settings, _ => 1, Sizes(amount, 2.5, 1), 1)]);
        var flattening = new[] { 1.0, 3 };
        yield return new(Fault.Saturation, _greatest == 0 ? [] : [.. flattening.SelectMany(p => AnyTimeSince(settings, c => -c * Math.Pow(c / _greatest, p), Sizes(_gain, Factor, 1), 0.5))]);

        yield return Rinse(none);
        yield return CarryOver();
        yield return WrongMethod(none);
        yield return Aged(Fault.Evaporated, preparation);
        yield return Aged(Fault.Losses, preparation);
        yield return Drift();
        yield return OneOdd();
    }

    private static FaultHypothesis NoEffect(Fault fault) => new(fault, []);

    private FaultHypothesis Proportional(Fault fault, bool[] past, SizeTerm[] sizes) =>
        _greatest == 0 ? NoEffect(fault) : new(fault, [new(1, [Levels(c => c, past)], sizes)]);

    /// <summary>A direction that depends on the level alone; earlier checks have it where they had the carrier.</summary>
    private double[] Levels(Func<double, double> effect, bool[] past) => Levels(effect, [.. past.Select(p => p ? 1.0 : 0)]);

    private double[] Levels(Func<double, double> effect, double[] past) =>
        [.. Today.Select(t => effect(_levels[t.Level].Known)), .. Before.Select(b => past[b.Check] == 0 ? 0 : past[b.Check] * effect(_earlier[b.Check].Levels[b.Level].Known))];

    /// <summary>How old the lot was at each earlier check, as a share of its age now; zero for another lot.</summary>
    private double[] LotAges(bool[] lot)
    {
        var oldest = _earlier.Where((_, i) => lot[i]).Select(e => e.DaysBefore).DefaultIfEmpty(0).Max();
        var now = _evidence.LotAgeDays is { } age && age >= oldest ? age : oldest * 1.25;
        return [.. _earlier.Select((e, i) => lot[i] && now > 0 ? Math.Max(0, (now - e.DaysBefore) / now) : 0)];
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
        var patterns = new List<FaultPattern>();
        foreach (var (k, weight) in shares)
        {
            var direction = new double[Length];
            for (var i = 0; i < Today.Length; i++)
            {
                var (level, reading) = Today[i];
                if ((level == 0 ? _evidence.FormerValue : _levels[level - 1].Known) is { } former)
                    direction[i] = Math.Pow(k, reading) * (former - _levels[level].Known);
            }
            if (direction.Any(d => d != 0))
                patterns.Add(new(weight, [direction], [new(1, [k], [0.3 * k])]));
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
            patterns.Add(new(1.0 / powers.Length, [direction], Sizes(loses ? Math.Min(0.5, most / 2) : most / 2, spread, 1)));
        }
        return new(fault, patterns);
    }

    private FaultHypothesis Drift()
    {
        if (Today.Length < 3 || _greatest == 0)
            return NoEffect(Fault.DriftWithin);
        double[] Direction(Func<double, double> course)
        {
            var direction = new double[Length];
            for (var i = 0; i < Today.Length; i++)
                direction[i] = _levels[Today[i].Level].Known * course((double)i / (Today.Length - 1));
            return direction;
        }
        var sizes = Sizes(_gain, Factor, 0.5);
        return new(Fault.DriftWithin, [new(0.5, [Direction(t => Math.Exp(-3 * t))], sizes), new(0.5, [Direction(t => t)], sizes)]);
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
