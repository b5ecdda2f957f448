using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using Knownwater.Web.Serve;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Knownwater.Web.Tests.Serve;

public sealed class AuthorityTests : IDisposable
{
    private static readonly DateTimeOffset Now = new(2026, 9, 3, 7, 40, 0, TimeSpan.Zero);
    private static readonly MachineNames Pond = new([IPAddress.Parse("192.168.7.5"), IPAddress.Parse("fd12:3456::5")], ["pond", "pond.local"]);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("knownwater-authority-");

    private string Where => Path.Combine(_folder.FullName, "https");

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Delete(recursive: true);

    /// <summary>What a system says that trusts this authority and no other.</summary>
    private static (bool Good, string Why) Judge(LocalAuthority authority, X509Certificate2 server, DateTimeOffset at)
    {
        using var root = X509CertificateLoader.LoadCertificate(authority.PublicCertificate.Span);
        using var chain = new X509Chain();
        chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        chain.ChainPolicy.CustomTrustStore.Add(root);
        chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        chain.ChainPolicy.VerificationTime = at.UtcDateTime;
        chain.ChainPolicy.ApplicationPolicy.Add(new Oid("1.3.6.1.5.5.7.3.1"));
        var good = chain.Build(server);
        return (good, string.Join(' ', chain.ChainStatus.Select(s => s.Status)));
    }

    [Fact]
    public void The_chain_holds_from_its_first_hour_to_its_last_and_not_beyond()
    {
        using var authority = LocalAuthority.Make(Where, Pond, Now);
        using var server = authority.Server(Pond, Now).Certificate;
        var end = new DateTimeOffset(server.NotAfter);
        foreach (var at in new[] { Now, Now.AddMinutes(-59), end.AddSeconds(-1) })
            Assert.Equal((true, ""), Judge(authority, server, at));
        Assert.Equal((false, "NotTimeValid"), Judge(authority, server, end.AddSeconds(1)));
        Assert.False(Judge(authority, server, Now.AddHours(-2)).Good);
        // 397 days for the server and ten years for the authority, at most; both limits are inclusive
        Assert.InRange(end.AddSeconds(1) - new DateTimeOffset(server.NotBefore), TimeSpan.FromDays(396), TimeSpan.FromDays(397));
        Assert.Equal(authority.NotBefore.AddYears(10), authority.NotAfter.AddSeconds(1));
    }

    [Fact]
    public void The_certificate_names_every_address_and_name_and_nothing_else()
    {
        using var authority = LocalAuthority.Make(Where, Pond, Now);
        using var server = authority.Server(Pond, Now).Certificate;
        foreach (var host in new[] { "pond", "pond.local", "192.168.7.5", "fd12:3456::5" })
            Assert.True(server.MatchesHostname(host, allowWildcards: false, allowCommonName: false), host);
        foreach (var host in new[] { "pond.example", "other.local", "192.168.7.6", "localhost" })
            Assert.False(server.MatchesHostname(host), host);
        Assert.Equal("1.2.840.10045.2.1", server.GetKeyAlgorithm());
        using var key = server.GetECDsaPrivateKey()!;
        Assert.Equal(256, key.KeySize);
        Assert.Contains(server.Extensions.OfType<X509EnhancedKeyUsageExtension>().Single().EnhancedKeyUsages.Cast<Oid>(), o => o.Value == "1.3.6.1.5.5.7.3.1");
        Assert.False(server.Extensions.OfType<X509BasicConstraintsExtension>().Single().CertificateAuthority);
    }

