using System.Text.Json;
using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Records.Tanks;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>Gathers what the records know of a check, for its diagnosis: the levels, what each was made with, and the earlier checks of the method.</summary>
internal sealed class EvidenceReading(RecordsContext records, BenchSetting bench)
{
    private const int MostEarlier = 12, DefaultMinutes = 10, FewReadings = 2, UsualRinses = 2;

    /// <summary>The evidence; null where no level has a reading that counts.</summary>
    public async Task<CheckEvidence?> Of(CheckRows rows, CancellationToken cancel)
    {
        var check = rows.Check;
        var method = check.MethodId is { } m ? await records.Methods.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().FirstOrDefaultAsync(x => x.Id == m, cancel) : null;
        var earlier = method is null ? [] : await CheckRows.Read(records, records.Checks.AsNoTracking()
            .Where(c => c.MethodId == method.Id && c.State == CheckState.Closed && c.Kind == null && c.Form == check.Form && c.StartedAt < check.StartedAt)
            .OrderByDescending(c => c.StartedAt).Take(MostEarlier), cancel);
        var waters = await Waters([rows, .. earlier], cancel);
        var lots = await Lots([rows, .. earlier], cancel);
        var settings = method is null ? [] : await records.InstrumentSettings.AsNoTracking().Where(s => s.InstrumentId == method.InstrumentId).OrderBy(s => s.On).ThenBy(s => s.RecordedAt).ToListAsync(cancel);

        var instrument = method is null ? null : await records.Instruments.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().Where(i => i.Id == method.InstrumentId).Select(i => new { i.Id, i.Kind }).SingleAsync(cancel);
        var procedure = instrument is null ? null : (await ProcedureReading.Read(records, instrument.Id, instrument.Kind, null, cancel))?.Procedure;

        var levels = new List<LevelEvidence>();
        foreach (var level in rows.Levels)
        {
            if (await Level(rows, level, Water(level, waters), cancel) is { } evidence)
                levels.Add(evidence);
        }
        if (levels.Count == 0)
            return null;

        var today = Carriers(rows, waters, lots, settings, null);
        var first = rows.Levels.Select(l => Water(l, waters)).FirstOrDefault(w => w is not null);
        var stocks = waters.Values.Select(w => w.StockId).OfType<Guid>().Distinct().ToList();
        var onThe = bench.DayOf(check.StartedAt);
        var ownLots = lots[check.Id].ToList();
        return new CheckEvidence
        {
            Levels = levels,
            Method = new MethodEvidence
            {
                SampleMillilitres = method?.SampleVolumeMillilitres is > 0 and var sample ? sample : null,
                ResidualMillilitres = procedure?.ResidualMillilitres is > 0 and var residual ? residual : null,
                Rinses = procedure?.Rinses ?? UsualRinses,
                MatrixFits = MatrixFits(check, method, first),
                MinutesPerReading = check.MinutesPerReading is > 0 and var minutes ? minutes : DefaultMinutes,
            },
            Carriers = today.Named,
            FormerValue = await Former(rows, method, cancel),
            LotAgeDays = ownLots.Count == 0 ? null : ownLots.Max(l => Math.Max(0, Period.DaysBetween(l.OpenedOn, onThe))),
            Slips = Slips.For(rows.Measured.Parameter, rows.Measured.Form, State(check, first), await Weighed(rows, waters, cancel)),
            Earlier = [.. earlier.Select(e => Earlier(e, check, Carriers(e, waters, lots, settings, today).Named)).OfType<EarlierCheck>()],
            LotIsPastUse = ownLots.Exists(l => l.ExpiresOn < onThe),
            StockIsPastUse = await records.Stocks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking()
                .Where(s => stocks.Contains(s.Id) && s.UseBy != null).Select(s => new { s.Id, s.UseBy }).ToListAsync(cancel) is { } dated
                && rows.Levels.Any(l => dated.Any(s => s.Id == Water(l, waters)?.StockId && s.UseBy < onThe)),
            WaterIsPastUse = rows.Levels.Any(l => Water(l, waters)?.UseBy < onThe),
        };
    }

