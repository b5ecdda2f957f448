using System.Buffers.Text;
using System.Security.Cryptography;
using NodaTime;

namespace Knownwater.Records.Benches;

/// <summary>What a paired device shows with every request: its key, a point, its secret.</summary>
internal static class DevicePass
{
    /// <summary>Length of a secret: 256 bits.</summary>
    public const int SecretBytes = 32;

    public static string Hash(ReadOnlySpan<byte> secret) => Convert.ToHexStringLower(SHA256.HashData(secret));

    /// <summary>Key and secret of a pass; null where it is none.</summary>
    public static (Guid Device, byte[] Secret)? Read(string? pass)
    {
        if (pass is not { Length: > 33 and < 100 } || pass[32] != '.' || !Guid.TryParseExact(pass.AsSpan(0, 32), "N", out var device))
            return null;
        var secret = new byte[SecretBytes];
        return Base64Url.IsValid(pass.AsSpan(33), out var length) && length == SecretBytes && Base64Url.TryDecodeFromChars(pass.AsSpan(33), secret, out _) ? (device, secret) : null;
    }

    /// <summary>Whether the secret is that of the hash; takes as long when it is not.</summary>
    public static bool Fits(ReadOnlySpan<byte> secret, string hash) =>
        CryptographicOperations.FixedTimeEquals(SHA256.HashData(secret), Convert.FromHexString(hash));

    public static Instant HourOf(Instant at)
    {
        var ticks = at.ToUnixTimeTicks();
        return Instant.FromUnixTimeTicks(ticks - (ticks % NodaConstants.TicksPerHour + NodaConstants.TicksPerHour) % NodaConstants.TicksPerHour);
    }
}
