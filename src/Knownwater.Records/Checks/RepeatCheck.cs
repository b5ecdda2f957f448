using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>Starts a new check by the plan of an older one.</summary>
public sealed class RepeatCheck(RecordsContext records, Clock clock)
{
    /// <summary>The older check.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Why a lot past its date is used all the same; only asked for where there is one.</summary>
        public string ExpiredLotReason { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The new check.</summary>
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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Repeat(command, act, cancel), cancel);
    }

    private async Task<Outcome> Repeat(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        var who = fields.Optional("Who", command.Who, 40);
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        var former = rows.Check;
        // A method that was removed since is left out; the check keeps its plan.
        var method = former.MethodId is { } id && await records.Methods.AnyAsync(m => m.Id == id, cancel) ? former.MethodId : null;
        var lots = method is { } own ? await CheckWriting.LotsInUse(records, own, cancel) : [];
        var expired = ExpiredLots.Check(fields, lots, bench.Today, bench.Today, command.ExpiredLotReason);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var tolerance = new Tolerance(former.ToleranceAbsolute, former.TolerancePercent);
        var levels = new List<ReadLevel>();
        foreach (var level in rows.Levels)
        {
            var known = rows.Compared is not null && levels.Count > 0 ? levels[0].Known : await Today(level, rows.Measured, bench, cancel);
            var usual = await UsualScatter.At(records, method, rows.Measured, former.Matrix, known.Value, tolerance, cancel);
            var single = level.Row.PlannedReplicates == 1 && usual is not { IsTypical: false, Dof: >= UsualScatter.OwnFrom };
            levels.Add(new ReadLevel(level.Row.ReferenceWaterId, known, level.Row.KnownTyped, level.Row.DoubtTyped, level.Row.DoubtKind,
                single ? 3 : level.Row.PlannedReplicates, usual, usual is { IsTypical: true } ? former.UseTypicalScatter : usual is not null));
        }
        var check = new Check(records.BenchId, clock.NewId())
        {
            Kind = former.Kind,
            Scale = former.Scale,
            Steps = former.Steps,
            ValuePerDrop = former.ValuePerDrop,
            TableAllowsForLastDrop = former.TableAllowsForLastDrop,
            SteadyWater = former.SteadyWater,
            ConditioningRuns = former.ConditioningRuns,
            MethodId = method,
            Kept = method is not null,
            ParameterKey = former.ParameterKey,
            OtherName = former.OtherName,
            Form = former.Form,
            Matrix = former.Matrix,
            Salinity = former.Salinity,
            SalinityTyped = former.SalinityTyped,
            ToleranceAbsolute = former.ToleranceAbsolute,
            ToleranceAbsoluteTyped = former.ToleranceAbsoluteTyped,
            TolerancePercent = former.TolerancePercent,
            TolerancePercentTyped = former.TolerancePercentTyped,
            ToleranceSource = former.ToleranceSource,
            Resolution = former.Resolution,
            ResolutionTyped = former.ResolutionTyped,
            MinutesPerReading = former.MinutesPerReading,
            MinutesPerReadingTyped = former.MinutesPerReadingTyped,
            ExtensionDeclared = former.ExtensionDeclared,
            LevelsTogether = levels.Count,
            Basis = former.Basis,
            UseTypicalScatter = former.UseTypicalScatter,
            ExpiredLotReason = expired ? command.ExpiredLotReason.Trim() : "",
            Who = who,
            StartedAt = now,
            TouchedAt = now,
        };
        var only = await records.CheckLots.AsNoTracking().Where(l => l.CheckId == former.Id && l.OnlyLevel != null).ToDictionaryAsync(l => l.LotId, l => l.OnlyLevel, cancel);
        await CheckWriting.Add(records, clock, check, levels, lots, bench.Today, now, cancel, lot => only.GetValueOrDefault(lot));
        await act.Did(CheckWriting.Started(check, rows.Measured, levels, bench.Sign), Subjects.Check, check.Id, cancel);
        return new Outcome.Started(check.Id);
    }

    /// <summary>The known value of a level as it is now: a water that was made here has aged since. One that left the shelf keeps the value it was judged with.</summary>
    private async Task<Estimate> Today(LevelRows level, Measured measured, BenchSetting bench, CancellationToken cancel)
    {
        if (level.Row.ReferenceWaterId is not { } id || await records.ReferenceWaters.AsNoTracking().FirstOrDefaultAsync(w => w.Id == id, cancel) is not { StockId: not null } water
            || measured.FactorFrom(ReportingForm.Parse(water.Form)) is not { } factor)
            return level.Known;
        var known = WaterAgeing.Now(water, await records.Estimates.Read(water.EstimateId, cancel), bench.Now);
        return factor == 1 ? known : known * factor;
    }
}