    /// <summary>What the chamber held before the first reading: tank water, as the instrument read it last; null where that is not known, and where another check came between.</summary>
    private async Task<double?> Former(CheckRows rows, Method? method, CancellationToken cancel)
    {
        var check = rows.Check;
        if (method is null || check.ParameterKey == Measured.Other
            || await new LatestTankReading(records).Handle(method.InstrumentId, check.ParameterKey, check.StartedAt, cancel) is not { Censoring: Censoring.None, Value: >= 0 } former
            || !former.Form.Equals(rows.Measured.Form))
            return null;
        var known = await (
            from c in records.Checks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking()
            where c.Id != check.Id && c.StartedAt >= former.At && c.StartedAt <= check.StartedAt
            join m in records.Methods.IgnoreQueryFilters([RecordsContext.DeletedFilter]) on c.MethodId equals m.Id
            where m.InstrumentId == method.InstrumentId
            select c.Id).AnyAsync(cancel);
        return known ? null : former.Value;
    }

    private async Task<LevelEvidence?> Level(CheckRows rows, LevelRows level, ReferenceWater? water, CancellationToken cancel)
    {
        var counted = level.Replicates.Where(r => r.ExcludedReason is null).Select(r => new Indication(r.Value, r.Censoring)).ToList();
        if (counted.Count == 0)
            return null;
        var plan = JudgeLevel.Plan(rows, level);
        var (stock, background) = await Sources(water, cancel);
        double Share(Func<Guid, bool> of) => Math.Sqrt(level.Known.Contributions.Where(c => of(c.Source.Id)).Sum(c => c.Value * c.Value));
        var usual = plan.Prior ?? UsualScatter.Typical(rows.Measured, rows.Check.Matrix, level.Known.Value);
        var known = Math.Max(0, level.Known.Value);
        var kind = water is null ? null : WaterAgeing.Kind(water, known);
        return new LevelEvidence
        {
            Known = known,
            Readings = counted,
            Tolerance = plan.ToleranceHere,
            StockU = water is null ? level.Known.StandardUncertainty : Share(stock.Contains),
            BackgroundU = Share(id => background.Contains(id) && !stock.Contains(id)),
            PreparationU = water is null ? 0 : Share(id => !stock.Contains(id) && !background.Contains(id)),
            UsualSd = usual?.Value is > 0 and var sd ? sd : null,
            UsualSdDof = usual?.Dof ?? UsualScatter.TypicalDof,
            Resolution = rows.Check.Resolution,
            AgeDays = water is null ? null : Math.Max(0, (rows.Check.StartedAt - (water is { PreparationId: null, MadeOn: { } opened } ? opened.AtStartOfDayInZone(bench.Zone).ToInstant() : water.AddedAt)).TotalDays),
            MostLossPercentPerDay = kind is null ? null : kind.IsUpward ? 0 : kind.HighPercentPerDay,
        };
    }

    /// <summary>Identities of the error sources that come from the stock of a water, and from the background of what it was made in.</summary>
    private async Task<(HashSet<Guid> Stock, HashSet<Guid> Background)> Sources(ReferenceWater? water, CancellationToken cancel)
    {
        if (water is null)
            return ([], []);
        async Task<HashSet<Guid>> Of(List<Guid> estimates) => [.. (await records.Estimates.Read(estimates, cancel)).Values.SelectMany(e => e.Contributions).Select(c => c.Source.Id)];
        var stock = water.StockId is { } s
            ? await Of(await records.Stocks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().Where(x => x.Id == s || x.BottleId == s).Select(x => x.EstimateId).ToListAsync(cancel))
            : await Of([water.EstimateId]);
        var made = water.PreparationId is { } p ? await records.Preparations.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().FirstOrDefaultAsync(x => x.Id == p, cancel) : null;
        var background = made is null ? [] : await Of(await records.Backgrounds.AsNoTracking().Where(b => b.WaterId == made.NutrientFreeWaterId && b.ParameterKey == water.ParameterKey).Select(b => b.EstimateId).ToListAsync(cancel));
        return (stock, background);
    }

    /// <summary>What a check was made with. A thing that one of today's waters or lots shares with an earlier check counts as today's there.</summary>
    private Made Carriers(CheckRows rows, Dictionary<Guid, ReferenceWater> waters, ILookup<Guid, Lot> lots, IReadOnlyList<InstrumentSetting> settings, Made? today)
    {
        var used = rows.Levels.Select(l => Water(l, waters)).OfType<ReferenceWater>().ToList();
        var onThe = bench.DayOf(rows.Check.StartedAt);
        var set = settings.LastOrDefault(s => s.On <= onThe);
        var made = new Made(
            [.. lots[rows.Check.Id].Select(l => l.Id)],
            [.. used.Select(w => w.StockId ?? w.Id)],
            [.. used.Select(w => w.PreparationId ?? w.Id)],
            rows.Check.MethodId is null ? null : set?.Id.ToString() ?? "as first set");
        return made with { Named = new CheckCarriers { Lot = Name(made.Lots, today?.Lots), Stock = Name(made.Stocks, today?.Stocks), Preparation = Name(made.Preparations, today?.Preparations), Settings = made.Settings } };
    }

