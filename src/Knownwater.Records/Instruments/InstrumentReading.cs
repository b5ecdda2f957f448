using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Instruments;

/// <summary>Reads instruments with all that belongs to them into what pages show.</summary>
internal static class InstrumentReading
{
    public static async Task<IReadOnlyList<InstrumentView>> Read(RecordsContext records, IQueryable<Instrument> which, BenchSetting bench, CancellationToken cancel)
    {
        var instruments = await which.AsNoTracking().OrderBy(i => i.Name).ToListAsync(cancel);
        var ids = instruments.Select(i => i.Id).ToList();
        var settings = (await records.InstrumentSettings.AsNoTracking().Where(s => ids.Contains(s.InstrumentId)).OrderByDescending(s => s.On).ThenByDescending(s => s.RecordedAt).ToListAsync(cancel)).ToLookup(s => s.InstrumentId);
        var methods = await records.Methods.AsNoTracking().Where(m => ids.Contains(m.InstrumentId)).ToListAsync(cancel);
        var methodIds = methods.Select(m => m.Id).ToList();
        var lots = (await (
            from use in records.MethodLots.AsNoTracking()
            where methodIds.Contains(use.MethodId)
            join lot in records.Lots on use.LotId equals lot.Id
            select new { use.MethodId, use.To, Lot = lot }).ToListAsync(cancel)).ToLookup(x => x.MethodId, x => (x.Lot, x.To));
        var last = await LastChecks(records, methodIds, cancel);
        var views = methods.Select(m => View(m, lots[m.Id], last.GetValueOrDefault(m.Id), bench)).OrderBy(m => m.Name, StringComparer.Ordinal).ToLookup(m => m.Instrument);
        return instruments.Select(i => new InstrumentView(i.Id, i.Name, i.Kind, Words.Kind(i.Kind), i.Note,
            settings[i.Id].Select(s => new SettingView(s.Id, s.On, Words.Day(s.On, bench.Today), s.What, s.Old, s.New, s.Why, s.Who)).ToList(),
            views[i.Id].ToList())).ToList();
    }

    /// <summary>The last closed check of each method.</summary>
    public static async Task<Dictionary<Guid, Check>> LastChecks(RecordsContext records, IReadOnlyList<Guid> methods, CancellationToken cancel)
    {
        // a key each by the index, whatever the number of checks
        var last = await records.Methods.Where(m => methods.Contains(m.Id))
            .Select(m => records.Checks.Where(c => c.MethodId == m.Id && c.Verdict != null).OrderByDescending(c => c.StartedAt).Select(c => (Guid?)c.Id).FirstOrDefault()).ToListAsync(cancel);
        var checks = await records.Checks.AsNoTracking().Where(c => last.Contains(c.Id)).ToListAsync(cancel);
        return checks.ToDictionary(c => c.MethodId!.Value);
    }

    private static MethodView View(Method method, IEnumerable<(Lot Lot, LocalDate? To)> lots, Check? last, BenchSetting bench)
    {
        var measured = Measured.Of(method.ParameterKey, method.OtherName, method.Form);
        var own = (method.ToleranceAbsolute ?? 0) + (method.TolerancePercent ?? 0) > 0 ? new Tolerance(method.ToleranceAbsolute ?? 0, method.TolerancePercent ?? 0) : null;
        var usual = own ?? (measured.Key != Measured.Other && measured.Parameter.DefaultTolerance(UsualUse.For(bench.MainUse, method.Matrix)) is { } listed && UsualScatter.Factor(measured) is { } factor
            ? new Tolerance(listed.Absolute * factor, listed.Percent) : null);
        return new MethodView
        {
            Id = method.Id,
            Instrument = method.InstrumentId,
            Name = measured.NameWithForm,
            ParameterKey = method.ParameterKey,
            ParameterName = measured.Name,
            Form = measured.Form,
            Matrix = method.Matrix,
            SalinityLow = method.SalinityLowTyped,
            SalinityHigh = method.SalinityHighTyped,
            SampleVolume = method.SampleVolumeTyped,
            RangeLow = method.RangeLowTyped,
            RangeHigh = method.RangeHighTyped,
            Resolution = method.ResolutionTyped,
            Scale = method.Scale ?? ReadingScale.Display,
            Steps = method.StepsTyped,
            ValuePerDrop = method.ValuePerDropTyped,
            TableAllowsForLastDrop = method.TableAllowsForLastDrop,
            ScaleWords = KitScale.Of(method)?.Words(measured.Form, bench.Sign) ?? "",
            ScaleHint = KitScale.Of(method)?.Hint(measured.Form, bench.Sign) ?? "",
            ScaleChoices = KitScale.Of(method)?.Choices(bench.Sign) ?? [],
            ReadingUnit = KitScale.Of(method)?.Unit(measured.Form) ?? measured.Form.Display,
            MinutesPerReading = method.MinutesPerReadingTyped,
            ToleranceAbsolute = method.ToleranceAbsoluteTyped,
            TolerancePercent = method.TolerancePercentTyped,
            ToleranceWords = usual is null ? "not said yet" : "± " + Words.ToleranceParts(usual, measured.Form, bench.Sign) + (own is null ? ", the usual one" : ""),
            Lots = lots.OrderBy(l => l.To is not null || l.Lot.EmptiedOn is not null).ThenByDescending(l => l.Lot.OpenedOn).ThenBy(l => l.Lot.Name, StringComparer.Ordinal).Select(l => View(l.Lot, l.To, bench.Today)).ToList(),
            LastCheck = last?.Id,
            LastVerdict = last?.Verdict,
            LastCheckWords = last is null ? "never checked" : $"{VerdictWords.Word(last.Verdict!.Value)}, {Words.Day(bench.DayOf(last.StartedAt), bench.Today)}",
        };
    }

    private static LotView View(Lot lot, LocalDate? to, LocalDate today)
    {
        var outOn = lot.EmptiedOn ?? to;
        var expired = outOn is null && lot.ExpiresOn < today;
        var words = $"opened {Words.Day(lot.OpenedOn, today)}";
        if (outOn is { } o)
            words += $", out of use since {Words.Day(o, today)}";
        else if (lot.ExpiresOn is { } e)
            words += expired ? $", past its date since {Words.Day(e, today)}" : $", good until {Words.Day(e, today)}";
        return new LotView(lot.Id, lot.Name, lot.Reagent, lot.OpenedOn, lot.ExpiresOn, outOn, words, expired);
    }
}
