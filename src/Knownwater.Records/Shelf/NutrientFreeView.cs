using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>A nutrient-free water as a page shows it.</summary>
public sealed record NutrientFreeView
{
    /// <summary>Its key.</summary>
    public required Guid Id { get; init; }

    /// <summary>What stands on it.</summary>
    public required string Label { get; init; }

    /// <summary>“Bought seawater, salinity 35”.</summary>
    public required string KindWords { get; init; }

    /// <summary>Sea or fresh.</summary>
    public required Matrix Matrix { get; init; }

    /// <summary>Practical salinity.</summary>
    public required double Salinity { get; init; }

    /// <summary>Days in words; may be empty.</summary>
    public required string DaysWords { get; init; }

    /// <summary>Whether it is past its date.</summary>
    public required bool PastUseBy { get; init; }

    /// <summary>“about 4200 mL left”; empty where nothing is known.</summary>
    public required string LeftWords { get; init; }

    /// <summary>How much there was and what was used.</summary>
    public required BottleAmount Amount { get; init; }

    /// <summary>Its fields as they were typed, for the form that changes it.</summary>
    public required NutrientFreeTyped Typed { get; init; }

    /// <summary>What it holds already, one line a parameter.</summary>
    public required IReadOnlyList<BackgroundLine> Backgrounds { get; init; }

    internal static async Task<IReadOnlyList<NutrientFreeView>> Read(RecordsContext records, IReadOnlyList<NutrientFreeWater> rows, BenchSetting bench, CancellationToken cancel)
    {
        var ids = rows.Select(r => r.Id).ToList();
        var backgrounds = await records.Backgrounds.AsNoTracking().Where(b => ids.Contains(b.WaterId)).ToListAsync(cancel);
        var known = await records.Estimates.Read(backgrounds.Select(b => b.EstimateId).ToList(), cancel);
        var amount = await BottleAmount.Read(records, ids, cancel);
        var byWater = backgrounds.ToLookup(b => b.WaterId);
        return [.. rows.Select(r => new NutrientFreeView
        {
            Id = r.Id,
            Label = r.Label,
            KindWords = $"{Kind(r.Kind)}{(r.Matrix == Matrix.Seawater ? $", salinity {NumberWords.Plain(r.Salinity, 4, bench.Sign)}" : "")}",
            Matrix = r.Matrix,
            Salinity = r.Salinity,
            DaysWords = StockView.Days(r.OpenedOn, r.UseBy, bench),
            PastUseBy = r.UseBy < bench.Today,
            LeftWords = amount(r.Id, r.AmountMillilitres).Words(bench.Sign),
            Amount = amount(r.Id, r.AmountMillilitres),
            Typed = new NutrientFreeTyped(r.SalinityTyped, r.AmountTyped, r.OpenedOn, r.UseBy),
            Backgrounds = [.. byWater[r.Id].Select(b =>
            {
                var measured = Measured.Of(b.ParameterKey, b.OtherName, b.Form);
                return new BackgroundLine(b.Id, measured.Name, WaterReading.KnownWords(known[b.EstimateId], measured.Form, bench.Sign), OriginWords(b.Origin), b.HidesOffset);
            })],
        })];
    }

    private static string Kind(NutrientFreeKind kind) => kind switch
    {
        NutrientFreeKind.BoughtSeawater => "Bought seawater",
        NutrientFreeKind.MixedSeawater => "Seawater mixed from salts",
        NutrientFreeKind.PurifiedWater => "Purified water",
        _ => "Fresh water",
    };

    internal static string OriginWords(BackgroundOrigin origin) => origin switch
    {
        BackgroundOrigin.AnotherInstrument => "measured on another instrument",
        BackgroundOrigin.Certificate => "from a certificate",
        BackgroundOrigin.AnalyserUnderCheck => "measured on the analyser that is checked with it: an offset would hide in it",
        _ => "not measured: an offset would hide in it",
    };
}

/// <summary>One background of a nutrient-free water.</summary>
/// <param name="Id">Its key.</param>
/// <param name="ParameterName">Name of the parameter.</param>
/// <param name="ValueWords">Value with its doubt at 95 %.</param>
/// <param name="OriginWords">Where it comes from.</param>
/// <param name="HidesOffset">Whether an offset of the analyser would hide in it.</param>
public sealed record BackgroundLine(Guid Id, string ParameterName, string ValueWords, string OriginWords, bool HidesOffset);

/// <summary>The fields of a nutrient-free water as typed.</summary>
/// <param name="Salinity">Practical salinity.</param>
/// <param name="Amount">How much there was.</param>
/// <param name="OpenedOn">Day it was opened or mixed; null where not said.</param>
/// <param name="UseBy">Last day of use; null where not said.</param>
public sealed record NutrientFreeTyped(string Salinity, string Amount, NodaTime.LocalDate? OpenedOn, NodaTime.LocalDate? UseBy);
