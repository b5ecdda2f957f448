using System.Net;
using System.Security.Cryptography.X509Certificates;
using Knownwater.Web.Serve;

namespace Knownwater.Cli.Tests.Serve;

public sealed class ServeVerbTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("knownwater-cli-");

    private string Records => Path.Combine(_folder.FullName, "records.db");

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public void Dispose()
    {
        try
        {
            _folder.Delete(recursive: true);
        }
        catch (IOException)
        {
            // a pooled connection still holds the file; the folder is a temporary one
        }
    }

    [Fact]
    public async Task Prints_its_address_answers_there_and_ends_well_when_stopped()
    {
        await using var served = new Served(["serve", "--urls", "http://127.0.0.1:0", "--records", Records]);
        var address = new Uri((await served.First("Knownwater is open at "))["Knownwater is open at ".Length..]);
        Assert.True(address.IsLoopback);
        using var client = new HttpClient();
        Assert.Contains("Knownwater", await client.GetStringAsync(address, Cancel), StringComparison.Ordinal);
        Assert.Equal((0, ""), await served.Stop());
        Assert.DoesNotContain("Code:", served.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task With_lan_it_prints_every_address_a_code_and_its_square_and_asks_who_comes_for_the_code()
    {
        if (MachineNames.Read().Addresses.Count == 0)
        {
            Assert.Contains("no address in a private network", (await Called.With("serve", "--lan", "--records", Records)).Refused().Error, StringComparison.Ordinal);
            return;
        }

        await using var served = new Served(["serve", "--lan", "--urls", "http://127.0.0.1:0", "--records", Records]);
        await served.First("A new code: http://127.0.0.1:");
        var lines = served.Output.Split('\n', StringSplitOptions.TrimEntries);
        var machine = MachineNames.Read();
        var typed = lines.Where(l => l.StartsWith("http://", StringComparison.Ordinal)).Select(l => new Uri(l)).ToList();
        Assert.Equal(machine.Addresses.Count + machine.Names.Count, typed.Count);
        Assert.Equal(machine.Addresses.Select(a => a.ToString()), typed.Take(machine.Addresses.Count).Select(u => u.Host.Trim('[', ']')));
        Assert.Matches("^Code: [ACDEFGHJKMNPQRTUWXY34679]{4}-[ACDEFGHJKMNPQRTUWXY34679]{4}   It lets one phone in, within 10 minutes\\.$", lines.Single(l => l.StartsWith("Code:", StringComparison.Ordinal)));
        Assert.InRange(lines.Count(l => l.Length > 20 && l.All(c => "█▀▄ ".Contains(c, StringComparison.Ordinal))), 15, 30);
        Assert.Contains(lines, l => l.StartsWith("This is plain http", StringComparison.Ordinal));
        Assert.DoesNotContain('\u001b', served.Output);

        using var client = new HttpClient();
        foreach (var address in typed.Take(machine.Addresses.Count))
        {
            using var stranger = await client.GetAsync(new Uri(address, "/due"), Cancel);
            Assert.Equal(HttpStatusCode.Unauthorized, stranger.StatusCode);
        }

        using var own = await client.GetAsync($"http://127.0.0.1:{typed[0].Port}/due", Cancel);
        Assert.Equal(HttpStatusCode.OK, own.StatusCode);
        Assert.Equal((0, ""), await served.Stop());
    }

    [Fact]
    public async Task With_a_certificate_it_speaks_https_to_phones_and_http_tells_how_to_trust_it()
    {
        if (MachineNames.Read().Addresses is not [var address, ..])
            return; // what it says then is shown above
        Assert.Equal(0, (await Called.With("certificate", "--records", Records)).Exit);
        await using var served = new Served(["serve", "--lan", "--urls", "http://127.0.0.1:0", "--records", Records]);
        await served.First("A new code: http://127.0.0.1:");
        var lines = served.Output.Split('\n', StringSplitOptions.TrimEntries);
        using var authority = LocalAuthority.Open(Path.Combine(_folder.FullName, "https"))!;
        Assert.Contains(lines, l => l.EndsWith(authority.Fingerprint, StringComparison.Ordinal));
        var secure = new Uri(lines.First(l => l.StartsWith("https://", StringComparison.Ordinal)));
        var trust = new Uri(lines.Single(l => l.StartsWith("The first time", StringComparison.Ordinal)).Split(' ').Single(w => w.EndsWith("/trust", StringComparison.Ordinal)));
        Assert.Equal(("http", address.ToString()), (trust.Scheme, trust.Host.Trim('[', ']')));

        var policy = new X509ChainPolicy { TrustMode = X509ChainTrustMode.CustomRootTrust, RevocationMode = X509RevocationMode.NoCheck };
        policy.CustomTrustStore.Add(X509CertificateLoader.LoadCertificate(authority.PublicCertificate.Span));
        using var handler = new SocketsHttpHandler { SslOptions = { CertificateChainPolicy = policy } };
        using var client = new HttpClient(handler);
        Assert.Contains("This phone is not paired yet", await client.GetStringAsync(new Uri(secure, "/pair"), Cancel), StringComparison.Ordinal);
        Assert.Contains("Android", await client.GetStringAsync(trust, Cancel), StringComparison.Ordinal);
        using var open = await client.GetAsync(new Uri(trust, "/pair"), Cancel);
        Assert.Equal(HttpStatusCode.Unauthorized, open.StatusCode);
        Assert.Equal((0, ""), await served.Stop());
    }

    [Theory]
    [InlineData("http://0.0.0.0:5300", "other machines")]
    [InlineData("http://0.0.0.0:5300", "knownwater serve --lan")]
    [InlineData("http://192.0.2.1:5300", "other machines")]
    [InlineData("harbour", "not an address")]
    public async Task Address_that_is_not_this_machine_s_own_is_refused(string address, string says) =>
        Assert.Contains(says, (await Called.With("serve", "--urls", address)).Refused().Error, StringComparison.Ordinal);

    [Theory]
    [InlineData("http://0.0.0.0:5300", "none of this machine's private addresses")]
    [InlineData("http://192.168.254.254:5300", "none of this machine's private addresses")]
    [InlineData("http://harbour:5300", "none of this machine's private addresses")]
    [InlineData("https://127.0.0.1:5300", "https is added by itself")]
    [InlineData("http://127.0.0.1:5300;http://127.0.0.1:5301", "the ports 5300 and 5301")]
    public async Task With_lan_only_private_addresses_of_its_own_are_served(string address, string says)
    {
        var error = (await Called.With("serve", "--lan", "--urls", address, "--records", Records)).Refused().Error;
        Assert.Contains(MachineNames.Read().Addresses.Count > 0 ? says : "no address in a private network", error, StringComparison.Ordinal);
    }

    /// <summary>The verb while it runs.</summary>
    private sealed class Served : IAsyncDisposable
    {
        private readonly CancellationTokenSource _stop = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        private readonly Lines _output = new();
        private readonly StringWriter _error = new();
        private readonly Task<int> _run;

        public Served(string[] args) => _run = new CommandLine(_output, _error).Run(args, _stop.Token);

        public string Output => _output.ToString();

        public async Task<string> First(string beginning)
        {
            var found = _output.First(beginning);
            Assert.True(await Task.WhenAny(found, _run) == found, _error.ToString());
            return await found;
        }

        public async Task<(int Exit, string Error)> Stop()
        {
            await _stop.CancelAsync();
            return (await _run, _error.ToString());
        }

        public async ValueTask DisposeAsync()
        {
            await Stop();
            _stop.Dispose();
            await _output.DisposeAsync();
            await _error.DisposeAsync();
        }
    }

    /// <summary>Tells of the first line that begins as asked, as soon as it is written.</summary>
    private sealed class Lines : StringWriter
    {
        private readonly Lock _one = new();
        private readonly List<(string Beginning, TaskCompletionSource<string> Found)> _asked = [];

        public Task<string> First(string beginning)
        {
            lock (_one)
            {
                var found = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
                _asked.Add((beginning, found));
                Look();
                return found.Task;
            }
        }

        public override async Task WriteLineAsync(string? value)
        {
            lock (_one)
            {
                WriteLine(value);
                Look();
            }

            await Task.CompletedTask;
        }

        public override string ToString()
        {
            lock (_one)
                return base.ToString();
        }

        private void Look()
        {
            var lines = base.ToString().Split('\n');
            foreach (var (beginning, found) in _asked)
            {
                if (lines.FirstOrDefault(line => line.StartsWith(beginning, StringComparison.Ordinal)) is { } line)
                    found.TrySetResult(line.TrimEnd());
            }
        }
    }
}
