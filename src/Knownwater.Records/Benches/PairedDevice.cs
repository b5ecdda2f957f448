using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Benches;

/// <summary>A phone, tablet or other machine that may open the bench from the network.</summary>
/// <remarks>
/// Only the SHA-256 of its secret is kept. The secret is 256 random bits, so that there is nothing to guess and a slow hash as for
/// passwords would add nothing: who reads the records cannot come back from the hash to the secret.
/// </remarks>
internal sealed class PairedDevice(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public string Name { get; set; } = "";

    /// <summary>SHA-256 of the secret, in hexadecimal.</summary>
    public string SecretHash { get; set; } = "";

    /// <summary>Whether it was paired over https; a secret that once went over plain http is not taken over https.</summary>
    public bool OverHttps { get; set; }

    public Instant PairedAt { get; set; }

    /// <summary>The hour in which it was last seen; finer is nobody's business.</summary>
    public Instant LastSeenHour { get; set; }
}
