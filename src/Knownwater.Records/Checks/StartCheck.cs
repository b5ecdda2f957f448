using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>Starts a check: fixes plan and number of readings before the first one.</summary>
public sealed class StartCheck(RecordsContext records, Clock clock)
{
    /// <summary>The most readings a level.</summary>
    public const int MostReadings = 30;

    /// <summary>The most conditioning runs a series.</summary>
    public const int MostConditioningRuns = 10;

    /// <summary>The most levels a check.</summary>
    public const int MostLevels = 6;

    /// <summary>The plan of a check; numbers as typed. A quick verdict is a check without method.</summary>
    public sealed record Command
    {
        /// <summary>Key of a listed parameter, or <c>other</c>.</summary>
        public required string Parameter { get; init; }

        /// <summary>Name of another analyte; only with <c>other</c>.</summary>
        public string OtherName { get; init; } = "";

        /// <summary>Reporting form as text, <c>mg/L Cd</c>; empty for the parameter's own.</summary>
        public string Form { get; init; } = "";

        /// <summary>Method under check; null for none yet.</summary>
        public Guid? Method { get; init; }

        /// <summary>One to six levels.</summary>
        public required IReadOnlyList<LevelEntry> Levels { get; init; }

        /// <summary>Tolerance in the form's unit as typed; both parts empty for the method's, else the default of the main use.</summary>
        public string ToleranceAbsolute { get; init; } = "";

        /// <summary>Tolerance in percent of the known value as typed.</summary>
        public string TolerancePercent { get; init; } = "";

        /// <summary>Number of readings a level as typed.</summary>
        public string Replicates { get; init; } = "";

        /// <summary>On what the verdict over several levels rests; null for the program's choice: the difference where a shared background leaves the lowest level in doubt.</summary>
        public LevelsBasis? Basis { get; init; }

        /// <summary>Whether one extension is declared beforehand.</summary>
        public bool ExtensionDeclared { get; init; }

        /// <summary>Whether the typical scatter of the parameter is pooled as a weak prior, until the method has its own history.</summary>
        public bool UseTypicalScatter { get; init; }

        /// <summary>Step of the display as typed; empty for the method's, else none.</summary>
        public string Resolution { get; init; } = "";

        /// <summary>Minutes that a reading takes as typed; empty for the method's, else unknown.</summary>
        public string MinutesPerReading { get; init; } = "";

        /// <summary>What the check asks; other than the usual it takes one level of one method, and reads it twice.</summary>
        public CheckKind Kind { get; init; }

        /// <summary>Runs at the beginning of each series that do not count, as typed; empty for none.</summary>
        public string ConditioningRuns { get; init; } = "";

        /// <summary>Whether a line check or changeover is made with water of a steady level whose value is not known; its one level is then what it reads about, and its doubt is not read.</summary>
        public bool SteadyWater { get; init; }

        /// <summary>The old bottle of a changeover, one of the lots in use; null where not said.</summary>
        public Guid? OldLot { get; init; }

        /// <summary>The new bottle of a changeover.</summary>
        public Guid? NewLot { get; init; }

        /// <summary>Whether the person said that automatic dosing is paused.</summary>
        public bool AutomationPaused { get; init; }

        /// <summary>Why a lot past its date is used all the same; only asked for where there is one.</summary>
        public string ExpiredLotReason { get; init; } = "";

        /// <summary>The round it belongs to; null where it stands alone.</summary>
        public Guid? Round { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The check was started and takes readings.</summary>
        public sealed record Started(Guid Check) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Start(command, act, cancel), cancel);
    }

