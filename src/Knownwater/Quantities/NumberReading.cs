namespace Knownwater.Quantities;

/// <summary>What became of a typed number: its value, or a sentence that says why it is not one yet.</summary>
public sealed record NumberReading
{
    /// <summary>Whether the text was read; only then do <see cref="Value"/>, <see cref="Decimals"/> and <see cref="Censoring"/> mean something.</summary>
    public bool Ok => Error is null;

    /// <summary>The number; with <see cref="Censoring"/> the limit. Zero where nothing was read.</summary>
    public double Value { get; init; }

    /// <summary>The text exactly as typed.</summary>
    public required string Typed { get; init; }

    /// <summary>Whether the number is a value or a limit for it.</summary>
    public Censoring Censoring { get; init; }

    /// <summary>A full sentence for the person who typed, or null where the number was read.</summary>
    public string? Error { get; init; }

    /// <summary>Likely meanings, most likely first; may be empty.</summary>
    public IReadOnlyList<NumberCandidate> Offers { get; init; } = [];

    /// <summary>How many decimals were typed, trailing zeros included; a hint of the display's resolution.</summary>
    public int Decimals { get; init; }
}
