using System.Net;
using System.Net.Sockets;
using Knownwater.Records.Storage;
using Knownwater.Web.Benches;
using Knownwater.Web.Checks;
using Knownwater.Web.Drift;
using Knownwater.Web.Due;
using Knownwater.Web.History;
using Knownwater.Web.Instruments;
using Knownwater.Web.Later;
using Knownwater.Web.Preparation;
using Knownwater.Web.Seawater;
using Knownwater.Web.Serve;
using Knownwater.Web.Sheet;
using Knownwater.Web.Shelf;
using Knownwater.Web.Tanks;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace Knownwater.Web;

/// <summary>The one door to the web application: for its own program, for the command's <c>serve</c>, and for tests.</summary>
public static class WebEntry
{
    /// <summary>The address that is tried first.</summary>
    public const string DefaultAddress = "http://127.0.0.1:5199";

    internal const int DefaultPort = 5199;

    private const int PortsTried = 20;

    /// <summary>Serves the web application until it is stopped, and prints its address.</summary>
    /// <param name="args">
    /// <c>--records FILE-OR-CONNECTION</c> picks the store, <c>--urls ADDRESS</c> the address; only this machine's own are served.
    /// <c>--lan true</c> lets paired phones in from the private network too, <c>--at ADDRESS</c> at these of its addresses alone.
    /// </param>
    /// <param name="output">Where the address is printed; standard output unless given.</param>
    /// <param name="error">Where it says why it could not start; standard error unless given.</param>
    /// <param name="input">Each line of it asks for a new pairing code; null where nobody types.</param>
    /// <param name="cancel">Stops it.</param>
    /// <returns>0 when it was stopped, 1 when it could not start, 2 when an argument was wrong.</returns>
    public static async Task<int> Run(string[] args, TextWriter? output = null, TextWriter? error = null, TextReader? input = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(args);
        output ??= Console.Out;
        error ??= Console.Error;
        try
        {
            var app = await CreateApp(args, cancel: cancel);
            await using (app)
            {
                await app.StartAsync(cancel);
                var addresses = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()?.Addresses ?? [];
                var door = app.Services.GetRequiredService<LanDoor>();
                foreach (var address in addresses.Where(a => new Uri(a).IsLoopback))
                    await output.WriteLineAsync($"Knownwater is open at {address}");
                await output.WriteLineAsync($"Records: {app.Services.GetRequiredService<RecordsStore>().Name}\nStop it with Ctrl+C.");
                if (door.IsOpen)
                    await Doorway.Show(door, app.Services.GetRequiredService<PairingCodes>(), output, input, app.Lifetime.ApplicationStopping);
                await app.WaitForShutdownAsync(cancel);
            }

            return 0;
        }
        catch (FormatException fault)
        {
            await error.WriteLineAsync(fault.Message);
            return 2;
        }
        catch (Exception fault) when (fault is RecordsStoreException or IOException)
        {
            await error.WriteLineAsync(fault.Message);
            return 1;
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            return 0;
        }
    }

