using NodaTime;

namespace Knownwater.Records.Storage;

/// <summary>The one place where time enters the records.</summary>
/// <param name="time">Where the time comes from.</param>
public sealed class Clock(TimeProvider time)
{
    /// <summary>The present instant, cut to microseconds so that both stores keep it alike.</summary>
    public Instant Now
    {
        get
        {
            var ticks = Instant.FromDateTimeOffset(time.GetUtcNow()).ToUnixTimeTicks();
            return Instant.FromUnixTimeTicks(ticks - (ticks % 10 + 10) % 10);
        }
    }

    /// <summary>A fresh key, ordered by time to the millisecond.</summary>
    public Guid NewId() => Guid.CreateVersion7(time.GetUtcNow());
}
