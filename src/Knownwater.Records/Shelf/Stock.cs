using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Shelf;

/// <summary>A bottle that known water is made from: a certified standard, or a solution of one's own.</summary>
internal sealed class Stock(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public string Label { get; set; } = "";

    /// <summary>Short code on its label, never given twice; empty where it was put on the shelf before codes were.</summary>
    public string Code { get; set; } = "";

    public string ParameterKey { get; set; } = "";

    public string OtherName { get; set; } = "";

    public string Form { get; set; } = "";

    public Guid EstimateId { get; set; }

    public string KnownTyped { get; set; } = "";

    public string DoubtTyped { get; set; } = "";

    public DoubtMeaning DoubtKind { get; set; }

    public Origin Origin { get; set; }

    public string OriginDetail { get; set; } = "";

    /// <summary>What it is dissolved in, in words: “KNO3 in water”.</summary>
    public string Medium { get; set; } = "";

    public LocalDate? OpenedOn { get; set; }

    public LocalDate? UseBy { get; set; }

    public double? AmountMillilitres { get; set; }

    public string AmountTyped { get; set; } = "";

    public string Who { get; set; } = "";

    public Instant AddedAt { get; set; }

    /// <summary>The first value of the bottle that this is a further value of; null for the first one, which stands for the bottle.</summary>
    public Guid? BottleId { get; set; }
}

/// <summary>What a stock holds besides its analyte.</summary>
internal sealed class StockCompanion(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid StockId { get; set; }

    public int Ordinal { get; set; }

    public string Species { get; set; } = "";

    public double PerLitreOfStock { get; set; }

    public string Form { get; set; } = "";

    public string Typed { get; set; } = "";
}
