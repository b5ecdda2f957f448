using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace Knownwater.Web.Serve;

/// <summary>
/// An authority of this machine alone, which vouches for the certificate with which it serves https to phones beside it.
/// A phone trusts the authority once; the server's certificate is renewed under it without asking again.
/// </summary>
/// <remarks>
/// ECDSA on P-256 with SHA-256, X.509 version 3 by RFC 5280. The authority may sign certificates of servers only directly (path length
/// zero) and only for private names (<see cref="PermittedNames"/>). Keys are made here, are written with file mode 0600 where the system
/// has file modes, and are never served.
/// </remarks>
public sealed class LocalAuthority : IDisposable
{
    /// <summary>Years for which an authority is good.</summary>
    public const int Years = 10;

    /// <summary>Days for which a server's certificate is good; systems refuse much longer ones.</summary>
    public const int ServerDays = 397;

    /// <summary>Days before its end at which a server's certificate is renewed.</summary>
    public const int RenewalDays = 30;

    private const string AuthorityFile = "authority.pem", ServerFile = "server.pem", PublicFile = "knownwater-authority.crt";

    private readonly string _folder;
    private readonly X509Certificate2 _authority;
    private readonly PermittedNames _permitted;

    private LocalAuthority(string folder, X509Certificate2 authority)
    {
        (_folder, _authority) = (folder, authority);
        _permitted = PermittedNames.Of(authority);
    }

    /// <summary>What it is called in the lists of a phone.</summary>
    public string Name => _authority.GetNameInfo(X509NameType.SimpleName, forIssuer: false);

    /// <summary>The public certificate that a phone trusts, in DER.</summary>
    public ReadOnlyMemory<byte> PublicCertificate => _authority.RawDataMemory;

    /// <summary>SHA-256 of the public certificate in pairs of digits, to compare with what a phone shows.</summary>
    public string Fingerprint => string.Join(':', SHA256.HashData(_authority.RawDataMemory.Span).Select(b => b.ToString("X2")));

    /// <summary>When it begins to be good.</summary>
    public DateTimeOffset NotBefore => new(_authority.NotBefore);

    /// <summary>When it runs out.</summary>
    public DateTimeOffset NotAfter => new(_authority.NotAfter);

    /// <summary>The file with the public certificate, to carry to a device by hand.</summary>
    public string PublicPath => Path.Combine(_folder, PublicFile);

    /// <summary>The file with the server's certificate and key.</summary>
    public string ServerPath => Path.Combine(_folder, ServerFile);

    /// <summary>The folder of the certificates beside the records.</summary>
    /// <param name="beside">The folder of the records.</param>
    /// <returns>Its path.</returns>
    public static string FolderIn(string beside) => Path.Combine(beside, "https");

    /// <summary>Opens the authority of a folder.</summary>
    /// <param name="folder">The folder of the certificates.</param>
    /// <returns>The authority; null where none was made.</returns>
    /// <exception cref="IOException">Its file cannot be read.</exception>
    public static LocalAuthority? Open(string folder)
    {
        var path = Path.Combine(folder, AuthorityFile);
        if (!File.Exists(path))
            return null;
        try
        {
            return new LocalAuthority(folder, Read(path));
        }
        catch (Exception fault) when (fault is CryptographicException or System.Formats.Asn1.AsnContentException or UnauthorizedAccessException)
        {
            throw new IOException($"{path} cannot be read: {fault.Message} Put back a copy of it, or delete the folder {folder}, make a new authority with knownwater certificate, and let every phone trust it anew.", fault);
        }
    }

