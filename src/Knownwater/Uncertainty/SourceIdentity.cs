using System.Diagnostics.CodeAnalysis;
using System.Security.Cryptography;
using System.Text;

namespace Knownwater.Uncertainty;

/// <summary>The identity of an error source that follows from what it belongs to and its role there.</summary>
/// <remarks>
/// So one pipette’s gain is the same source in every evaluation, process and store, without a table that hands identities out. A UUID of version 5 (RFC 9562, 5.5): SHA-1 over the sixteen bytes
/// of the owner, most significant first, and the role in UTF-8; the first sixteen bytes of the digest, with version and variant set. SHA-1 serves as a name here, not as a secret.
/// </remarks>
public static class SourceIdentity
{
    /// <summary>The identity of a role of an owner.</summary>
    /// <param name="owner">Identity of the owner: a piece of glassware, a stock, a preparation; not empty.</param>
    /// <param name="role">What the source is there, such as “gain”; not blank; upper and lower case differ.</param>
    /// <returns>The same identity for the same two arguments, always.</returns>
    /// <exception cref="ArgumentException">The owner is empty, or the role is blank.</exception>
    [SuppressMessage("Security", "CA5350", Justification = "RFC 9562 names SHA-1 for version 5; it names things here and protects nothing.")]
    public static Guid Of(Guid owner, string role)
    {
        if (owner == Guid.Empty)
            throw new ArgumentException("The owner of an error source has an empty identity; give it one of its own.", nameof(owner));
        ArgumentException.ThrowIfNullOrWhiteSpace(role);
        var name = new byte[16 + Encoding.UTF8.GetByteCount(role)];
        owner.TryWriteBytes(name, bigEndian: true, out _);
        Encoding.UTF8.GetBytes(role, name.AsSpan(16));
        Span<byte> digest = stackalloc byte[SHA1.HashSizeInBytes];
        SHA1.HashData(name, digest);
        digest[6] = (byte)(0x50 | (digest[6] & 0x0F));
        digest[8] = (byte)(0x80 | (digest[8] & 0x3F));
        return new Guid(digest[..16], bigEndian: true);
    }
}
