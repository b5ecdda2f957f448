namespace Knownwater.Records.Storage;

/// <summary>One store of records: a SQLite file or a PostgreSQL database.</summary>
public sealed class RecordsStore
{
    private RecordsStore(string name, Guid defaultBench)
    {
        Name = name;
        DefaultBench = defaultBench;
    }

    /// <summary>The store in words, without passwords: the file's path, or host and database.</summary>
    public string Name { get; }

    /// <summary>The bench that belongs to the store when none was chosen; made silently with the store.</summary>
    public Guid DefaultBench { get; }

    /// <summary>Opens a store, makes it where there is none, and brings an older one forward after a backup.</summary>
    /// <param name="fileOrConnection">A SQLite file, <c>Host=…</c> or <c>postgres://…</c>; null for the environment variable <c>KNOWNWATER_RECORDS</c>, else the user's own file.</param>
    /// <param name="time">Where the time comes from; null for the system's clock.</param>
    /// <param name="cancel">Cancels the opening.</param>
    /// <returns>The open store.</returns>
    /// <exception cref="RecordsStoreException">The store cannot be opened, or it was written by a newer program.</exception>
    public static Task<RecordsStore> Open(string? fileOrConnection = null, TimeProvider? time = null, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>A new unit of work on the store.</summary>
    /// <param name="bench">The bench; null for the default one.</param>
    public RecordsContext NewContext(Guid? bench = null) => throw new NotImplementedException();
}
