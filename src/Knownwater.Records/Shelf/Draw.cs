using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Shelf;

/// <summary>Some of a bottle on the shelf that was used: by hand, for a level of a check, or for a preparation. It belongs to one bottle.</summary>
internal sealed class Draw(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid? WaterId { get; set; }

    public Guid? StockId { get; set; }

    public Guid? NutrientFreeWaterId { get; set; }

    /// <summary>The level of a check it was for; null where it was for none.</summary>
    public Guid? CheckLevelId { get; set; }

    /// <summary>The preparation it went into; null where it went into none.</summary>
    public Guid? PreparationId { get; set; }

    public double Millilitres { get; set; }

    /// <summary>As typed; empty where it was reckoned.</summary>
    public string Typed { get; set; } = "";

    public string Who { get; set; } = "";

    public Instant At { get; set; }
}
