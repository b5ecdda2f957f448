using Knownwater.Quantities;
using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Shelf;

/// <summary>Water of known concentration.</summary>
internal sealed class ReferenceWater(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public string Label { get; set; } = "";

    /// <summary>Short code on its label, never given twice; empty where it was put on the shelf before codes were.</summary>
    public string Code { get; set; } = "";

    public string ParameterKey { get; set; } = "";

    public string OtherName { get; set; } = "";

    public string Form { get; set; } = "";

    public Matrix? Matrix { get; set; }

    public double? Salinity { get; set; }

    public string SalinityTyped { get; set; } = "";

    public Guid EstimateId { get; set; }

    public string KnownTyped { get; set; } = "";

    public string DoubtTyped { get; set; } = "";

    public DoubtMeaning DoubtKind { get; set; }

    public Origin Origin { get; set; }

    public string OriginDetail { get; set; } = "";

    public LocalDate? MadeOn { get; set; }

    public LocalDate? UseBy { get; set; }

    /// <summary>The preparation it was made by; null for a bottle whose value was typed.</summary>
    public Guid? PreparationId { get; set; }

    /// <summary>The stock it was made from or is; null where none was said.</summary>
    public Guid? StockId { get; set; }

    /// <summary>How much there was, mL; null where not said.</summary>
    public double? AmountMillilitres { get; set; }

    public string AmountTyped { get; set; } = "";

    /// <summary>Whether its background is unmeasured or was measured on the analyser under check, so that an offset would hide in it.</summary>
    public bool HidesOffset { get; set; }

    public string Who { get; set; } = "";

    public Instant AddedAt { get; set; }

    /// <summary>The first value of the bottle that this is a further value of; null for the first one, which stands for the bottle.</summary>
    public Guid? BottleId { get; set; }

    /// <summary>Whether it is a stock that is used as it is: then the bottle is the stock's.</summary>
    public bool IsStockItself => PreparationId is null && StockId is not null;
}
