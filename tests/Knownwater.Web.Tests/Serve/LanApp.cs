using System.Net;
using Knownwater.Records.Storage;
using Knownwater.Web.Serve;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;

namespace Knownwater.Web.Tests.Serve;

/// <summary>The application as <c>serve --lan</c> makes it, with clients on this machine and elsewhere in the network.</summary>
internal sealed class LanApp : IAsyncDisposable
{
    /// <summary>An address of the network.</summary>
    public const string Phone = "192.168.7.20";

    /// <summary>An empty store that each one copies, as making one takes a second.</summary>
    private static readonly Lazy<Task<string>> Empty = new(async () =>
    {
        var folder = Directory.CreateTempSubdirectory("knownwater-template-").FullName;
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(folder, recursive: true);
        var file = Path.Combine(folder, "records.db");
        await RecordsStore.Open(file, cancel: CancellationToken.None);
        SqliteConnection.ClearAllPools();
        return file;
    });

    private readonly DirectoryInfo _folder;
    private readonly WebApplication _app;

    private LanApp(DirectoryInfo folder, WebApplication app, FakeTimeProvider time) => (_folder, _app, Time) = (folder, app, time);

    public FakeTimeProvider Time { get; }

    public IServiceProvider Services => _app.Services;

    public PairingCodes Codes => Services.GetRequiredService<PairingCodes>();

    public LanDoor Door => Services.GetRequiredService<LanDoor>();

    public string Certificates => LocalAuthority.FolderIn(_folder.FullName);

    /// <summary>Starts it within the process.</summary>
    /// <param name="https">Whether an authority was made before.</param>
    /// <param name="from">The far end of every connection; null for unknown.</param>
    public static Task<LanApp> Within(bool https = false, string? from = Phone) => Start(https, new MachineNames([IPAddress.Parse("127.0.0.2")], ["pond", "pond.local"]), builder =>
    {
        builder.WebHost.UseTestServer();
        builder.Services.AddSingleton<IStartupFilter>(new ComesFrom(from));
    });

    /// <summary>Starts it on the machine's own private address, for real connections.</summary>
    public static Task<LanApp> OnTheNetwork(bool https = false, params string[] args) => Start(https, new MachineNames([LanAddress.Any], MachineNames.Of("pond")), null, args);

    public HttpClient Client(string address = "http://pond:5199", bool cookies = true) =>
        Services.GetRequiredService<Microsoft.AspNetCore.Hosting.Server.IServer>() is TestServer server
            ? new HttpClient(new Jar(server.CreateHandler(), cookies)) { BaseAddress = new Uri(address) }
            : throw new InvalidOperationException("This one listens on the network.");

    public Reader Read(string address = "http://pond:5199")
    {
        var client = Client(address);
        client.DefaultRequestHeaders.Accept.ParseAdd("text/html");
        return new Reader(client);
    }

    public async ValueTask DisposeAsync()
    {
        await _app.DisposeAsync();
        try
        {
            _folder.Delete(recursive: true);
        }
        catch (IOException)
        {
            // a pooled connection still holds the file; the folder is a temporary one
        }
    }

    private static async Task<LanApp> Start(bool https, MachineNames machine, Action<WebApplicationBuilder>? configure, params string[] args)
    {
        var folder = Directory.CreateTempSubdirectory("knownwater-lan-");
        File.Copy(await Empty.Value, Path.Combine(folder.FullName, "records.db"));
        var time = new FakeTimeProvider(DateTimeOffset.UtcNow);
        if (https)
            LocalAuthority.Make(LocalAuthority.FolderIn(folder.FullName), machine, DateTimeOffset.UtcNow).Dispose();
        var app = await WebEntry.CreateApp(["--records", Path.Combine(folder.FullName, "records.db"), "--lan", "true", "--at", "http://127.0.0.1:0", .. args], builder =>
        {
            builder.Services.AddSingleton<TimeProvider>(time);
            configure?.Invoke(builder);
        }, machine, TestContext.Current.CancellationToken);
        await app.StartAsync(TestContext.Current.CancellationToken);
        return new LanApp(folder, app, time);
    }

    /// <summary>Keeps cookies and follows redirects, as a browser does.</summary>
    private sealed class Jar(HttpMessageHandler inner, bool keeps) : DelegatingHandler(inner)
    {
        private readonly CookieContainer _cookies = new();

        protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
        {
            for (var hops = 0; ; hops++)
            {
                if (keeps && _cookies.GetCookieHeader(request.RequestUri!) is { Length: > 0 } header)
                    request.Headers.TryAddWithoutValidation("Cookie", header);
                var answer = await base.SendAsync(request, cancellationToken);
                answer.RequestMessage = request;
                if (keeps && answer.Headers.TryGetValues("Set-Cookie", out var set))
                {
                    foreach (var cookie in set)
                        _cookies.SetCookies(request.RequestUri!, cookie);
                }

                if (!keeps || answer.StatusCode is not (HttpStatusCode.Redirect or HttpStatusCode.SeeOther) || hops > 5)
                    return answer;
                var next = new HttpRequestMessage(HttpMethod.Get, new Uri(request.RequestUri!, answer.Headers.Location!));
                foreach (var (name, values) in request.Headers.Where(h => h.Key != "Cookie"))
                    next.Headers.TryAddWithoutValidation(name, values);
                request = next;
            }
        }
    }
}
