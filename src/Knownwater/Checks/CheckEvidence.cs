namespace Knownwater.Checks;

/// <summary>All that a diagnosis of a failed check rests on. Only <see cref="Levels"/> is required; what else is known sharpens it.</summary>
/// <remarks>
/// To gather it from records: the levels in the order in which they were run; what each was made with (<see cref="Carriers"/>); the earlier checks of the same method with what they were made with; the
/// slips in play, from <see cref="Slips.For"/>. Everything is in the reporting form of the check; scaling all amounts by one factor changes nothing.
/// </remarks>
public sealed record CheckEvidence
{
    internal const int MostReadings = 120;

    /// <summary>The levels in the order in which they were run; at least one.</summary>
    public required IReadOnlyList<LevelEvidence> Levels { get; init; }

    /// <summary>The method.</summary>
    public MethodEvidence Method { get; init; } = new();

    /// <summary>What this check was made with.</summary>
    public CheckCarriers Carriers { get; init; } = new();

    /// <summary>Days since the lot of the reagent was opened, zero or above; null where it is not known.</summary>
    public double? LotAgeDays { get; init; }

    /// <summary>What the chamber held before the first reading, as of tank water; zero or above, null where it is not known: then nothing is said of the first level’s carry-over.</summary>
    public double? FormerValue { get; init; }

    /// <summary>Ratios that a slip would give; may be empty.</summary>
    public IReadOnlyList<Slip> Slips { get; init; } = [];

    /// <summary>Earlier checks in any order; the latest twelve count.</summary>
    public IReadOnlyList<EarlierCheck> Earlier { get; init; } = [];

    /// <summary>Whether the lot is past its date or in-use time.</summary>
    public bool LotIsPastUse { get; init; }

    /// <summary>Whether the stock is past its date or in-use time.</summary>
    public bool StockIsPastUse { get; init; }

    /// <summary>Whether the known water is older than its kind keeps.</summary>
    public bool WaterIsPastUse { get; init; }

    internal void Validate()
    {
        ArgumentNullException.ThrowIfNull(Levels);
        ArgumentNullException.ThrowIfNull(Method);
        ArgumentNullException.ThrowIfNull(Carriers);
        ArgumentNullException.ThrowIfNull(Slips);
        ArgumentNullException.ThrowIfNull(Earlier);
        if (Levels.Count == 0)
            throw new ArgumentException("There is no level, so there is nothing to diagnose. Give at least one with its readings.", nameof(Levels));
        foreach (var level in Levels)
        {
            NotNegative(level.Known, nameof(level.Known), "known value");
            Positive(level.Tolerance, nameof(level.Tolerance), "tolerance");
            NotNegative(level.StockU, nameof(level.StockU), "doubt from the stock");
            NotNegative(level.PreparationU, nameof(level.PreparationU), "doubt from the preparation");
            NotNegative(level.BackgroundU, nameof(level.BackgroundU), "doubt from the background");
            NotNegative(level.Resolution, nameof(level.Resolution), "display step");
            Positive(level.UsualSd ?? 1, nameof(level.UsualSd), "usual scatter");
            NotNegative(level.AgeDays ?? 0, nameof(level.AgeDays), "age of the water");
            NotNegative(level.MostLossPercentPerDay ?? 0, nameof(level.MostLossPercentPerDay), "most loss a day");
            NotNegative(level.MostEvaporationPercentPerDay ?? 0, nameof(level.MostEvaporationPercentPerDay), "most evaporation a day");
            if (!(level.UsualSdDof > 0))
                throw new ArgumentOutOfRangeException(nameof(level.UsualSdDof), level.UsualSdDof, $"The usual scatter rests on {level.UsualSdDof} degrees of freedom, but there must be more than zero. Take 6 for a typical figure.");
            ArgumentNullException.ThrowIfNull(level.Readings);
            if (level.Readings.Count == 0)
                throw new ArgumentException($"The level at {level.Known} has no readings. Give them, or leave the level out.", nameof(Levels));
            foreach (var reading in level.Readings)
                Finite(reading.Value, nameof(level.Readings), "reading");
        }
        if (Levels.Sum(l => l.Readings.Count) > MostReadings)
            throw new ArgumentException($"There are {Levels.Sum(l => l.Readings.Count)} readings, but a diagnosis takes at most {MostReadings}. Give those of one check.", nameof(Levels));
        NotNegative(LotAgeDays ?? 0, nameof(LotAgeDays), "age of the lot");
        NotNegative(FormerValue ?? 0, nameof(FormerValue), "value of the former sample");
        Positive(Method.SampleMillilitres ?? 1, nameof(Method.SampleMillilitres), "sample volume");
        Positive(Method.ReagentMillilitres ?? 1, nameof(Method.ReagentMillilitres), "reagent volume");
        Positive(Method.ResidualMillilitres ?? 1, nameof(Method.ResidualMillilitres), "residual volume");
        Positive(Method.MinutesPerReading, nameof(Method.MinutesPerReading), "time of a reading");
        if (Method.Rinses < 0)
            throw new ArgumentOutOfRangeException(nameof(Method.Rinses), Method.Rinses, $"The number of rinses is {Method.Rinses}, but it must be zero or more.");
        foreach (var slip in Slips)
            ArgumentNullException.ThrowIfNull(slip);
        foreach (var check in Earlier)
        {
            Positive(check.DaysBefore, nameof(check.DaysBefore), "time since an earlier check");
            ArgumentNullException.ThrowIfNull(check.Carriers);
            if (check.Levels.Count == 0)
                throw new ArgumentException($"The check of {check.DaysBefore} days before has no level. Give its levels, or leave it out.", nameof(Earlier));
            foreach (var level in check.Levels)
            {
                NotNegative(level.Known, nameof(level.Known), "known value of an earlier check");
                Finite(level.Bias, nameof(level.Bias), "bias of an earlier check");
                Positive(level.MeanU, nameof(level.MeanU), "doubt of an earlier mean");
            }
        }
    }

    private static void Finite(double value, string name, string what)
    {
        if (!double.IsFinite(value))
            throw new ArgumentOutOfRangeException(name, value, $"The {what} is {value}, but it must be a finite number. Give the number, or leave it out.");
    }

    private static void NotNegative(double value, string name, string what)
    {
        if (!(value >= 0) || double.IsInfinity(value))
            throw new ArgumentOutOfRangeException(name, value, $"The {what} is {value}, but it must be zero or above, and finite. Give it in the form of the check.");
    }

    private static void Positive(double value, string name, string what)
    {
        if (!(value > 0) || double.IsInfinity(value))
            throw new ArgumentOutOfRangeException(name, value, $"The {what} is {value}, but it must be above zero, and finite. Give it in the form of the check, or leave it out where that is allowed.");
    }
}
