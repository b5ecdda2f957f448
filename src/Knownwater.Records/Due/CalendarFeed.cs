using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Due;

/// <summary>A secret address under which a calendar program reads what falls on a day. Only the SHA-256 of the secret is kept.</summary>
internal sealed class CalendarFeed(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public string SecretHash { get; set; } = "";

    public Instant OpenedAt { get; set; }
}