    /// <summary>Builds the application with its store open and its pages mapped, ready to start.</summary>
    /// <param name="args">As for <see cref="Run"/>.</param>
    /// <param name="configure">Changes the builder before the application is built; for tests.</param>
    /// <param name="machine">The machine's names and addresses; read from the system unless given.</param>
    /// <param name="cancel">Cancels the opening of the store.</param>
    /// <returns>The application, not yet started.</returns>
    /// <exception cref="FormatException">An address is not this machine's own.</exception>
    /// <exception cref="RecordsStoreException">The store cannot be opened.</exception>
    public static async Task<WebApplication> CreateApp(string[] args, Action<WebApplicationBuilder>? configure = null, MachineNames? machine = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(args);
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions { Args = args, ApplicationName = typeof(WebEntry).Assembly.GetName().Name, ContentRootPath = AppContext.BaseDirectory });
        builder.Logging.ClearProviders().SetMinimumLevel(LogLevel.Warning).AddSimpleConsole();
        builder.Services.Configure<Microsoft.Extensions.Logging.Console.ConsoleLoggerOptions>(o => o.LogToStandardErrorThreshold = LogLevel.Trace);
        builder.Logging.AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error);
        builder.Logging.AddFilter("Microsoft.EntityFrameworkCore", LogLevel.Error);
        builder.Logging.AddFilter("Microsoft.AspNetCore.Antiforgery", LogLevel.Critical);
        builder.WebHost.ConfigureKestrel(o =>
        {
            o.AddServerHeader = false;
            o.Limits.MaxRequestBodySize = 1_000_000;
        });
        LanDoor door;
        if (bool.TryParse(builder.Configuration["lan"], out var lan) && lan)
        {
            machine ??= MachineNames.Read();
            var authority = LocalAuthority.Open(LocalAuthority.FolderIn(RecordsStore.FolderBeside(builder.Configuration["records"])));
            door = LanDoor.Open(builder.Configuration["at"], machine, authority);
            Listen(builder, door, authority is null ? null : new RenewedCertificate(authority, machine, TimeProvider.System));
        }
        else
        {
            door = LanDoor.Shut;
            builder.WebHost.UseUrls(Addresses(builder.Configuration["urls"]));
        }

        var store = await RecordsStore.Open(builder.Configuration["records"], cancel: cancel);
        builder.Services.AddSingleton(store);
        builder.Services.AddRecords(store);
        builder.Services.AddRazorComponents();
        builder.Services.AddAntiforgery(o => o.Cookie.Name = "knownwater-form");
        builder.Services.AddHostFiltering(o => o.AllowedHosts = ["localhost", "127.0.0.1", "[::1]", .. door.Hosts]);
        builder.Services.AddSingleton(door);
        builder.Services.TryAddSingleton(TimeProvider.System);
        builder.Services.AddSingleton<PairingCodes>();
        builder.Services.AddRateLimiter(o =>
        {
            o.RejectionStatusCode = StatusCodes.Status429TooManyRequests;
            // one window for everyone: a guesser with many addresses is not faster than with one
            o.AddFixedWindowLimiter(PairEndpoints.Limited, w => (w.PermitLimit, w.Window, w.QueueLimit) = (PairEndpoints.TriesAMinute, TimeSpan.FromMinutes(1), 0));
        });
        var keys = builder.Services.AddDataProtection().SetApplicationName("Knownwater");
        if (Path.IsPathRooted(store.Name) && File.Exists(store.Name))
            keys.PersistKeysToFileSystem(new DirectoryInfo(Path.Combine(Path.GetDirectoryName(store.Name)!, "form-keys")));
        configure?.Invoke(builder);
        // who asks is judged by the connection: what a request says of its origin must not reach the gate, whatever the environment asks for
        builder.Configuration["ForwardedHeaders_Enabled"] = "false";

        var app = builder.Build();
        app.UseHostFiltering();
        app.UseMiddleware<PageHeaders>();
        app.UseExceptionHandler(new ExceptionHandlerOptions { ExceptionHandler = FaultPages.Failed });
        app.UseStatusCodePages(FaultPages.Refused);
        app.UseMiddleware<BadForms>();
        app.UseMiddleware<Gate>();
        app.UseRateLimiter();
        app.UseAntiforgery();
        app.MapAssets();
        app.MapStart();
        app.MapChecks();
        app.MapReadings();
        app.MapGuards();
        app.MapCauses();
        app.MapRuns();
        app.MapShelf();
        app.MapStocks();
        app.MapGlassware();
        app.MapProofs();
        app.MapPrepare();
        app.MapRounds();
        app.MapInstruments();
        app.MapLots();
        app.MapProcedures();
        app.MapDue();
        app.MapCalendar();
        app.MapDrift();
        app.MapHistory();
        app.MapBench();
        app.MapPairing();
        app.MapTanks();
        app.MapTankEntries();
        app.MapLookBack();
        app.MapWater();
        app.MapLater();
        app.MapFallback(FaultPages.NotFound);
        return app;
    }

    private static string[] Addresses(string? asked)
    {
        if (string.IsNullOrWhiteSpace(asked))
            return [FreeAddress()];
        var addresses = asked.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        foreach (var address in addresses)
        {
            if (!Uri.TryCreate(address, UriKind.Absolute, out var uri) || uri.Scheme != Uri.UriSchemeHttp)
                throw new FormatException($"\"{address}\" is not an address that can be served. Write it as {DefaultAddress}.");
            if (!uri.IsLoopback)
                throw new FormatException($"{address} can be reached from other machines, which needs pairing first: knownwater serve --lan. Or serve this machine alone, as {DefaultAddress}.");
        }

        return addresses;
    }

    /// <summary>Listens on loopback and at the door: http, and https where there is a certificate.</summary>
    private static void Listen(WebApplicationBuilder builder, LanDoor door, RenewedCertificate? certificate) =>
        builder.WebHost.ConfigureKestrel(o =>
        {
            foreach (var address in door.Addresses.Prepend(IPAddress.Loopback))
                o.Listen(address, door.Port);
            if (certificate is null)
                return;
            foreach (var address in door.Addresses)
                o.Listen(address, door.SecurePort, l => l.UseHttps(h => h.ServerCertificateSelector = (_, _) => certificate.Current));
        });

    private static string FreeAddress()
    {
        for (var port = DefaultPort; port < DefaultPort + PortsTried; port++)
        {
            try
            {
                using var listener = new TcpListener(IPAddress.Loopback, port);
                listener.Start();
                return $"http://127.0.0.1:{port}";
            }
            catch (SocketException)
            {
                // taken: the next one
            }
        }

        return "http://127.0.0.1:0";
    }
}
