using Knownwater.Quantities;
using Knownwater.Records.Checks;
using Knownwater.Uncertainty;
using NodaTime;

namespace Knownwater.Records.Shelf;

/// <summary>One known water as a page shows it.</summary>
public sealed record ReferenceWaterView
{
    /// <summary>Its key.</summary>
    public required Guid Id { get; init; }

    /// <summary>Label of the bottle.</summary>
    public required string Label { get; init; }

    /// <summary>Short code on its label, as in KW-12; empty where it has none.</summary>
    public required string Code { get; init; }

    /// <summary>The first value of its bottle; null where this is it.</summary>
    public required Guid? Bottle { get; init; }

    /// <summary>What else the bottle is known for; empty for one analyte.</summary>
    public required IReadOnlyList<BottleValue> Further { get; init; }

    /// <summary>Key of the listed parameter, or <c>other</c>.</summary>
    public required string ParameterKey { get; init; }

    /// <summary>Name of the parameter.</summary>
    public required string ParameterName { get; init; }

    /// <summary>Reporting form of its value.</summary>
    public required ReportingForm Form { get; init; }

    /// <summary>Matrix; null where not said.</summary>
    public required Matrix? Matrix { get; init; }

    /// <summary>Practical salinity as it stands in the field; may be empty.</summary>
    public required string Salinity { get; init; }

    /// <summary>“Seawater, salinity 35”.</summary>
    public required string MatrixWords { get; init; }

    /// <summary>Known value with its error sources.</summary>
    public required Estimate Known { get; init; }

    /// <summary>“10.15 ± 0.16 mg/L NO₃”: at 95 %.</summary>
    public required string KnownWords { get; init; }

    /// <summary>Its value today with what age has done, at 95 %; empty where that is nothing worth saying.</summary>
    public required string TodayWords { get; init; }

    /// <summary>How it ages and how it is kept; empty where nothing is known.</summary>
    public required string AgeWords { get; init; }

    /// <summary>What it would be reckoned anew with later proofs and values: “10.02 ± 0.09 mg/L NO₃ instead of …”; empty where it would stay, and in lists.</summary>
    public string AnewWords { get; init; } = "";

    /// <summary>Known value as typed.</summary>
    public required string KnownTyped { get; init; }

    /// <summary>Doubt as typed.</summary>
    public required string DoubtTyped { get; init; }

    /// <summary>What the doubt means.</summary>
    public required DoubtMeaning DoubtKind { get; init; }

    /// <summary>Where the value came from.</summary>
    public required Origin Origin { get; init; }

    /// <summary>Number of the certificate, the maker's words, or how it was made; may be empty.</summary>
    public required string OriginDetail { get; init; }

    /// <summary>Origin in words.</summary>
    public required string OriginWords { get; init; }

    /// <summary>Day it was made or opened; null where not said.</summary>
    public required LocalDate? MadeOn { get; init; }

    /// <summary>Last day of use; null where not said.</summary>
    public required LocalDate? UseBy { get; init; }

    /// <summary>Both days in words; may be empty.</summary>
    public required string DaysWords { get; init; }

    /// <summary>Whether it is past its last day, or its last hour where its kind keeps only hours.</summary>
    public required bool PastUseBy { get; init; }

    /// <summary>How much there was and what was used; of the stock, where it is one that is used as it is.</summary>
    public required BottleAmount Amount { get; init; }

    /// <summary>“about 380 mL left”; empty where nothing is known.</summary>
    public required string LeftWords { get; init; }

    /// <summary>How much there was as typed; empty where not said.</summary>
    public required string AmountTyped { get; init; }

    /// <summary>The days as they stand on a label, one a line, with their year.</summary>
    public required IReadOnlyList<string> LabelDays { get; init; }

    /// <summary>What the square code of its label holds: code, value, form, water, days; readable without the program.</summary>
    public required string LabelText { get; init; }

    /// <summary>Initials of who made or opened it; may be empty.</summary>
    public required string Who { get; init; }

    /// <summary>Error sources, the largest first.</summary>
    public required IReadOnlyList<DoubtLine> Doubts { get; init; }

    /// <summary>The preparation it was made by; null for a bottle whose value was typed.</summary>
    public required Guid? Preparation { get; init; }

    /// <summary>The stock it was made from or is; null where none was said.</summary>
    public required Guid? Stock { get; init; }

    /// <summary>Whether an offset of the analyser would hide in its background.</summary>
    public required bool HidesOffset { get; init; }

    /// <summary>Other waters on the shelf that came from the same stock, by value; empty in lists.</summary>
    public IReadOnlyList<WaterLine> SameStock { get; init; } = [];

    /// <summary>Checks that used it, the newest first; empty in lists.</summary>
    public required IReadOnlyList<CheckLine> Checks { get; init; }
}
