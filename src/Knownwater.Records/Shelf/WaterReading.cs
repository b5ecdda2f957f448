using System.Globalization;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Preparation;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Shelf;

/// <summary>Reads a known water into what pages show.</summary>
internal static class WaterReading
{
    /// <summary>What else the bottles of some waters are known for, each by the key of any of its values.</summary>
    public static async Task<Func<ReferenceWater, IReadOnlyList<(ReferenceWater Row, Estimate Known)>>> OthersInBottle(RecordsContext records, IReadOnlyList<ReferenceWater> waters, CancellationToken cancel)
    {
        var bottles = waters.Select(w => w.BottleId ?? w.Id).Distinct().ToList();
        var shared = await records.ReferenceWaters.AsNoTracking().Where(w => w.BottleId != null && bottles.Contains(w.BottleId.Value)).ToListAsync(cancel);
        if (shared.Count == 0)
            return _ => [];
        var firstIds = shared.Select(w => w.BottleId!.Value).Distinct().ToList();
        var all = shared.Concat(await records.ReferenceWaters.AsNoTracking().Where(w => firstIds.Contains(w.Id)).ToListAsync(cancel)).ToList();
        var known = await records.Estimates.Read(all.Select(w => w.EstimateId).ToList(), cancel);
        var byBottle = all.OrderBy(w => w.BottleId is not null).ThenBy(w => w.ParameterKey, StringComparer.Ordinal).ToLookup(w => w.BottleId ?? w.Id);
        return water => [.. byBottle[water.BottleId ?? water.Id].Where(w => w.Id != water.Id).Select(w => (w, known[w.EstimateId]))];
    }

    public static ReferenceWaterView View(ReferenceWater water, Estimate known, BenchSetting bench, BottleAmount amount, IReadOnlyList<(ReferenceWater Row, Estimate Known)> others, IReadOnlyList<CheckLine> checks, Func<Guid, bool>? isBought = null)
    {
        var measured = Measured.Of(water.ParameterKey, water.OtherName, water.Form);
        var days = new List<string>();
        if (water.MadeOn is { } made)
            days.Add($"made or opened {Words.Day(made, bench.Today)}");
        var isPast = WaterAgeing.IsPast(water, known.Value, bench);
        if (WaterAgeing.LastHour(water, known.Value, bench) is { } last)
            days.Add($"{(isPast ? "past its hours since" : "use by")} {Words.ShortMoment(bench.At(last), bench.Today)}");
        else if (water.UseBy is { } useBy)
            days.Add(isPast ? $"past its date since {Words.Day(useBy, bench.Today)}" : $"use by {Words.Day(useBy, bench.Today)}");
        return new ReferenceWaterView
        {
            Id = water.Id,
            Label = water.Label,
            Code = water.BottleId is { } bottle ? others.FirstOrDefault(o => o.Row.Id == bottle).Row?.Code ?? "" : water.Code,
            Bottle = water.BottleId,
            Further = [.. others.Select(o => BottleValue.Of(o.Row, o.Known, bench.Sign))],
            ParameterKey = water.ParameterKey,
            ParameterName = measured.Name,
            Form = measured.Form,
            Matrix = water.Matrix,
            Salinity = water.SalinityTyped,
            MatrixWords = Words.Capital(Words.Water(water.Matrix, water.Salinity, bench.Sign)),
            Known = known,
            KnownWords = KnownWords(known, measured.Form, bench.Sign),
            TodayWords = TodayWords(water, known, measured.Form, bench),
            KnownTyped = water.KnownTyped,
            DoubtTyped = water.DoubtTyped,
            DoubtKind = water.DoubtKind,
            Origin = water.Origin,
            OriginDetail = water.OriginDetail,
            OriginWords = Words.Origin(water.Origin, water.OriginDetail),
            MadeOn = water.MadeOn,
            UseBy = water.UseBy,
            DaysWords = Words.Capital(string.Join(", ", days)),
            AgeWords = WaterAgeing.Words(water, known.Value, bench.Sign),
            PastUseBy = isPast,
            Amount = amount,
            LeftWords = amount.Words(bench.Sign),
            AmountTyped = water.AmountTyped,
            LabelDays = LabelDays(water.MadeOn is { } madeOn ? $"{Words.Capital(Began(water.Origin))} {Words.DayAndYear(madeOn)}" : "", WaterAgeing.LastHour(water, known.Value, bench) is { } hour ? $"{Words.DayAndYear(bench.DayOf(hour))}, {bench.At(hour).ToString("HH:mm", CultureInfo.InvariantCulture)}" : water.UseBy is { } until ? Words.DayAndYear(until) : ""),
            LabelText = LabelText(water, known, measured, others, bench),
            Who = water.Who,
            Doubts = Doubts(known, measured.Form, bench.Sign, isBought ?? (_ => true)),
            Preparation = water.PreparationId,
            Stock = water.StockId,
            HidesOffset = water.HidesOffset,
            Checks = checks,
        };
    }