    private async Task<Outcome> Start(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        var plan = new PlanFields(records, bench, fields);
        var who = fields.Optional("Who", command.Who, 40);
        var method = await plan.Method(command.Method, cancel);
        var lots = await LotsInUse(method, cancel);
        var expired = ExpiredLots.Check(fields, lots, bench.Today, bench.Today, command.ExpiredLotReason);
        if (command.Levels.Count is < 1 or > MostLevels)
            fields.Fault("Levels", $"A check has one to six levels; these are {command.Levels.Count}. Take some away, or make two checks.");
        if (plan.Measured(command.Parameter, command.OtherName, command.Form, method) is not { } measured)
            return new Outcome.Refused(fields.Faults);
        Kind(fields, command, method, lots);
        var conditioning = command.ConditioningRuns.Trim().Length == 0 ? 0
            : fields.Whole("ConditioningRuns", command.ConditioningRuns, "the number of conditioning runs", "", 0, MostConditioningRuns) ?? 0;
        var tolerance = plan.Tolerance(command.ToleranceAbsolute, command.TolerancePercent, measured, method);
        var resolution = plan.Resolution(command.Resolution, method);
        var minutes = plan.Minutes(command.MinutesPerReading, method);
        var number = command.Levels.All(l => l.Replicates.Trim().Length > 0) && command.Replicates.Trim().Length == 0
            ? null : ReadNumber(fields, "Replicates", command.Replicates);
        var levels = new List<ReadLevel>();
        var hides = false;
        Matrix? matrix = method?.Matrix;
        double? salinity = null;
        var salinityTyped = "";
        for (var i = 0; i < Math.Min(command.Levels.Count, MostLevels); i++)
        {
            var entry = command.Levels[i];
            var prefix = $"Levels[{i}].";
            var own = entry.Replicates.Trim().Length > 0 ? ReadNumber(fields, prefix + "Replicates", entry.Replicates) : number;
            Estimate known;
            if (entry.ReferenceWater is { } id)
            {
                if (await plan.Water(prefix + "ReferenceWater", id, measured, method, cancel) is not { } water)
                    continue;
                known = water.Known;
                hides |= water.Water.HidesOffset;
                matrix ??= water.Water.Matrix;
                if (salinity is null)
                    (salinity, salinityTyped) = (water.Water.Salinity, water.Water.SalinityTyped);
                entry = entry with { Known = water.Water.KnownTyped, Doubt = water.Water.DoubtTyped, DoubtKind = water.Water.DoubtKind };
            }
            else
            {
                if (command.SteadyWater)
                    entry = entry with { Doubt = "0", DoubtKind = default };
                if (KnownValue.Read(fields, prefix, entry.Known, entry.Doubt, entry.DoubtKind, measured.Form) is not { } typed)
                    continue;
                known = typed.ToEstimate(clock.NewId(), $"Known value of {NumberWords.Plain(typed.Value, 6, bench.Sign)} {measured.Form.UnitDisplay} as stated", measured.Form);
            }
            if (tolerance is not { } t)
                continue;
            plan.Level(prefix + (entry.ReferenceWater is null ? "Known" : "ReferenceWater"), known.Value, t.Tolerance, measured, method);
            if (own is not { } n || !(t.Tolerance.At(known.Value) > 0))
                continue;
            var usual = await UsualScatter.At(records, method?.Id, measured, matrix, known.Value, t.Tolerance, cancel);
            if (n == 1 && usual is not { IsTypical: false, Dof: >= UsualScatter.OwnFrom })
                fields.Fault(entry.Replicates.Trim().Length > 0 ? prefix + "Replicates" : "Replicates", "One reading says nothing of its own scatter, and this method has too little history at this level. Take three or more.");
            levels.Add(new ReadLevel(entry.ReferenceWater, known, entry.Known.Trim(), entry.Doubt.Trim(), entry.DoubtKind, n, usual, usual is { IsTypical: true } ? command.UseTypicalScatter : usual is not null));
        }
        if (!fields.Ok || tolerance is not { } allowed)
            return new Outcome.Refused(fields.Faults);

        var compared = command.Kind != CheckKind.Usual;
        if (compared)
            levels.Add(levels[0]);
        var check = new Check(records.BenchId, clock.NewId())
        {
            Kind = compared ? command.Kind : null,
            Scale = method?.Scale,
            Steps = method?.Steps ?? "",
            ValuePerDrop = method?.ValuePerDrop,
            TableAllowsForLastDrop = method?.TableAllowsForLastDrop ?? false,
            SteadyWater = command.SteadyWater && compared,
            ConditioningRuns = conditioning,
            MethodId = method?.Id,
            RoundId = command.Round is { } round && await records.Rounds.AnyAsync(r => r.Id == round, cancel) ? round : null,
            Kept = method is not null,
            ParameterKey = measured.Key,
            OtherName = measured.OtherName,
            Form = measured.Form.Text,
            Matrix = matrix,
            Salinity = salinity,
            SalinityTyped = salinityTyped,
            ToleranceAbsolute = allowed.Tolerance.Absolute,
            ToleranceAbsoluteTyped = command.ToleranceAbsolute.Trim(),
            TolerancePercent = allowed.Tolerance.Percent,
            TolerancePercentTyped = command.TolerancePercent.Trim(),
            ToleranceSource = allowed.Source,
            Resolution = resolution,
            ResolutionTyped = command.Resolution.Trim(),
            MinutesPerReading = minutes,
            MinutesPerReadingTyped = command.MinutesPerReading.Trim(),
            ExtensionDeclared = command.ExtensionDeclared,
            LevelsTogether = levels.Count,
            Basis = command.Basis is { } chosen && levels.Count > 1 ? chosen : hides && levels.Count > 1 ? LevelsBasis.Difference : LevelsCheck.Advised([.. levels.Select(l => l.Known)], allowed.Tolerance),
            UseTypicalScatter = command.UseTypicalScatter,
            AutomationPaused = command.AutomationPaused,
            ExpiredLotReason = expired ? command.ExpiredLotReason.Trim() : "",
            Who = who,
            StartedAt = now,
            TouchedAt = now,
        };
        await CheckWriting.Add(records, clock, check, levels, lots, bench.Today, now, cancel, lot => command.Kind != CheckKind.Changeover ? null : lot == command.OldLot ? 1 : lot == command.NewLot ? 2 : null);
        await act.Did(CheckWriting.Started(check, measured, levels, bench.Sign), Subjects.Check, check.Id, cancel);
        return new Outcome.Started(check.Id);
    }

