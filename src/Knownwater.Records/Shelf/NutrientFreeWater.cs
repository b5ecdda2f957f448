using Knownwater.Quantities;
using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Shelf;

/// <summary>What a nutrient-free water is.</summary>
public enum NutrientFreeKind
{
    /// <summary>Bought nutrient-free seawater.</summary>
    BoughtSeawater = 0,

    /// <summary>Seawater mixed from salts.</summary>
    MixedSeawater = 1,

    /// <summary>Purified water.</summary>
    PurifiedWater = 2,

    /// <summary>Another fresh water.</summary>
    FreshWater = 3,
}

/// <summary>Where a background value comes from.</summary>
public enum BackgroundOrigin
{
    /// <summary>Not measured: an offset would hide in it.</summary>
    NotMeasured = 0,

    /// <summary>Measured on another instrument.</summary>
    AnotherInstrument = 1,

    /// <summary>A certificate or the maker's claim.</summary>
    Certificate = 2,

    /// <summary>Measured on the analyser that is checked with it: an offset would hide in it.</summary>
    AnalyserUnderCheck = 3,
}

/// <summary>Water that known water is made in.</summary>
internal sealed class NutrientFreeWater(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public string Label { get; set; } = "";

    public NutrientFreeKind Kind { get; set; }

    public double Salinity { get; set; }

    public string SalinityTyped { get; set; } = "";

    public LocalDate? OpenedOn { get; set; }

    public LocalDate? UseBy { get; set; }

    public double? AmountMillilitres { get; set; }

    public string AmountTyped { get; set; } = "";

    public string Who { get; set; } = "";

    public Instant AddedAt { get; set; }

    /// <summary>What it is for a method.</summary>
    public Matrix Matrix => Kind is NutrientFreeKind.BoughtSeawater or NutrientFreeKind.MixedSeawater ? Matrix.Seawater : Matrix.FreshWater;
}

/// <summary>How much of one parameter a nutrient-free water holds already.</summary>
internal sealed class Background(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid WaterId { get; set; }

    public string ParameterKey { get; set; } = "";

    public string OtherName { get; set; } = "";

    public string Form { get; set; } = "";

    public Guid EstimateId { get; set; }

    public string Typed { get; set; } = "";

    public string DoubtTyped { get; set; } = "";

    public BackgroundOrigin Origin { get; set; }

    /// <summary>The method it was read on, where that is the analyser that is checked with it; null where not said.</summary>
    public Guid? MethodId { get; set; }

    public bool HidesOffset => Origin is BackgroundOrigin.NotMeasured or BackgroundOrigin.AnalyserUnderCheck;
}
