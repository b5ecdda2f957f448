namespace Knownwater.Preparation;

/// <summary>A preparation that cannot be made as it is described.</summary>
/// <remarks>The message is one sentence for people: it names the value, the limit, and what would do.</remarks>
public sealed class PreparationException : ArgumentException
{
    /// <summary>A refusal without a reason; give one instead.</summary>
    public PreparationException()
        : base("The preparation cannot be made as it is described.")
    {
    }

    /// <summary>A refusal.</summary>
    /// <param name="message">What is wrong, and what would do.</param>
    public PreparationException(string message)
        : base(message)
    {
    }

    /// <summary>A refusal that follows from another.</summary>
    /// <param name="message">What is wrong, and what would do.</param>
    /// <param name="innerException">What it follows from.</param>
    public PreparationException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
