namespace Knownwater.Records.Storage;

/// <summary>A store that cannot be opened; the message says why and what to do.</summary>
public sealed class RecordsStoreException : Exception
{
    /// <summary>States nothing but the kind.</summary>
    public RecordsStoreException()
        : this("The records cannot be opened.")
    {
    }

    /// <summary>States why.</summary>
    /// <param name="message">One sentence for the person.</param>
    public RecordsStoreException(string message)
        : base(message)
    {
    }

    /// <summary>States why, and what lies behind it.</summary>
    /// <param name="message">One sentence for the person.</param>
    /// <param name="innerException">What lies behind it.</param>
    public RecordsStoreException(string message, Exception? innerException)
        : base(message, innerException)
    {
    }
}
