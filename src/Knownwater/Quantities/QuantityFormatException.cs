namespace Knownwater.Quantities;

/// <summary>A quantity, reporting form, formula or tolerance that was typed cannot be read; the message is a full sentence for the person who typed.</summary>
public sealed class QuantityFormatException : FormatException
{
    /// <summary>A sentence without further offers.</summary>
    public QuantityFormatException()
        : this("This is not a quantity. Write a number and a unit, such as 5.2 mg/L NO3.")
    {
    }

    /// <summary>A sentence without further offers.</summary>
    /// <param name="message">The full sentence: what was typed, what was expected, what to do.</param>
    public QuantityFormatException(string message)
        : base(message) => Offers = [];

    /// <summary>A sentence with what lies behind it.</summary>
    /// <param name="message">The full sentence: what was typed, what was expected, what to do.</param>
    /// <param name="innerException">What lies behind it.</param>
    public QuantityFormatException(string message, Exception? innerException)
        : base(message, innerException) => Offers = [];

    /// <summary>A sentence with the likely meanings.</summary>
    /// <param name="message">The full sentence: what was typed, what was expected, what to do.</param>
    /// <param name="offers">Likely meanings, each written so that it can be typed instead; most likely first.</param>
    public QuantityFormatException(string message, IReadOnlyList<string> offers)
        : base(message) => Offers = offers;

    /// <summary>Likely meanings, each written so that it can be typed instead; may be empty.</summary>
    public IReadOnlyList<string> Offers { get; }
}
