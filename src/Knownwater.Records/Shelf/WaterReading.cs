using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Uncertainty;

namespace Knownwater.Records.Shelf;

/// <summary>Reads a known water into what pages show.</summary>
internal static class WaterReading
{
    public static ReferenceWaterView View(ReferenceWater water, Estimate known, BenchSetting bench, IReadOnlyList<CheckLine> checks)
    {
        var measured = Measured.Of(water.ParameterKey, water.OtherName, water.Form);
        var days = new List<string>();
        if (water.MadeOn is { } made)
            days.Add($"made or opened {Words.Day(made, bench.Today)}");
        if (water.UseBy is { } useBy)
            days.Add(useBy < bench.Today ? $"past its date since {Words.Day(useBy, bench.Today)}" : $"use by {Words.Day(useBy, bench.Today)}");
        return new ReferenceWaterView
        {
            Id = water.Id,
            Label = water.Label,
            Code = water.Code,
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
            PastUseBy = water.UseBy < bench.Today,
            LabelText = LabelText(water, known, measured),
            Who = water.Who,
            Doubts = Doubts(known, measured.Form, bench.Sign),
            Preparation = water.PreparationId,
            HidesOffset = water.HidesOffset,
            Checks = checks,
        };
    }

    private static string TodayWords(ReferenceWater water, Estimate known, ReportingForm form, BenchSetting bench)
    {
        var today = WaterAgeing.Now(water, known, bench.Now);
        return Math.Abs(today.Value - known.Value) > 0.1 * known.StandardUncertainty || today.StandardUncertainty > 1.05 * known.StandardUncertainty ? KnownWords(today, form, bench.Sign) : "";
    }

    /// <summary>“KW-12 nitrate 10.15 +/- 0.16 mg/L NO3, seawater 34.9, made 2026-09-03, use by 2026-09-10”, in plain letters, with a point, for any reader of square codes.</summary>
    private static string LabelText(ReferenceWater water, Estimate known, Measured measured)
    {
        var (value, doubt) = known.StandardUncertainty == 0 ? (NumberWords.Plain(known.Value, 6, DecimalSign.Point), "") : NumberWords.WithDoubt(known.Value, 1.96 * known.StandardUncertainty, DecimalSign.Point);
        var parts = new List<string> { $"{water.Code} {Words.Small(measured.Name)} {value}{(doubt.Length > 0 ? " +/- " + doubt : "")} {measured.Form.Text}".Trim() };
        if (water.Matrix is { } matrix)
            parts.Add(matrix == Matrix.Seawater ? $"seawater{(water.Salinity is { } s ? " " + s.ToString("0.#", System.Globalization.CultureInfo.InvariantCulture) : "")}" : "fresh water");
        if (water.MadeOn is { } made)
            parts.Add("made " + made.ToString("uuuu-MM-dd", System.Globalization.CultureInfo.InvariantCulture));
        if (water.UseBy is { } useBy)
            parts.Add("use by " + useBy.ToString("uuuu-MM-dd", System.Globalization.CultureInfo.InvariantCulture));
        return string.Join(", ", parts).Replace('\u202F', ' ').Replace('\u00A0', ' ').Replace('\u2212', '-');
    }

    /// <summary>“10.15 ± 0.16 mg/L NO₃”, at 95 %.</summary>
    public static string KnownWords(Estimate known, ReportingForm form, DecimalSign sign)
    {
        if (known.StandardUncertainty == 0)
            return NumberWords.Plain(known.Value, 6, sign) + Words.NoBreak + form.Display;
        var (value, doubt) = NumberWords.WithDoubt(known.Value, 1.96 * known.StandardUncertainty, sign);
        return $"{value}{Words.NoBreak}±{Words.NoBreak}{doubt}{Words.NoBreak}{form.Display}";
    }

    public static IReadOnlyList<DoubtLine> Doubts(Estimate known, ReportingForm form, DecimalSign sign) =>
        known.Budget().OrderByDescending(l => l.Share).Select(l =>
        {
            var share = l.Share < 0.01 ? $"under 1{Words.Narrow}%" : $"{NumberWords.Plain(Math.Round(100 * l.Share), 3, sign)}{Words.Narrow}%";
            return new DoubtLine(l.Name, Math.Abs(l.Contribution), l.Share, $"{NumberWords.Plain(Math.Abs(l.Contribution), 2, sign)}{Words.NoBreak}{form.UnitDisplay}, {share}");
        }).ToList();
}