    /// <summary>How much there is of each of some waters; of its stock, where it is one that is used as it is.</summary>
    public static async Task<Func<ReferenceWater, BottleAmount>> Amounts(RecordsContext records, IReadOnlyList<ReferenceWater> waters, CancellationToken cancel)
    {
        var stockIds = waters.Where(w => w.IsStockItself).Select(w => w.StockId!.Value).Distinct().ToList();
        var wholes = await records.Stocks.AsNoTracking().IgnoreQueryFilters([RecordsContext.DeletedFilter]).Where(s => stockIds.Contains(s.Id)).ToDictionaryAsync(s => s.Id, s => s.AmountMillilitres, cancel);
        var amount = await BottleAmount.Read(records, [.. waters.Select(Bottle)], cancel);
        return water => amount(Bottle(water), water.IsStockItself ? wholes.GetValueOrDefault(water.StockId!.Value) : water.AmountMillilitres);

        static Guid Bottle(ReferenceWater water) => water.IsStockItself ? water.StockId!.Value : water.BottleId ?? water.Id;
    }

    private static string TodayWords(ReferenceWater water, Estimate known, ReportingForm form, BenchSetting bench)
    {
        var today = WaterAgeing.Now(water, known, bench.Now);
        return Math.Abs(today.Value - known.Value) > 0.1 * known.StandardUncertainty || today.StandardUncertainty > 1.05 * known.StandardUncertainty ? KnownWords(today, form, bench.Sign) : "";
    }

