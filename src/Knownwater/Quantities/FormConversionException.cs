namespace Knownwater.Quantities;

/// <summary>Two reporting forms do not give the same thing, so no factor leads from one to the other; the message says why.</summary>
public sealed class FormConversionException : ArgumentException
{
    private readonly string? _sentence;

    /// <summary>The general sentence.</summary>
    public FormConversionException()
        : base("These two reporting forms do not give the same thing. Choose another form.")
    {
    }

    /// <summary>A sentence of one's own.</summary>
    /// <param name="message">The full sentence.</param>
    public FormConversionException(string message)
        : base(message)
    {
    }

    /// <summary>A sentence with what lies behind it.</summary>
    /// <param name="message">The full sentence.</param>
    /// <param name="innerException">What lies behind it.</param>
    public FormConversionException(string message, Exception? innerException)
        : base(message, innerException)
    {
    }

    /// <summary>A sentence and the argument it is about.</summary>
    /// <param name="message">The full sentence.</param>
    /// <param name="paramName">The name of the argument.</param>
    public FormConversionException(string message, string? paramName)
        : base(message, paramName) => _sentence = message;

    /// <summary>A sentence, the argument it is about and what lies behind it.</summary>
    /// <param name="message">The full sentence.</param>
    /// <param name="paramName">The name of the argument.</param>
    /// <param name="innerException">What lies behind it.</param>
    public FormConversionException(string message, string? paramName, Exception? innerException)
        : base(message, paramName, innerException) => _sentence = message;

    /// <summary>The full sentence for the person who asked, without the name of an argument.</summary>
    public override string Message => _sentence ?? base.Message;
}
