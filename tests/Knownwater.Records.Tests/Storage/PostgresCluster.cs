using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Knownwater.Records.Storage;
using Microsoft.Extensions.Time.Testing;
using Npgsql;

[assembly: AssemblyFixture(typeof(Knownwater.Records.Tests.Storage.PostgresCluster))]

namespace Knownwater.Records.Tests.Storage;

/// <summary>One PostgreSQL cluster a run, with one migrated database as the template of all others. A missing PostgreSQL is a failure.</summary>
public sealed class PostgresCluster : IAsyncLifetime
{
    private const string Template = "knownwater_template";

    private static int _databases;
    private readonly SemaphoreSlim _once = new(1);
    private string? _folder;
    private int _port;
    private string _binaries = "";

    /// <summary>A database of its own, migrated; the connection that opens it.</summary>
    public async Task<string> NewDatabase()
    {
        await Start();
        var name = string.Create(CultureInfo.InvariantCulture, $"bench_{Interlocked.Increment(ref _databases)}");
        await Run($"CREATE DATABASE {name} TEMPLATE {Template}");
        return Connection(name);
    }

    /// <summary>The connection to a database that is not there yet.</summary>
    public async Task<string> MissingDatabase()
    {
        await Start();
        return Connection(string.Create(CultureInfo.InvariantCulture, $"fresh_{Interlocked.Increment(ref _databases)}"));
    }

    public ValueTask InitializeAsync() => ValueTask.CompletedTask;

    public async ValueTask DisposeAsync()
    {
        if (_folder is null)
            return;
        NpgsqlConnection.ClearAllPools();
        await Command("pg_ctl", "-D", Path.Combine(_folder, "data"), "-m", "immediate", "stop");
        Directory.Delete(_folder, recursive: true);
        _once.Dispose();
    }

    private string Connection(string database) => $"Host=127.0.0.1;Port={_port};Username=postgres;Database={database};Include Error Detail=true;Maximum Pool Size=10";

    private async Task Start()
    {
        await _once.WaitAsync();
        try
        {
            if (_folder is not null)
                return;
            _binaries = Binaries();
            var folder = Directory.CreateTempSubdirectory("knownwater-pg-").FullName;
            if (Environment.IsPrivilegedProcess)
                await Plain("chown", "postgres", folder);
            var data = Path.Combine(folder, "data");
            await Command("initdb", "-D", data, "-A", "trust", "-U", "postgres", "--no-sync", "-E", "UTF8", "--locale=C.UTF-8");
            _port = FreePort();
            await Command("pg_ctl", "-D", data, "-w", "-l", Path.Combine(folder, "log"), "-o", $"-p {_port} -c max_connections=500 -c listen_addresses=127.0.0.1 -c unix_socket_directories={folder} -c fsync=off", "start");
            _folder = folder;
            await RecordsStore.Open(Connection(Template) + ";Pooling=false", new FakeTimeProvider(TestBench.Morning), CancellationToken.None);
            NpgsqlConnection.ClearAllPools();
        }
        finally
        {
            _once.Release();
        }
    }

    private async Task Run(string sql)
    {
        await _once.WaitAsync();
        try
        {
            await using var connection = new NpgsqlConnection(Connection("postgres") + ";Pooling=false");
            await connection.OpenAsync();
            await using var command = connection.CreateCommand();
            command.CommandText = sql;
            await command.ExecuteNonQueryAsync();
        }
        finally
        {
            _once.Release();
        }
    }

    private static string Binaries()
    {
        const string root = "/usr/lib/postgresql";
        var found = Directory.Exists(root)
            ? Directory.GetDirectories(root).Where(d => File.Exists(Path.Combine(d, "bin", "initdb"))).OrderByDescending(d => int.TryParse(Path.GetFileName(d), CultureInfo.InvariantCulture, out var v) ? v : 0).FirstOrDefault()
            : null;
        return found is null
            ? throw new InvalidOperationException("PostgreSQL is not installed: no initdb below /usr/lib/postgresql. Install the package postgresql; ./test.sh does it.")
            : Path.Combine(found, "bin");
    }

    private Task Command(string program, params string[] arguments)
    {
        var binary = Path.Combine(_binaries, program);
        return Environment.IsPrivilegedProcess ? Plain("runuser", ["-u", "postgres", "--", binary, .. arguments]) : Plain(binary, arguments);
    }

    private static async Task Plain(string program, params string[] arguments)
    {
        // The server keeps what it inherits: its output goes to its log, not to ours.
        var start = new ProcessStartInfo("/bin/sh") { WorkingDirectory = "/tmp" };
        var output = Path.GetTempFileName();
        start.ArgumentList.Add("-c");
        start.ArgumentList.Add("out=\"$1\"; shift; exec \"$@\" >\"$out\" 2>&1 </dev/null");
        start.ArgumentList.Add("sh");
        start.ArgumentList.Add(output);
        start.ArgumentList.Add(program);
        foreach (var argument in arguments)
            start.ArgumentList.Add(argument);
        using var process = Process.Start(start)!;
        await process.WaitForExitAsync();
        var said = await File.ReadAllTextAsync(output);
        File.Delete(output);
        if (process.ExitCode != 0)
            throw new InvalidOperationException($"{program} {string.Join(' ', arguments)} ended with {process.ExitCode}: {said}");
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