    [Fact]
    public void The_authority_may_sign_certificates_alone_and_none_of_a_further_authority()
    {
        using var authority = LocalAuthority.Make(Where, Pond, Now);
        using var root = X509CertificateLoader.LoadCertificate(authority.PublicCertificate.Span);
        Assert.False(root.HasPrivateKey);
        var basic = root.Extensions.OfType<X509BasicConstraintsExtension>().Single();
        Assert.Equal((true, true, 0, true), (basic.CertificateAuthority, basic.HasPathLengthConstraint, basic.PathLengthConstraint, basic.Critical));
        Assert.Equal(X509KeyUsageFlags.KeyCertSign, root.Extensions.OfType<X509KeyUsageExtension>().Single().KeyUsages);
        Assert.True(root.Extensions.Single(e => e.Oid!.Value == "2.5.29.30").Critical);
        Assert.Equal(authority.Fingerprint.Replace(":", "", StringComparison.Ordinal), root.GetCertHashString(HashAlgorithmName.SHA256));
        Assert.Equal(authority.PublicCertificate.ToArray(), File.ReadAllBytes(authority.PublicPath));
    }

    // Made with the authority's own key, as a thief would: the constraint in the authority stands against them (RFC 5280, 6.1.3 b).
    [Theory]
    [InlineData("pond.local", true)]
    [InlineData("deep.under.home.arpa", true)]
    [InlineData("pond", true)]
    [InlineData("10.255.1.2", true)]
    [InlineData("172.31.255.254", true)]
    [InlineData("169.254.9.9", true)]
    [InlineData("fdff::1", true)]
    [InlineData("bank.example", false)]
    [InlineData("pond.example", false)]
    [InlineData("notlocal", false)]
    [InlineData("8.8.8.8", false)]
    [InlineData("172.32.0.1", false)]
    [InlineData("127.0.0.1", false)]
    [InlineData("2001:db8::1", false)]
    [InlineData("fe80::1", false)]
    public void A_system_that_heeds_constraints_takes_private_names_from_it_and_no_others(string name, bool taken)
    {
        using var authority = LocalAuthority.Make(Where, Pond, Now);
        var text = File.ReadAllText(Path.Combine(Where, "authority.pem"));
        using var signing = X509Certificate2.CreateFromPem(text, text);
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=forged", key, HashAlgorithmName.SHA256);
        var alternatives = new SubjectAlternativeNameBuilder();
        if (IPAddress.TryParse(name, out var address))
            alternatives.AddIpAddress(address);
        else
            alternatives.AddDnsName(name);
        request.CertificateExtensions.Add(alternatives.Build());
        using var forged = request.Create(signing, Now, Now.AddDays(30), [1, 2, 3, 4]);
        Assert.Equal(taken, Judge(authority, forged, Now.AddDays(1)).Good);
        // what it judges of itself, by which names are left out of the server's certificate
        var permitted = PermittedNames.Of(signing);
        Assert.Equal(taken, address is null ? permitted.Permits(name) : permitted.Permits(address));
    }

    [Fact]
    public void It_is_kept_while_it_fits_and_renewed_when_addresses_change_or_it_runs_out()
    {
        using var authority = LocalAuthority.Make(Where, Pond, Now);
        var first = authority.Server(Pond, Now);
        Assert.True(first.IsFresh);
        using var opened = LocalAuthority.Open(Where)!;
        var kept = opened.Server(Pond, Now.AddDays(LocalAuthority.ServerDays - LocalAuthority.RenewalDays - 1));
        Assert.False(kept.IsFresh);
        Assert.Equal(first.Certificate.Thumbprint, kept.Certificate.Thumbprint);
        // in another order, it is the same machine
        Assert.False(opened.Server(new MachineNames([.. Pond.Addresses.Reverse()], [.. Pond.Names.Reverse()]), Now).IsFresh);

        var moved = opened.Server(Pond with { Addresses = [IPAddress.Parse("192.168.7.9")] }, Now);
        Assert.True(moved.IsFresh);
        Assert.Equal(["192.168.7.9"], moved.Addresses);
        Assert.True(Judge(opened, moved.Certificate, Now).Good);
        var late = Now.AddDays(LocalAuthority.ServerDays - LocalAuthority.RenewalDays);
        Assert.True(opened.Server(Pond with { Addresses = [IPAddress.Parse("192.168.7.9")] }, late).IsFresh);
        Assert.Equal(3, new[] { first, moved, opened.Server(Pond, Now) }.Select(c => c.Certificate.SerialNumber).Distinct(StringComparer.Ordinal).Count());
    }