    /// <summary>Makes an authority for this machine; one that was there before is replaced.</summary>
    /// <param name="folder">The folder of the certificates; made where it is missing, for its owner alone.</param>
    /// <param name="machine">Names and addresses of the machine.</param>
    /// <param name="now">The present time.</param>
    /// <returns>The authority.</returns>
    public static LocalAuthority Make(string folder, MachineNames machine, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(machine);
        MakeFolder(folder);
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var name = new X500DistinguishedNameBuilder();
        name.AddCommonName($"Knownwater on {(machine.Names is [var first, ..] ? first : "this machine")}, made {now:yyyy-MM-dd}");
        var request = new CertificateRequest(name.Build(), key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(certificateAuthority: true, hasPathLengthConstraint: true, pathLengthConstraint: 0, critical: true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.KeyCertSign, critical: true));
        request.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(request.PublicKey, critical: false));
        request.CertificateExtensions.Add(PermittedNames.Of(machine).ToExtension());
        var begin = now.AddHours(-1); // the clock of a phone may be behind
        using var made = request.CreateSelfSigned(begin, begin.AddYears(Years).AddSeconds(-1));
        Write(Path.Combine(folder, AuthorityFile), made, key);
        WriteAll(Path.Combine(folder, PublicFile), made.RawData, forOthersToo: true);
        File.Delete(Path.Combine(folder, ServerFile));
        return new LocalAuthority(folder, Read(Path.Combine(folder, AuthorityFile)));
    }

    /// <summary>Whether it is good at a time.</summary>
    /// <param name="now">The time.</param>
    /// <returns>Whether it lies within its days.</returns>
    public bool IsGood(DateTimeOffset now) => now >= NotBefore && now < NotAfter;

    /// <summary>The server's certificate for the machine as it is now: the kept one while it fits, else a fresh one.</summary>
    /// <param name="machine">Names and addresses of the machine; those that the authority may not vouch for are left out.</param>
    /// <param name="now">The present time.</param>
    /// <returns>The certificate with its key.</returns>
    /// <exception cref="IOException">The authority has run out, or the certificate cannot be kept.</exception>
    public ServerCertificate Server(MachineNames machine, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(machine);
        if (!IsGood(now))
            throw new IOException($"The authority “{Name}” is good from {NotBefore:yyyy-MM-dd} to {NotAfter:yyyy-MM-dd} only. Make a new one with knownwater certificate, and let every phone trust it.");
        var names = machine.Names.Where(_permitted.Permits).Order(StringComparer.Ordinal).ToList();
        var addresses = machine.Addresses.Where(_permitted.Permits).Select(a => a.ToString()).Order(StringComparer.Ordinal).ToList();
        if (Kept() is { } kept)
        {
            if (Fits(kept, names, addresses, now))
                return new ServerCertificate(kept, names, addresses, IsFresh: false);
            kept.Dispose();
        }

        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var subject = new X500DistinguishedNameBuilder();
        subject.AddCommonName("Knownwater"); // no host name: some systems would judge it as one
        var request = new CertificateRequest(subject.Build(), key, HashAlgorithmName.SHA256);
        var alternatives = new SubjectAlternativeNameBuilder();
        names.ForEach(alternatives.AddDnsName);
        addresses.ForEach(a => alternatives.AddIpAddress(IPAddress.Parse(a)));
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, critical: true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.DigitalSignature, critical: true));
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid("1.3.6.1.5.5.7.3.1")], critical: false)); // server authentication
        request.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(request.PublicKey, critical: false));
        request.CertificateExtensions.Add(X509AuthorityKeyIdentifierExtension.CreateFromCertificate(_authority, includeKeyIdentifier: true, includeIssuerAndSerial: false));
        if (names.Count + addresses.Count > 0)
            request.CertificateExtensions.Add(alternatives.Build());
        var begin = Later(now.AddHours(-1), NotBefore);
        var end = begin.AddDays(ServerDays).AddSeconds(-1);
        using var made = request.Create(_authority, begin, end < NotAfter ? end : NotAfter, Serial());
        Write(ServerPath, made, key);
        return new ServerCertificate(Read(ServerPath), names, addresses, IsFresh: true);
    }

    /// <inheritdoc/>
    public void Dispose() => _authority.Dispose();

    private static DateTimeOffset Later(DateTimeOffset a, DateTimeOffset b) => a > b ? a : b;

    /// <summary>Sixteen random bytes, positive and not beginning with zero (RFC 5280, 4.1.2.2).</summary>
    private static byte[] Serial()
    {
        var serial = RandomNumberGenerator.GetBytes(16);
        serial[0] = (byte)((serial[0] & 0x7F) | 0x40);
        return serial;
    }

    private bool Fits(X509Certificate2 kept, List<string> names, List<string> addresses, DateTimeOffset now)
    {
        var alternatives = kept.Extensions.OfType<X509SubjectAlternativeNameExtension>().FirstOrDefault();
        var issuer = kept.Extensions.OfType<X509AuthorityKeyIdentifierExtension>().FirstOrDefault()?.KeyIdentifier;
        var own = _authority.Extensions.OfType<X509SubjectKeyIdentifierExtension>().First().SubjectKeyIdentifierBytes;
        return now >= new DateTimeOffset(kept.NotBefore) && now < new DateTimeOffset(kept.NotAfter).AddDays(-RenewalDays)
            && issuer is { } key && key.Span.SequenceEqual(own.Span)
            && names.SequenceEqual((alternatives?.EnumerateDnsNames() ?? []).Order(StringComparer.Ordinal), StringComparer.Ordinal)
            && addresses.SequenceEqual((alternatives?.EnumerateIPAddresses() ?? []).Select(a => a.ToString()).Order(StringComparer.Ordinal), StringComparer.Ordinal);
    }

    private X509Certificate2? Kept()
    {
        try
        {
            return File.Exists(ServerPath) ? Read(ServerPath) : null;
        }
        catch (CryptographicException)
        {
            return null; // half of it is no certificate: a fresh one takes its place
        }
    }

    private static X509Certificate2 Read(string path)
    {
        var text = File.ReadAllText(path);
        var read = X509Certificate2.CreateFromPem(text, text);
        if (!OperatingSystem.IsWindows())
            return read;
        // Windows serves https only with a key that it holds itself
        using (read)
            return X509CertificateLoader.LoadPkcs12(read.Export(X509ContentType.Pkcs12), null);
    }

    private static void Write(string path, X509Certificate2 certificate, ECDsa key) =>
        WriteAll(path, System.Text.Encoding.ASCII.GetBytes(certificate.ExportCertificatePem() + "\n" + key.ExportPkcs8PrivateKeyPem() + "\n"), forOthersToo: false);

    /// <summary>Writes a file as a whole: another reader sees the old one or the new one, never half of it, and never with a wider mode.</summary>
    private static void WriteAll(string path, byte[] content, bool forOthersToo)
    {
        var fresh = path + ".new";
        File.Delete(fresh);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite | (forOthersToo ? UnixFileMode.GroupRead | UnixFileMode.OtherRead : UnixFileMode.None);
        using (var file = new FileStream(fresh, options))
        {
            file.Write(content);
            file.Flush(flushToDisk: true);
        }

        File.Move(fresh, path, overwrite: true);
    }

    private static void MakeFolder(string folder)
    {
        if (OperatingSystem.IsWindows())
            Directory.CreateDirectory(folder);
        else
            Directory.CreateDirectory(folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }
}

/// <summary>A server's certificate with its key.</summary>
/// <param name="Certificate">The certificate.</param>
/// <param name="Names">Host names for which it is good.</param>
/// <param name="Addresses">Addresses for which it is good.</param>
/// <param name="IsFresh">Whether it was made just now.</param>
public sealed record ServerCertificate(X509Certificate2 Certificate, IReadOnlyList<string> Names, IReadOnlyList<string> Addresses, bool IsFresh);
