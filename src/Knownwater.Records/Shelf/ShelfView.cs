namespace Knownwater.Records.Shelf;

/// <summary>The whole shelf as a page shows it.</summary>
public sealed record ShelfView
{
    /// <summary>What wants attention, the most urgent first.</summary>
    public required IReadOnlyList<ShelfNote> Notes { get; init; }

    /// <summary>The known waters; those past their date first, then the newest.</summary>
    public required IReadOnlyList<ReferenceWaterView> Waters { get; init; }

    /// <summary>The stocks, in the same order.</summary>
    public required IReadOnlyList<StockView> Stocks { get; init; }

    /// <summary>The nutrient-free waters, in the same order.</summary>
    public required IReadOnlyList<NutrientFreeView> NutrientFree { get; init; }

    /// <summary>Whether nothing stands on it.</summary>
    public bool IsEmpty => Waters.Count + Stocks.Count + NutrientFree.Count == 0;
}

/// <summary>One thing on the shelf that wants attention; it names one bottle.</summary>
/// <param name="Sentence">“Remake KW-35 phosphate 0.1 today: …”.</param>
/// <param name="Reason">Why, in a sentence.</param>
public sealed record ShelfNote(string Sentence, string Reason)
{
    /// <summary>The known water concerned.</summary>
    public Guid? Water { get; init; }

    /// <summary>The stock concerned.</summary>
    public Guid? Stock { get; init; }

    /// <summary>The nutrient-free water concerned.</summary>
    public Guid? NutrientFree { get; init; }

    /// <summary>The preparation to make it again by; null where there is none.</summary>
    public Guid? Again { get; init; }
}