    private static string LabelText(ReferenceWater water, Estimate known, Measured measured, IReadOnlyList<(ReferenceWater Row, Estimate Known)> others, BenchSetting bench)
    {
        var what = water.Matrix switch { null => "", Matrix.Seawater => $"seawater{(water.Salinity is { } s ? " " + s.ToString("0.#", CultureInfo.InvariantCulture) : "")}", _ => "fresh water" };
        var useBy = WaterAgeing.LastHour(water, known.Value, bench) is { } last ? bench.At(last).ToString("uuuu-MM-dd HH:mm", CultureInfo.InvariantCulture) : water.UseBy is { } day ? Day(day) : "";
        what = string.Join(", ", others.Select(o => (Measured.Of(o.Row.ParameterKey, o.Row.OtherName, o.Row.Form), o.Known)).Select(o => LabelValue(o.Item1, o.Known)).Append(what).Where(t => t.Length > 0));
        return LabelText(water.Code, measured, known, what, water.MadeOn is { } made ? $"{Began(water.Origin)} {Day(made)}" : "", useBy);
    }

    /// <summary>“KW-12 nitrate 10.15 +/- 0.16 mg/L NO3, seawater 34.9, made 2026-09-03, use by 2026-09-10”, in plain letters, with a point, for any reader of square codes.</summary>
    public static string LabelText(string code, Measured measured, Estimate known, string what, string made, string useBy)
    {
        string[] parts = [$"{code} {LabelValue(measured, known)}".Trim(), what, made, useBy.Length > 0 ? "use by " + useBy : ""];
        return string.Concat(string.Join(", ", parts.Where(p => p.Length > 0)).Select(c => c switch
        {
            '\u00a0' or '\u202f' => ' ',
            '\u2212' => '-',
            >= '\u2080' and <= '\u2089' => (char)(c - '\u2080' + '0'),
            _ => c,
        }));
    }

    private static string LabelValue(Measured measured, Estimate known)
    {
        var (value, doubt) = known.StandardUncertainty == 0 ? (NumberWords.Plain(known.Value, 6, DecimalSign.Point), "") : NumberWords.WithDoubt(known.Value, 1.96 * known.StandardUncertainty, DecimalSign.Point);
        return $"{Words.Small(measured.Name)} {value}{(doubt.Length > 0 ? " +/- " + doubt : "")} {measured.Form.Text}";
    }

    /// <summary>What the first day of a bottle is.</summary>
    public static string Began(Origin origin) => origin switch { Origin.OwnPreparation => "made", Origin.Certificate or Origin.MakersClaim => "opened", _ => "made or opened" };

    /// <summary>The days of a label, one a line, with their year: a label is read when the year is another.</summary>
    public static IReadOnlyList<string> LabelDays(string made, string useBy) => [.. new[] { made, useBy.Length > 0 ? "Use by " + useBy : "" }.Where(d => d.Length > 0)];

    /// <summary>“2026-09-03”.</summary>
    public static string Day(LocalDate day) => day.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>“10.15 ± 0.16 mg/L NO₃”, at 95 %.</summary>
    public static string KnownWords(Estimate known, ReportingForm form, DecimalSign sign)
    {
        if (known.StandardUncertainty == 0)
            return NumberWords.Plain(known.Value, 6, sign) + Words.NoBreak + form.Display;
        var (value, doubt) = NumberWords.WithDoubt(known.Value, 1.96 * known.StandardUncertainty, sign);
        return $"{value}{Words.NoBreak}±{Words.NoBreak}{doubt}{Words.NoBreak}{form.Display}";
    }

    /// <summary>The sources of a value, the largest first.</summary>
    public static IReadOnlyList<DoubtLine> Doubts(Estimate known, ReportingForm form, DecimalSign sign, Func<Guid, bool> isBought) =>
        known.Budget().OrderByDescending(l => l.Share).Select(l =>
        {
            var share = l.Share < 0.01 ? $"under 1{Words.Narrow}%" : $"{NumberWords.Plain(Math.Round(100 * l.Share), 3, sign)}{Words.Narrow}%";
            return new DoubtLine(l.Name, Math.Abs(l.Contribution), l.Share, $"{NumberWords.Plain(Math.Abs(l.Contribution), 2, sign)}{Words.NoBreak}{form.UnitDisplay}", share, isBought(l.Source.Id));
        }).ToList();

    /// <summary>Which sources of a water only another bottle makes smaller: its certificate's, or what its preparation was bought with; age is the hand's.</summary>
    public static async Task<Func<Guid, bool>> Bought(RecordsContext records, BenchSetting bench, ReferenceWater water, Estimate asMade, CancellationToken cancel)
    {
        var bought = asMade.Contributions.Select(c => c.Source.Id).ToHashSet();
        if (water.PreparationId is not { } preparation)
            return bought.Contains;
        // its tools, as they were when it was made and as they are proven now
        foreach (var later in (bool[])[false, true])
        {
            if (await PreparationReading.Load(records, bench, preparation, tracked: false, cancel, withLaterProofs: later) is not { } read)
                continue;
            var made = read.Fields.Of(water).Evaluate(read.Row, read.Steps, asDone: true);
            bought.ExceptWith(made.Concentration.Contributions.Select(c => c.Source.Id).Where(id => !made.Bought.Contains(id)));
        }
        return bought.Contains;
    }
}
