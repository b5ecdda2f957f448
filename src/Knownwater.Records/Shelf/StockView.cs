using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Uncertainty;

namespace Knownwater.Records.Shelf;

/// <summary>A stock as a page shows it.</summary>
public sealed record StockView
{
    /// <summary>Its key.</summary>
    public required Guid Id { get; init; }

    /// <summary>What stands on the bottle.</summary>
    public required string Label { get; init; }

    /// <summary>Short code on its label, as in S-3; empty where it has none.</summary>
    public required string Code { get; init; }

    /// <summary>Name of the parameter.</summary>
    public required string ParameterName { get; init; }

    /// <summary>Form of its value.</summary>
    public required ReportingForm Form { get; init; }

    /// <summary>Its value with its sources.</summary>
    public required Estimate Known { get; init; }

    /// <summary>“1000.0 ± 2.0 mg/L NO₃”, at 95 %.</summary>
    public required string KnownWords { get; init; }

    /// <summary>What else the bottle is known for; empty for one analyte.</summary>
    public required IReadOnlyList<BottleValue> Further { get; init; }

    /// <summary>Where the value came from.</summary>
    public required string OriginWords { get; init; }

    /// <summary>What it is dissolved in; may be empty.</summary>
    public required string Medium { get; init; }

    /// <summary>What else is in it.</summary>
    public required IReadOnlyList<Companion> Companions { get; init; }

    /// <summary>Checks that it spoils: “nitrate”, “alkalinity” …; empty where none.</summary>
    public IReadOnlyList<string> Spoils => StockMedium.Spoiled(Companions);

    /// <summary>Whether it is in acid or alkali: what is in it moves pH.</summary>
    public bool IsAcidOrAlkaline => Spoils.Contains("pH");

    /// <summary>How it ages and how it is kept, in words; may be empty.</summary>
    public required string AgeWords { get; init; }

    /// <summary>Days in words; may be empty.</summary>
    public required string DaysWords { get; init; }

    /// <summary>Whether it is past its date.</summary>
    public required bool PastUseBy { get; init; }

    /// <summary>“about 87 mL left”; empty where nothing is known.</summary>
    public required string LeftWords { get; init; }

    /// <summary>How much there was and what was used.</summary>
    public required BottleAmount Amount { get; init; }

    /// <summary>The days as they stand on a label, one a line, with their year.</summary>
    public required IReadOnlyList<string> LabelDays { get; init; }

    /// <summary>What the square code of its label holds; readable without the program.</summary>
    public required string LabelText { get; init; }

    /// <summary>Initials of who put it on the shelf; may be empty.</summary>
    public required string Who { get; init; }

    /// <summary>Error sources, the largest first.</summary>
    public required IReadOnlyList<DoubtLine> Doubts { get; init; }

    /// <summary>Its fields as they were typed, for the form that changes it.</summary>
    public required StockTyped Typed { get; init; }

    /// <summary>As the library takes it.</summary>
    public StockSolution Solution => new() { Name = Label, Concentration = Known, Companions = Companions };

    internal static StockView Of(Stock row, Estimate known, IReadOnlyList<Companion> companions, BottleAmount amount, IReadOnlyList<BottleValue> further, BenchSetting bench)
    {
        var measured = Measured.Of(row.ParameterKey, row.OtherName, row.Form);
        return new StockView
        {
            Id = row.Id,
            Label = row.Label,
            Code = row.Code,
            ParameterName = measured.Name,
            Form = measured.Form,
            Known = known,
            KnownWords = WaterReading.KnownWords(known, measured.Form, bench.Sign),
            Further = further,
            Typed = new StockTyped(row.KnownTyped, row.DoubtTyped, row.DoubtKind, row.Origin, row.OriginDetail, row.AmountTyped, row.OpenedOn, row.UseBy, row.Origin == Origin.OwnPreparation && known.Contributions.Count > 1),
            OriginWords = Words.Origin(row.Origin, row.OriginDetail),
            Medium = row.Medium,
            Companions = companions,
            AgeWords = AgeWordsOf(row, known.Value, companions, bench.Sign),
            DaysWords = Days(row.OpenedOn, row.UseBy, bench),
            PastUseBy = row.UseBy < bench.Today,
            LeftWords = amount.Words(bench.Sign),
            Amount = amount,
            LabelDays = WaterReading.LabelDays(row.OpenedOn is { } from ? $"{Words.Capital(WaterReading.Began(row.Origin))} {Words.DayAndYear(from)}" : "", row.UseBy is { } until ? Words.DayAndYear(until) : ""),
            LabelText = WaterReading.LabelText(row.Code, measured, known, row.Medium.Length > 0 ? $"stock in {row.Medium}" : "stock", row.OpenedOn is { } opened ? $"{WaterReading.Began(row.Origin)} {WaterReading.Day(opened)}" : "", row.UseBy is { } useBy ? WaterReading.Day(useBy) : ""),
            Who = row.Who,
            Doubts = WaterReading.Doubts(known, measured.Form, bench.Sign, id => row.Origin != Origin.OwnPreparation || id == SourceIdentity.Of(row.Id, "purity")),
        };
    }

    private static string AgeWordsOf(Stock row, double value, IReadOnlyList<Companion> companions, DecimalSign sign)
    {
        var (kind, isBought) = (StockAgeing.Kind(row, value, companions), row.Origin == Origin.Certificate);
        return StockAgeing.Words(kind, Ageing.LifeDays(kind, isBought), isBought ? "opened" : "made", sign);
    }

    internal static string Days(NodaTime.LocalDate? opened, NodaTime.LocalDate? useBy, BenchSetting bench)
    {
        var days = new List<string>();
        if (opened is { } from)
            days.Add($"opened {Words.Day(from, bench.Today)}");
        if (useBy is { } last)
            days.Add(last < bench.Today ? $"past its date since {Words.Day(last, bench.Today)}" : $"use by {Words.Day(last, bench.Today)}");
        return Words.Capital(string.Join(", ", days));
    }
}

/// <summary>The fields of a stock as typed.</summary>
/// <param name="Known">Value.</param>
/// <param name="Doubt">Its doubt.</param>
/// <param name="DoubtKind">What the doubt means.</param>
/// <param name="Origin">Where the value came from.</param>
/// <param name="OriginDetail">Number of the certificate, or the maker's words.</param>
/// <param name="Amount">How much was in it.</param>
/// <param name="OpenedOn">Day it was opened; null where not said.</param>
/// <param name="UseBy">Last day of use; null where not said.</param>
/// <param name="IsWeighed">Whether its value follows from weighings and is not typed.</param>
public sealed record StockTyped(string Known, string Doubt, DoubtMeaning DoubtKind, Origin Origin, string OriginDetail, string Amount, NodaTime.LocalDate? OpenedOn, NodaTime.LocalDate? UseBy, bool IsWeighed);