    [Fact]
    public void A_program_that_runs_on_for_years_renews_it_in_time()
    {
        using var authority = LocalAuthority.Make(Where, Pond, Now);
        var time = new Microsoft.Extensions.Time.Testing.FakeTimeProvider(Now);
        var certificate = new RenewedCertificate(authority, Pond, time);
        HashSet<string> seen = [];
        for (var day = 0; day < 900; day++)
        {
            Assert.Equal((true, ""), Judge(authority, certificate.Current, time.GetUtcNow()));
            seen.Add(certificate.Current.SerialNumber);
            time.Advance(TimeSpan.FromDays(1));
        }

        Assert.Equal(3, seen.Count);
        Directory.Move(Where, Where + "-away"); // a disk that fails does not end the service of the one that is there
        time.Advance(TimeSpan.FromDays(200));
        Assert.Contains(certificate.Current.SerialNumber, seen);
    }

    [Fact]
    public void A_machine_with_an_address_alone_or_under_a_new_name_has_a_chain_that_holds()
    {
        using var authority = LocalAuthority.Make(Where, Pond, Now);
        var bare = authority.Server(new MachineNames([IPAddress.Parse("192.168.7.5")], []), Now);
        Assert.Equal((true, ""), Judge(authority, bare.Certificate, Now));
        // renamed: the authority may not vouch for the new name, but may for the same under .local; public addresses are left out
        var renamed = authority.Server(new MachineNames([IPAddress.Parse("192.168.7.5"), IPAddress.Parse("203.0.113.7")], MachineNames.Of("lagoon")), Now);
        Assert.Equal(["lagoon.local"], renamed.Names);
        Assert.Equal(["192.168.7.5"], renamed.Addresses);
        Assert.Equal((true, ""), Judge(authority, renamed.Certificate, Now));
    }

    [Fact]
    public void After_its_last_day_it_vouches_for_nothing_and_near_it_for_no_longer_than_itself()
    {
        using var authority = LocalAuthority.Make(Where, Pond, Now);
        var near = authority.Server(Pond, authority.NotAfter.AddDays(-40));
        Assert.Equal(authority.NotAfter, new DateTimeOffset(near.Certificate.NotAfter));
        Assert.Contains("let every phone trust it", Assert.Throws<IOException>(() => authority.Server(Pond, authority.NotAfter.AddSeconds(1))).Message, StringComparison.Ordinal);
        Assert.False(authority.IsGood(authority.NotAfter));
    }

    [Fact]
    public void Half_a_server_file_is_made_anew_and_a_spoilt_authority_is_told_of()
    {
        using (var authority = LocalAuthority.Make(Where, Pond, Now))
        {
            using var _ = authority.Server(Pond, Now).Certificate;
            File.WriteAllText(authority.ServerPath, File.ReadAllText(authority.ServerPath)[..200]);
            Assert.True(authority.Server(Pond, Now).IsFresh);
        }

        File.WriteAllText(Path.Combine(Where, "authority.pem"), "half");
        Assert.Contains("make a new authority", Assert.Throws<IOException>(() => LocalAuthority.Open(Where)).Message, StringComparison.Ordinal);
        Assert.Null(LocalAuthority.Open(Path.Combine(Where, "nowhere")));
    }

    [Fact]
    public void Keys_are_for_their_owner_alone()
    {
        if (OperatingSystem.IsWindows())
            return;
        using var authority = LocalAuthority.Make(Where, Pond, Now);
        using var _ = authority.Server(Pond, Now).Certificate;
        const UnixFileMode owner = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        Assert.Equal(owner | UnixFileMode.UserExecute, File.GetUnixFileMode(Where));
        var keys = Directory.GetFiles(Where).Where(f => File.ReadAllText(f, Encoding.Latin1).Contains("PRIVATE", StringComparison.Ordinal)).ToList();
        Assert.Equal(["authority.pem", "server.pem"], keys.Select(Path.GetFileName).Order(StringComparer.Ordinal));
        foreach (var file in keys)
            Assert.Equal(owner, File.GetUnixFileMode(file));
    }