    /// <summary>What a line check and a changeover ask beyond a usual check.</summary>
    private static void Kind(TypedFields fields, Command command, Method? method, List<Lot> lots)
    {
        if (command.Kind == CheckKind.Usual)
        {
            if (command.SteadyWater)
                fields.Fault("SteadyWater", "Whether it reads right, only water of known value tells. Write the value with its doubt, or take a water from the shelf.");
            return;
        }
        if (command.SteadyWater && command.Levels is [{ ReferenceWater: not null }, ..])
            fields.Fault("SteadyWater", "Water from the shelf has a known value. Take that, or the tank’s water, not both.");
        var what = command.Kind == CheckKind.Line ? "A line check" : "A changeover check";
        if (method is null && command.Method is null)
            fields.Fault("Method", $"{what} is made on a method. Choose the method.");
        if (command.Levels.Count > 1)
            fields.Fault("Levels", $"{what} reads one water twice; these are {command.Levels.Count} levels. Leave one.");
        if (command.ExtensionDeclared)
            fields.Fault("ExtensionDeclared", $"{what} takes no extension. Plan as many readings as it may need.");
        if (command.Kind != CheckKind.Changeover)
            return;
        if (command.OldLot is { } one && command.NewLot == one)
            fields.Fault("NewLot", "The new bottle is the old one. Choose the lot that comes into use.");
        foreach (var (field, lot) in (ReadOnlySpan<(string, Guid?)>)[("OldLot", command.OldLot), ("NewLot", command.NewLot)])
        {
            if (lot is { } key && lots.TrueForAll(l => l.Id != key))
                fields.Fault(field, "That lot is not in use by this method any more. Choose another one, or open it first.");
        }
    }

    private Task<List<Lot>> LotsInUse(Method? method, CancellationToken cancel) =>
        method is null ? Task.FromResult(new List<Lot>()) : CheckWriting.LotsInUse(records, method.Id, cancel);

    private static int? ReadNumber(TypedFields fields, string field, string typed) =>
        fields.Whole(field, typed, "the number of readings", "How many readings is not said. Choose a number; it stands once the first reading is in.", 1, MostReadings);
}

/// <summary>One level as entered: a water from the shelf, or a value typed with its doubt.</summary>
public sealed record LevelEntry
{
    /// <summary>Water from the shelf; then the typed value is not read.</summary>
    public Guid? ReferenceWater { get; init; }

    /// <summary>Known value as typed, in the form of the check.</summary>
    public string Known { get; init; } = "";

    /// <summary>Its doubt as typed; “0” is taken as exact.</summary>
    public string Doubt { get; init; } = "";

    /// <summary>What the doubt means.</summary>
    public DoubtMeaning DoubtKind { get; init; }

    /// <summary>Number of readings at this level as typed; empty for the check's.</summary>
    public string Replicates { get; init; } = "";
}
