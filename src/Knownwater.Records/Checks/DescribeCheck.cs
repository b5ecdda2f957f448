using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>Keeps a check and says what belongs to it: method, lots, conditions, and where the known value came from.</summary>
public sealed class DescribeCheck(RecordsContext records, Clock clock)
{
    /// <summary>What belongs to the check; each part overwrites what was said before.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Method that was under check; null for none.</summary>
        public Guid? Method { get; init; }

        /// <summary>Lots that were in use.</summary>
        public IReadOnlyList<Guid> Lots { get; init; } = [];

        /// <summary>Matrix of the known water; null for the method's, else not said.</summary>
        public Matrix? Matrix { get; init; }

        /// <summary>Practical salinity as typed.</summary>
        public string Salinity { get; init; } = "";

        /// <summary>Temperature at the bench as typed, °C.</summary>
        public string Temperature { get; init; } = "";

        /// <summary>Notes.</summary>
        public string Notes { get; init; } = "";

        /// <summary>Where the known values came from.</summary>
        public IReadOnlyList<LevelOrigin> Origins { get; init; } = [];

        /// <summary>Why a lot past its date was used; only asked for where there is one.</summary>
        public string ExpiredLotReason { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The check is kept and described.</summary>
        public sealed record Described : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Describe(command, act, cancel), cancel);
    }

    private async Task<Outcome> Describe(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        var check = rows.Check;
        var plan = new PlanFields(records, bench, fields);
        var method = await plan.Method(command.Method, cancel);
        if (method is not null)
            plan.Measured(check.ParameterKey, check.OtherName, check.Form, method);
        var salinity = fields.Number("Salinity", command.Salinity, "a salinity", 0, 120);
        var temperature = fields.Number("Temperature", command.Temperature, "the temperature at the bench", -5, 60);
        var notes = fields.Optional("Notes", command.Notes, 4000);
        var matrix = command.Matrix ?? method?.Matrix;
        if (method is not null)
        {
            if (PlanFields.Mismatch(matrix, salinity, method, bench.Sign) is { } mismatch)
                fields.Fault(matrix == method.Matrix ? "Salinity" : "Matrix", mismatch);
            foreach (var level in rows.Levels)
            {
                if (level.Row.ReferenceWaterId is { } water && await records.ReferenceWaters.AsNoTracking().FirstOrDefaultAsync(w => w.Id == water, cancel) is { } known
                    && known.EstimateId != level.Row.EstimateId && PlanFields.Mismatch(known.Matrix, known.Salinity, method, bench.Sign) is { } other)
                    fields.Fault("Method", $"{known.Label}: {Words.Small(other)}");
            }
        }
        var day = bench.DayOf(check.StartedAt);
        var lots = await records.Lots.Where(l => command.Lots.Contains(l.Id)).ToListAsync(cancel);
        if (lots.Count < command.Lots.Distinct().Count())
            fields.Fault("Lots", "One of the lots is not there any more. Choose again.");
        var expired = ExpiredLots.Check(fields, lots, day, bench.Today, command.ExpiredLotReason.Trim().Length > 0 ? command.ExpiredLotReason : check.ExpiredLotReason);
        var origins = await Origins(command, rows, matrix, salinity, bench, fields, cancel);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);

        check.MethodId = method?.Id;
        check.Matrix = matrix;
        check.Salinity = salinity;
        check.SalinityTyped = command.Salinity.Trim();
        check.TemperatureCelsius = temperature;
        check.TemperatureTyped = command.Temperature.Trim();
        check.Notes = notes;
        check.Kept = true;
        if (command.Who.Trim().Length > 0)
            check.Who = command.Who.Trim();
        check.ExpiredLotReason = !expired ? "" : command.ExpiredLotReason.Trim().Length > 0 ? command.ExpiredLotReason.Trim() : check.ExpiredLotReason;
        check.TouchedAt = CheckFaults.Later(check.TouchedAt, now);
        await Lots(check, lots, day, cancel);
        foreach (var (level, origin, madeOn, useBy) in origins)
            await Shelve(command, rows, level, origin, madeOn, useBy, bench, now, cancel);
        await act.Did("Check kept and described.", Subjects.Check, check.Id, cancel);
        return new Outcome.Described();
    }

    private async Task<List<(LevelRows Level, LevelOrigin Origin, LocalDate? MadeOn, LocalDate? UseBy)>> Origins(Command command, CheckRows rows, Matrix? matrix, double? salinity, BenchSetting bench, TypedFields fields, CancellationToken cancel)
    {
        var read = new List<(LevelRows, LevelOrigin, LocalDate?, LocalDate?)>();
        for (var i = 0; i < command.Origins.Count; i++)
        {
            var origin = command.Origins[i];
            var prefix = $"Origins[{i}].";
            if (rows.Check.SteadyWater)
            {
                fields.Fault(prefix + "Origin", "This check was made with water that is only steady. It has no known value, so it cannot go on the shelf as known water.");
                continue;
            }
            if (rows.Level(origin.Level) is not { } level)
            {
                fields.Fault(prefix + "Level", CheckFaults.NoLevel(origin.Level, rows)[0].Sentence);
                continue;
            }
            fields.Optional(prefix + "OriginDetail", origin.OriginDetail, 300);
            fields.Optional(prefix + "Label", origin.Label, 80);
            var madeOn = fields.Day(prefix + "MadeOn", origin.MadeOn);
            var useBy = fields.Day(prefix + "UseBy", origin.UseBy);
            if (madeOn > useBy)
                fields.Fault(prefix + "UseBy", "The last day of use lies before the day it was made. Change one of them.");
            // A water that came from the shelf says itself where it came from.
            // two series of one water: it is said once
            if (rows.Levels.Any(l => l.Row.Ordinal < level.Row.Ordinal && l.Row.EstimateId == level.Row.EstimateId))
                continue;
            if (level.Row.ReferenceWaterId is { } water && !await records.ReferenceWaters.AnyAsync(w => w.Id == water && w.EstimateId == level.Row.EstimateId, cancel))
                continue;
            if (origin.Origin == Origin.NotSaid && origin.OriginDetail.Trim().Length + origin.Label.Trim().Length == 0 && level.Row.ReferenceWaterId is null)
                continue;
            read.Add((level, origin, madeOn, useBy));
        }
        return read;
    }

    private async Task Lots(Check check, List<Lot> lots, LocalDate day, CancellationToken cancel)
    {
        var noted = await records.CheckLots.Where(l => l.CheckId == check.Id).ToListAsync(cancel);
        foreach (var gone in noted.Where(n => lots.TrueForAll(l => l.Id != n.LotId)))
        {
            gone.Deleted = true;
            gone.DeletedReason = "not in use in this check";
        }
        foreach (var lot in lots.Where(l => noted.TrueForAll(n => n.LotId != l.Id)))
            CheckWriting.Add(records, clock, check, lot, day);
    }

    /// <summary>Puts the water of a typed level on the shelf, or changes what was said of it.</summary>
    private async Task Shelve(Command command, CheckRows rows, LevelRows level, LevelOrigin origin, LocalDate? madeOn, LocalDate? useBy, BenchSetting bench, Instant now, CancellationToken cancel)
    {
        var water = level.Row.ReferenceWaterId is { } id ? await records.ReferenceWaters.FirstOrDefaultAsync(w => w.Id == id, cancel) : null;
        if (water is null)
        {
            water = new ReferenceWater(records.BenchId, clock.NewId())
            {
                Code = await ShelfCode.NextWater(records, cancel),
                ParameterKey = rows.Check.ParameterKey,
                OtherName = rows.Check.OtherName,
                Form = rows.Check.Form,
                EstimateId = level.Row.EstimateId,
                KnownTyped = level.Row.KnownTyped,
                DoubtTyped = level.Row.DoubtTyped,
                DoubtKind = level.Row.DoubtKind,
                Who = command.Who.Trim(),
                AddedAt = now,
            };
            records.ReferenceWaters.Add(water);
            foreach (var series in rows.Levels.Where(l => l.Row.EstimateId == level.Row.EstimateId))
                series.Row.ReferenceWaterId = water.Id;
        }
        water.Label = origin.Label.Trim().Length > 0 ? origin.Label.Trim() : $"{rows.Measured.Name} {NumberWords.Plain(level.Known.Value, 4, bench.Sign)} {rows.Measured.Form.UnitDisplay}";
        water.Matrix = rows.Check.Matrix;
        water.Salinity = rows.Check.Salinity;
        water.SalinityTyped = rows.Check.SalinityTyped;
        water.Origin = origin.Origin;
        water.OriginDetail = origin.OriginDetail.Trim();
        water.MadeOn = madeOn;
        water.UseBy = useBy;
    }
}

/// <summary>Where the known value of one level came from; puts the water on the shelf under a label.</summary>
public sealed record LevelOrigin
{
    /// <summary>Ordinal of the level, from one.</summary>
    public required int Level { get; init; }

    /// <summary>Where the value came from.</summary>
    public Origin Origin { get; init; }

    /// <summary>Number of the certificate, the maker's words, or how it was made.</summary>
    public string OriginDetail { get; init; } = "";

    /// <summary>Label of the bottle; empty for parameter and value.</summary>
    public string Label { get; init; } = "";

    /// <summary>Day it was made or opened, yyyy-MM-dd; may be empty.</summary>
    public string MadeOn { get; init; } = "";

    /// <summary>Last day of use, yyyy-MM-dd; may be empty.</summary>
    public string UseBy { get; init; } = "";
}