    [Theory]
    [InlineData("pond", "pond", "pond.local")]
    [InlineData("Pond.School.Example.", "pond.school.example", "pond", "pond.local")]
    [InlineData("localhost")]
    [InlineData("my_pond")]
    [InlineData("-pond")]
    [InlineData("")]
    [InlineData("192.168.7.5")]
    public void A_host_name_gives_the_names_that_a_certificate_can_carry(string host, params string[] names) => Assert.Equal(names, MachineNames.Of(host));

    [Theory]
    [InlineData("https://pond:5200", "/trust")]
    [InlineData("http://pond:5199", "/trust")]
    public async Task The_public_certificate_is_to_be_had_before_pairing_and_the_page_tells_how_to_trust_it(string address, string page)
    {
        await using var app = await LanApp.Within(https: true);
        using var answer = await app.Client(address, cookies: false).GetAsync(new Uri("/trust/knownwater.crt", UriKind.Relative), Cancel);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal("application/x-x509-ca-cert", answer.Content.Headers.ContentType!.ToString());
        Assert.Equal(app.Door.Authority!.PublicCertificate.ToArray(), await answer.Content.ReadAsByteArrayAsync(Cancel));
        var shown = await app.Read(address).Get(page);
        Assert.Equal(HttpStatusCode.OK, shown.Status);
        Assert.Contains(app.Door.Authority.Fingerprint, shown.Text, StringComparison.Ordinal);
        Assert.Contains("Android", shown.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("My bench", shown.Html, StringComparison.Ordinal);
        Assert.Contains(address.StartsWith("https", StringComparison.Ordinal) ? "Nothing is left to do" : $"https://pond:{app.Door.SecurePort}/", shown.Html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Over_http_a_page_leads_to_itself_over_https_once_there_is_a_certificate()
    {
        await using var app = await LanApp.Within(https: true);
        var page = await app.Read().Get("/pair?code=ACDEFHJK");
        Assert.Equal(HttpStatusCode.Unauthorized, page.Status);
        Assert.Contains($"https://pond:{app.Door.SecurePort}/pair?code=ACDEFHJK", page.Links);
    }

    [Fact]
    public async Task Without_an_authority_there_is_no_certificate_and_the_page_says_how_to_make_one()
    {
        await using var app = await LanApp.Within();
        Assert.Contains("knownwater certificate", (await app.Read().Get("/trust")).Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await app.Read().Get("/trust/knownwater.crt")).Status);
    }

    [Fact]
    public async Task No_route_gives_a_key_away_to_anyone()
    {
        await using var app = await LanApp.Within(https: true, from: "127.0.0.1");
        var client = app.Client("http://127.0.0.1:5199", cookies: false);
        List<byte[]> secrets = [Encoding.ASCII.GetBytes("PRIVATE KEY")];
        foreach (var file in Directory.GetFiles(app.Certificates, "*.pem"))
        {
            using var key = ECDsa.Create();
            key.ImportFromPem(File.ReadAllText(file).Split("-----END CERTIFICATE-----")[1]);
            secrets.Add(key.ExportParameters(true).D!);
            secrets.Add(Encoding.ASCII.GetBytes(Convert.ToBase64String(key.ExportPkcs8PrivateKey())[..60]));
        }

        Assert.Equal(5, secrets.Count);
        var routes = app.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>().Select(e => "/" + e.RoutePattern.RawText!.TrimStart('/').Split('{')[0]);
        string[] tried = ["/https/authority.pem", "/https/server.pem", "/assets/authority.pem", "/assets/..%2fhttps%2fauthority.pem", "/assets/%2e%2e%2fhttps%2fserver.pem", "/trust/authority.pem", "/trust/server.pem", "/trust/..%2f..%2fhttps%2fserver.pem", "/records.db", "/form-keys"];
        foreach (var address in routes.Concat(tried).Distinct(StringComparer.Ordinal))
        {
            using var answer = await client.GetAsync(new Uri(address, UriKind.Relative), Cancel);
            var content = await answer.Content.ReadAsByteArrayAsync(Cancel);
            Assert.All(secrets, secret => Assert.True(content.AsSpan().IndexOf(secret) < 0, $"{address} gives a key away"));
        }
    }

    [Fact]
    public async Task A_real_handshake_on_the_machine_s_address_holds_under_this_authority_and_under_no_other()
    {
        await using var app = await LanApp.OnTheNetwork(https: true);
        var authority = app.Door.Authority!;
        using var root = X509CertificateLoader.LoadCertificate(authority.PublicCertificate.Span);
        async Task<string> Shake(string host, X509Certificate2? trusted)
        {
            using var tcp = new TcpClient(LanAddress.Any.AddressFamily);
            await tcp.ConnectAsync(LanAddress.Any, app.Door.SecurePort, Cancel);
            await using var tls = new SslStream(tcp.GetStream());
            var options = new SslClientAuthenticationOptions { TargetHost = host, CertificateChainPolicy = new X509ChainPolicy { RevocationMode = X509RevocationMode.NoCheck } };
            if (trusted is not null)
            {
                options.CertificateChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
                options.CertificateChainPolicy.CustomTrustStore.Add(trusted);
            }

            await tls.AuthenticateAsClientAsync(options, Cancel);
            await tls.WriteAsync(Encoding.ASCII.GetBytes($"GET /pair HTTP/1.1\r\nHost: {(host.Contains(':', StringComparison.Ordinal) ? $"[{host}]" : host)}\r\nConnection: close\r\n\r\n"), Cancel);
            using var reader = new StreamReader(tls);
            return await reader.ReadToEndAsync(Cancel);
        }

        foreach (var host in new[] { LanAddress.Any.ToString(), "pond", "pond.local" })
            Assert.Contains("This phone is not paired yet", await Shake(host, root), StringComparison.Ordinal);
        await Assert.ThrowsAsync<AuthenticationException>(() => Shake("elsewhere.local", root));
        await Assert.ThrowsAsync<AuthenticationException>(() => Shake("pond", null));
        using var other = LocalAuthority.Make(Where, Pond, DateTimeOffset.UtcNow);
        using var stranger = X509CertificateLoader.LoadCertificate(other.PublicCertificate.Span);
        await Assert.ThrowsAsync<AuthenticationException>(() => Shake("pond", stranger));
    }

    [Fact]
    public void The_square_code_in_the_terminal_holds_the_address()
    {
        const string address = "http://192.168.7.5:5199/pair?code=ACDEFHJK";
        var lines = TerminalCode.Lines(address, coloured: false);
        var (width, height, scale) = (lines[0].Length, lines.Count * 2, 4);
        var grey = new byte[width * height * scale * scale];
        for (var y = 0; y < height * scale; y++)
        {
            for (var x = 0; x < width * scale; x++)
            {
                var letter = lines[y / scale / 2][x / scale];
                var light = letter == '█' || letter == (y / scale % 2 == 0 ? '▀' : '▄');
                grey[y * width * scale + x] = light ? (byte)255 : (byte)0;
            }
        }

        var source = new ZXing.RGBLuminanceSource(grey, width * scale, height * scale, ZXing.RGBLuminanceSource.BitmapFormat.Gray8);
        Assert.Equal(address, new ZXing.BarcodeReaderGeneric { Options = { PossibleFormats = [ZXing.BarcodeFormat.QR_CODE] } }.Decode(source)?.Text);
        Assert.All(TerminalCode.Lines(address, coloured: true), (line, i) => Assert.Equal($"\u001b[97;40m{lines[i]}\u001b[0m", line));
    }
}