    private static string? Name(HashSet<Guid> own, HashSet<Guid>? todays) =>
        own.Count == 0 ? null : todays is null || own.Overlaps(todays) ? "today’s" : string.Join(' ', own.Order());

    private static EarlierCheck? Earlier(CheckRows rows, Check failed, CheckCarriers carriers)
    {
        var levels = new List<EarlierLevel>();
        foreach (var level in rows.Levels.Where(l => l.Row is { Bias: not null, HasLimits: false, JudgedReplicates: > 0 }))
        {
            var n = level.Row.JudgedReplicates;
            // few readings say little of their own scatter
            var usual = level.Row is { PriorSd: { } prior } && n <= FewReadings ? prior : level.Row.Sd ?? level.Row.PriorSd ?? 0;
            var u = Math.Sqrt((usual * usual + rows.Check.Resolution * rows.Check.Resolution / 12) / n);
            if (u > 0)
                levels.Add(new EarlierLevel(Math.Max(0, level.Known.Value), level.Row.Bias!.Value, u));
        }
        var days = (failed.StartedAt - rows.Check.StartedAt).TotalDays;
        return levels.Count == 0 || days <= 0 ? null : new EarlierCheck { DaysBefore = days, Levels = levels, Carriers = carriers };
    }

    private static bool? MatrixFits(Check check, Method? method, ReferenceWater? water)
    {
        if (method is null || (water?.Matrix ?? check.Matrix) is not { } matrix)
            return null;
        if (matrix != method.Matrix)
            return false;
        return (water?.Salinity ?? check.Salinity) is not { } salinity ? true : !(salinity < method.SalinityLow) && !(salinity > method.SalinityHigh);
    }

    private static WaterState? State(Check check, ReferenceWater? water)
    {
        var salinity = (water?.Matrix ?? check.Matrix) == Matrix.FreshWater ? 0 : water?.Salinity ?? check.Salinity;
        try
        {
            return salinity is { } s ? new WaterState(s, check.TemperatureCelsius ?? 25) : null;
        }
        catch (ArgumentOutOfRangeException)
        {
            return null;
        }
    }

    private async Task<ChemicalFormula?> Weighed(CheckRows rows, Dictionary<Guid, ReferenceWater> waters, CancellationToken cancel)
    {
        var stock = rows.Levels.Select(l => Water(l, waters)?.StockId).FirstOrDefault(s => s is not null);
        if (stock is null)
            return null;
        var inputs = await (
            from s in records.Stocks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking()
            where s.Id == stock
            join e in records.EstimateRows on s.EstimateId equals e.Id
            where e.Model == WeighStock.Model
            select e.Inputs).FirstOrDefaultAsync(cancel);
        if (inputs is null)
            return null;
        using var document = JsonDocument.Parse(inputs);
        return document.RootElement.TryGetProperty("Salt", out var salt) && salt.GetString() is { } text ? ChemicalFormula.Parse(text) : null;
    }

    private async Task<Dictionary<Guid, ReferenceWater>> Waters(IReadOnlyList<CheckRows> checks, CancellationToken cancel)
    {
        var ids = checks.SelectMany(c => c.Levels).Select(l => l.Row.ReferenceWaterId).OfType<Guid>().Distinct().ToList();
        return await records.ReferenceWaters.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().Where(w => ids.Contains(w.Id)).ToDictionaryAsync(w => w.Id, cancel);
    }

    private async Task<ILookup<Guid, Lot>> Lots(IReadOnlyList<CheckRows> checks, CancellationToken cancel)
    {
        var ids = checks.Select(c => c.Check.Id).ToList();
        var used = await (
            from use in records.CheckLots.AsNoTracking()
            where ids.Contains(use.CheckId)
            join lot in records.Lots.IgnoreQueryFilters([RecordsContext.DeletedFilter]) on use.LotId equals lot.Id
            select new { use.CheckId, Lot = lot }).ToListAsync(cancel);
        return used.ToLookup(u => u.CheckId, u => u.Lot);
    }

    private static ReferenceWater? Water(LevelRows level, Dictionary<Guid, ReferenceWater> waters) => level.Row.ReferenceWaterId is { } id ? waters.GetValueOrDefault(id) : null;

    private sealed record Made(HashSet<Guid> Lots, HashSet<Guid> Stocks, HashSet<Guid> Preparations, string? Settings)
    {
        public CheckCarriers Named { get; init; } = new();
    }
}
