namespace Knownwater.Quantities;

/// <summary>A conversion between mass and volume of water needs its density, so salinity and temperature have to be given.</summary>
public sealed class MissingWaterStateException : InvalidOperationException
{
    /// <summary>The general sentence.</summary>
    public MissingWaterStateException()
        : base("The density of the water is needed. Give its salinity and temperature.")
    {
    }

    /// <summary>A sentence of one's own.</summary>
    /// <param name="message">The full sentence.</param>
    public MissingWaterStateException(string message)
        : base(message)
    {
    }

    /// <summary>A sentence with what lies behind it.</summary>
    /// <param name="message">The full sentence.</param>
    /// <param name="innerException">What lies behind it.</param>
    public MissingWaterStateException(string message, Exception? innerException)
        : base(message, innerException)
    {
    }
}
