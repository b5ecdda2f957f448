using System.Data;
using System.Data.Common;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Shelf;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Storage;
using Microsoft.EntityFrameworkCore.Diagnostics;
using NodaTime;
using NodaTime.TimeZones;
using Npgsql;

namespace Knownwater.Records.Storage;

/// <summary>One store of records: a SQLite file or a PostgreSQL database.</summary>
public sealed class RecordsStore
{
    /// <summary>Environment variable that names the store where no argument does.</summary>
    public const string EnvironmentVariable = "KNOWNWATER_RECORDS";

    private readonly DbContextOptions<RecordsContext> _options;

    private RecordsStore(DbContextOptions<RecordsContext> options, string name, TimeProvider time)
    {
        _options = options;
        Name = name;
        Clock = new Clock(time);
    }

    /// <summary>The store in words, without passwords: the file's path, or host and database.</summary>
    public string Name { get; }

    /// <summary>The clock of this store's acts.</summary>
    public Clock Clock { get; }

    /// <summary>The bench that belongs to the store when none was chosen; made silently with the store.</summary>
    public Guid DefaultBench { get; private set; }

    /// <summary>Path of the copy that was made before the store was brought forward; null where none was needed.</summary>
    public string? Backup { get; private set; }

    /// <summary>The user's own file, where neither argument nor environment names a store.</summary>
    public static string DefaultFile =>
        Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "Knownwater", "records.db");

    /// <summary>The folder for what is kept beside the records: that of the file, or the user's own where the records are in PostgreSQL.</summary>
    /// <param name="fileOrConnection">As for <see cref="Open"/>.</param>
    /// <returns>Its full path; it need not be there yet.</returns>
    public static string FolderBeside(string? fileOrConnection = null)
    {
        var where = FirstGiven(fileOrConnection, Environment.GetEnvironmentVariable(EnvironmentVariable), DefaultFile);
        return Path.GetDirectoryName(Path.GetFullPath(IsPostgres(where) ? DefaultFile : where))!;
    }

    /// <summary>Opens a store, makes it where there is none, and brings an older one forward after a backup.</summary>
    /// <param name="fileOrConnection">A SQLite file, <c>Host=…</c> or <c>postgres://…</c>; null or empty for the environment variable <c>KNOWNWATER_RECORDS</c>, else the user's own file.</param>
    /// <param name="time">Where the time comes from; null for the system's clock.</param>
    /// <param name="cancel">Cancels the opening.</param>
    /// <returns>The open store.</returns>
    /// <exception cref="RecordsStoreException">The store cannot be opened, or it was written by a newer program.</exception>
    public static async Task<RecordsStore> Open(string? fileOrConnection = null, TimeProvider? time = null, CancellationToken cancel = default)
    {
        var where = FirstGiven(fileOrConnection, Environment.GetEnvironmentVariable(EnvironmentVariable), DefaultFile);
        return IsPostgres(where)
            ? await OpenPostgres(where, time ?? TimeProvider.System, cancel)
            : await OpenSqlite(Path.GetFullPath(where), time ?? TimeProvider.System, cancel);
    }

    /// <summary>A new unit of work on the store.</summary>
    /// <param name="bench">The bench; null for the default one.</param>
    /// <returns>A unit of work that the caller disposes of.</returns>
    public RecordsContext NewContext(Guid? bench = null) => new(_options, bench ?? DefaultBench);

    /// <summary>Options for a SQLite connection string.</summary>
    internal static DbContextOptions<RecordsContext> SqliteOptions(string connection) =>
        Common(new DbContextOptionsBuilder<RecordsContext>().UseSqlite(connection, s => s.MigrationsAssembly("Knownwater.Records.Sqlite")).AddInterceptors(new DurableConnection()));

    /// <summary>Options for a PostgreSQL connection string.</summary>
    internal static DbContextOptions<RecordsContext> PostgresOptions(string connection) =>
        Common(new DbContextOptionsBuilder<RecordsContext>().UseNpgsql(connection, p => p.MigrationsAssembly("Knownwater.Records.Postgres").UseNodaTime()));

    private static DbContextOptions<RecordsContext> Common(DbContextOptionsBuilder<RecordsContext> builder) =>
        builder.AddInterceptors(new BenchGuard()).Options;

    private static string FirstGiven(params string?[] places) => places.First(p => !string.IsNullOrWhiteSpace(p))!.Trim();

    private static bool IsPostgres(string where) =>
        where.StartsWith("postgres://", StringComparison.OrdinalIgnoreCase)
        || where.StartsWith("postgresql://", StringComparison.OrdinalIgnoreCase)
        || (where.Contains('=', StringComparison.Ordinal) && where.Split(';').Any(p => p.TrimStart().StartsWith("Host=", StringComparison.OrdinalIgnoreCase)));

    private static async Task<RecordsStore> OpenSqlite(string file, TimeProvider time, CancellationToken cancel)
    {
        var store = new RecordsStore(SqliteOptions(new SqliteConnectionStringBuilder { DataSource = file, DefaultTimeout = 30 }.ConnectionString), file, time);
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(file)!);
            await using var door = await Door(file + ".opening", cancel);
            await using var records = store.NewContext(Guid.Empty);
            var fresh = !File.Exists(file) || new FileInfo(file).Length == 0;
            if (!fresh)
            {
                // a process that was killed while it made the file leaves a journal behind; only a connection that may write takes it back
                await records.Database.ExecuteSqlRawAsync("PRAGMA schema_version", cancel);
                await store.Verify(records, cancel);
            }
            if (fresh || (await records.Database.GetPendingMigrationsAsync(cancel)).Any())
            {
                if (!fresh)
                    store.Backup = await BackUp(records, file, store.Clock.Now, cancel);
                await ReleaseLock(records, cancel);
                await records.Database.MigrateAsync(cancel);
            }
            await records.Database.ExecuteSqlRawAsync("PRAGMA journal_mode = WAL", cancel);
            await store.FindBench(records, cancel);
            await store.GiveCodes(records, cancel);
        }
        catch (SqliteException fault)
        {
            throw new RecordsStoreException(fault.SqliteErrorCode switch
            {
                26 => $"{file} is not a file of records. Name another file, or leave the name out for your own.",
                14 => $"{file} cannot be opened. See that its folder is there and may be written.",
                8 => $"{file} is write-protected. Allow writing, or name another file.",
                13 => $"The disk of {file} is full. Make room and try again.",
                _ => $"{file} cannot be opened: {fault.Message}",
            }, fault);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new RecordsStoreException($"{file} cannot be opened: {fault.Message} Name another file, or allow writing there.", fault);
        }
        return store;
    }

    private static async Task<RecordsStore> OpenPostgres(string where, TimeProvider time, CancellationToken cancel)
    {
        NpgsqlConnectionStringBuilder connection;
        try
        {
            connection = new NpgsqlConnectionStringBuilder(where.Contains("://", StringComparison.Ordinal) ? FromAddress(new Uri(where)) : where);
        }
        catch (Exception fault) when (fault is ArgumentException or FormatException)
        {
            throw new RecordsStoreException("The PostgreSQL connection cannot be read. Write it as Host=name;Database=knownwater;Username=me or postgres://me@name/knownwater.", fault);
        }
        var name = $"{connection.Database ?? connection.Username} on {connection.Host}";
        var store = new RecordsStore(PostgresOptions(connection.ConnectionString), name, time);
        try
        {
            await using var records = store.NewContext(Guid.Empty);
            if (await records.Database.CanConnectAsync(cancel))
                await store.Verify(records, cancel);
            if (!await records.Database.CanConnectAsync(cancel) || (await records.Database.GetPendingMigrationsAsync(cancel)).Any())
                await MigratePostgres(records, connection, cancel);
            await store.FindBench(records, cancel);
            await store.GiveCodes(records, cancel);
        }
        catch (Exception fault) when (fault is NpgsqlException or System.Net.Sockets.SocketException or TimeoutException or InvalidOperationException { InnerException: NpgsqlException })
        {
            throw new RecordsStoreException($"{name} cannot be opened: {(fault is InvalidOperationException ? fault.InnerException! : fault).Message} See that the server runs and that user and database are right.", fault);
        }
        return store;
    }

    /// <summary>Migrates behind a lock of the database, so that of several programs that open it at one moment one migrates and the others find it done.</summary>
    private static async Task MigratePostgres(RecordsContext records, NpgsqlConnectionStringBuilder connection, CancellationToken cancel)
    {
        var creator = records.GetService<IRelationalDatabaseCreator>();
        for (var attempt = 1; !await creator.ExistsAsync(cancel); attempt++)
        {
            try
            {
                await creator.CreateAsync(cancel);
            }
            catch (PostgresException fault) when (attempt < 10 && fault.SqlState is PostgresErrorCodes.DuplicateDatabase or PostgresErrorCodes.UniqueViolation or PostgresErrorCodes.ObjectInUse)
            {
                await Task.Delay(200, cancel);
            }
        }
        // the lock lives as long as this connection, also where the program is killed
        await using var door = new NpgsqlConnection(new NpgsqlConnectionStringBuilder(connection.ConnectionString) { Pooling = false }.ConnectionString);
        await door.OpenAsync(cancel);
        await using (var take = new NpgsqlCommand("SELECT pg_advisory_lock(hashtext('knownwater migrations'))", door) { CommandTimeout = 600 })
            await take.ExecuteNonQueryAsync(cancel);
        if ((await records.Database.GetPendingMigrationsAsync(cancel)).Any())
            await records.Database.MigrateAsync(cancel);
    }

    private static string FromAddress(Uri address)
    {
        var user = address.UserInfo.Split(':', 2);
        var builder = new NpgsqlConnectionStringBuilder { Host = address.Host, Database = Uri.UnescapeDataString(address.AbsolutePath.TrimStart('/')) };
        if (address.Port > 0)
            builder.Port = address.Port;
        if (user[0].Length > 0)
            builder.Username = Uri.UnescapeDataString(user[0]);
        if (user.Length > 1)
            builder.Password = Uri.UnescapeDataString(user[1]);
        foreach (var part in address.Query.TrimStart('?').Split('&', StringSplitOptions.RemoveEmptyEntries))
        {
            var pair = part.Split('=', 2);
            builder[Uri.UnescapeDataString(pair[0])] = Uri.UnescapeDataString(pair.Length > 1 ? pair[1] : "");
        }
        return builder.ConnectionString;
    }

    /// <summary>Refuses a store of a newer program and a database that holds something else.</summary>
    private async Task Verify(RecordsContext records, CancellationToken cancel)
    {
        var applied = (await records.Database.GetAppliedMigrationsAsync(cancel)).ToList();
        var known = records.Database.GetMigrations().ToHashSet(StringComparer.Ordinal);
        if (applied.FirstOrDefault(m => !known.Contains(m)) is { } newer)
            throw new RecordsStoreException($"{Name} was written by a newer Knownwater (step {newer}). Use that version, or name another store; nothing was changed.");
        if (applied.Count == 0 && await HoldsOtherTables(records, cancel))
            throw new RecordsStoreException($"{Name} holds another program's tables. Name an empty store; nothing was changed.");
    }

    private static async Task<bool> HoldsOtherTables(RecordsContext records, CancellationToken cancel)
    {
        var sql = records.Database.IsSqlite()
            ? "SELECT COUNT(*) AS \"Value\" FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name NOT LIKE '\\_\\_EF%' ESCAPE '\\'"
            : "SELECT COUNT(*)::int AS \"Value\" FROM information_schema.tables WHERE table_schema = 'public' AND table_name NOT LIKE '\\_\\_EF%'";
        return await records.Database.SqlQueryRaw<int>(sql).SingleAsync(cancel) > 0;
    }

    /// <summary>Copies the file, complete with what still stands in its log, beside itself.</summary>
    private static async Task<string> BackUp(RecordsContext records, string file, Instant now, CancellationToken cancel)
    {
        var stamp = now.ToString("uuuuMMdd'T'HHmmss", null);
        var copy = Path.Combine(Path.GetDirectoryName(file)!, $"{Path.GetFileNameWithoutExtension(file)}.before-{stamp}.db");
        for (var i = 2; File.Exists(copy); i++)
            copy = Path.Combine(Path.GetDirectoryName(file)!, $"{Path.GetFileNameWithoutExtension(file)}.before-{stamp}-{i}.db");
        await records.Database.ExecuteSqlRawAsync("VACUUM INTO {0}", [copy], cancel);
        return copy;
    }

    /// <summary>
    /// Frees the lock that a process killed amid its migration left in the file. Only called behind the door, where no other process
    /// can be migrating.
    /// </summary>
    private static async Task ReleaseLock(RecordsContext records, CancellationToken cancel)
    {
        var locks = await records.Database.SqlQueryRaw<int>("SELECT COUNT(*) AS \"Value\" FROM sqlite_master WHERE name = '__EFMigrationsLock'").SingleAsync(cancel);
        if (locks > 0)
            await records.Database.ExecuteSqlRawAsync("DELETE FROM \"__EFMigrationsLock\"", cancel);
    }

    /// <summary>Lets one process at a time through the opening; the operating system frees it when the process ends.</summary>
    private static async Task<FileStream> Door(string file, CancellationToken cancel)
    {
        for (var waited = 0; ; waited++)
        {
            try
            {
                return new FileStream(file, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            }
            catch (IOException) when (waited < 600 && File.Exists(file))
            {
                await Task.Delay(50, cancel);
            }
        }
    }

    private async Task FindBench(RecordsContext records, CancellationToken cancel)
    {
        for (var attempt = 1; ; attempt++)
        {
            var bench = await records.Benches.AsNoTracking().OrderBy(b => b.MadeAt).Select(b => (Guid?)b.Id).FirstOrDefaultAsync(cancel);
            if (bench is { } found)
            {
                DefaultBench = found;
                return;
            }
            try
            {
                await using var maker = NewContext(Clock.NewId());
                await using var transaction = await maker.Database.BeginTransactionAsync(IsolationLevel.Serializable, cancel);
                if (await maker.Benches.AnyAsync(cancel))
                    continue;
                maker.Benches.Add(new Bench(maker.BenchId) { Name = "My bench", TimeZone = SystemZone(), MainUse = MainUse.Reef, MadeAt = Clock.Now });
                await maker.SaveChangesAsync(cancel);
                await transaction.CommitAsync(cancel);
            }
            catch (Exception fault) when (attempt < 10 && IsRace(fault))
            {
                // Another process made it at the same moment.
            }
        }
    }

    /// <summary>Gives short codes to the waters of every bench that come from before there were codes; nothing to do from then on.</summary>
    private async Task GiveCodes(RecordsContext records, CancellationToken cancel)
    {
        var benches = await records.ReferenceWaters.IgnoreQueryFilters([RecordsContext.BenchFilter, RecordsContext.DeletedFilter]).Where(w => w.Code == "").Select(w => w.BenchId).Distinct().ToListAsync(cancel);
        foreach (var bench in benches)
        {
            for (var attempt = 1; ; attempt++)
            {
                try
                {
                    await using var own = NewContext(bench);
                    await ShelfCode.GiveToOld(own, cancel);
                    break;
                }
                catch (DbUpdateException) when (attempt < 10)
                {
                    // Another process gives them at the same moment: look again.
                }
            }
        }
    }

    private static bool IsRace(Exception? fault) =>
        fault is DbUpdateException or PostgresException { SqlState: PostgresErrorCodes.SerializationFailure or PostgresErrorCodes.UniqueViolation }
        || (fault?.InnerException is { } inner && IsRace(inner));

    private static string SystemZone()
    {
        try
        {
            return DateTimeZoneProviders.Tzdb.GetSystemDefault().Id;
        }
        catch (DateTimeZoneNotFoundException)
        {
            return "UTC";
        }
    }

    /// <summary>Makes every SQLite connection write through to the disk before it answers.</summary>
    private sealed class DurableConnection : DbConnectionInterceptor
    {
        public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData)
        {
            using var command = Pragmas(connection);
            command.ExecuteNonQuery();
        }

        public override async Task ConnectionOpenedAsync(DbConnection connection, ConnectionEndEventData eventData, CancellationToken cancellationToken = default)
        {
            await using var command = Pragmas(connection);
            await command.ExecuteNonQueryAsync(cancellationToken);
        }

        private static DbCommand Pragmas(DbConnection connection)
        {
            var command = connection.CreateCommand();
            command.CommandText = "PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;";
            return command;
        }
    }
}
