namespace Knownwater.Preparation;

/// <summary>A preparation that cannot be made as it is described.</summary>
/// <remarks>The message is one sentence for people: it names the value, the limit, and what would do.</remarks>
public sealed class PreparationException : ArgumentException
{
    private readonly string? _sentence;

    /// <summary>The general sentence.</summary>
    public PreparationException()
        : base("The preparation cannot be made as it is described.")
    {
    }

    /// <summary>A sentence of one's own.</summary>
    /// <param name="message">What is wrong, and what would do.</param>
    public PreparationException(string message)
        : base(message)
    {
    }

    /// <summary>A sentence with what lies behind it.</summary>
    /// <param name="message">What is wrong, and what would do.</param>
    /// <param name="innerException">What lies behind it.</param>
    public PreparationException(string message, Exception? innerException)
        : base(message, innerException)
    {
    }

    /// <summary>A sentence and the argument it is about.</summary>
    /// <param name="message">What is wrong, and what would do.</param>
    /// <param name="paramName">The name of the argument.</param>
    public PreparationException(string message, string? paramName)
        : base(message, paramName) => _sentence = message;

    /// <summary>A sentence, the argument it is about and what lies behind it.</summary>
    /// <param name="message">What is wrong, and what would do.</param>
    /// <param name="paramName">The name of the argument.</param>
    /// <param name="innerException">What lies behind it.</param>
    public PreparationException(string message, string? paramName, Exception? innerException)
        : base(message, paramName, innerException) => _sentence = message;

    /// <summary>The sentence for people, without the name of an argument.</summary>
    public override string Message => _sentence ?? base.Message;
}
