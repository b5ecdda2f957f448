namespace Knownwater.Records.Storage;

/// <summary>A store that cannot be opened; the message says why and what to do.</summary>
public sealed class RecordsStoreException : Exception
{
    /// <summary>States why.</summary>
    /// <param name="message">One sentence for the person.</param>
    /// <param name="inner">What lies behind it.</param>
    public RecordsStoreException(string message, Exception? inner = null)
        : base(message, inner)
    {
    }
}
