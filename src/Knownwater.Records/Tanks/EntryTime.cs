using Knownwater.Records.Benches;
using NodaTime;
using NodaTime.Text;

namespace Knownwater.Records.Tanks;

/// <summary>Reads and writes the hour of an entry, in the time zone of the bench.</summary>
internal static class EntryTime
{
    private static readonly LocalDateTimePattern Written = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");

    private static readonly LocalDateTimePattern[] Patterns =
        [Written, LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm:ss"), LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd HH:mm")];

    /// <summary>The hour as it stands in a field.</summary>
    public static string Typed(Instant at, BenchSetting bench) => Written.Format(bench.At(at).LocalDateTime);

    /// <summary>Reads it; empty is now, and the minute that stood in the field before is the instant it stood for. Null with a fault where it cannot be.</summary>
    public static Instant? Read(TypedFields fields, BenchSetting bench, string field, string? typed, Instant? former = null)
    {
        var text = typed?.Trim() ?? "";
        if (text.Length == 0)
            return former ?? bench.Now;
        if (former is { } then && text == Typed(then, bench))
            return then;
        if (text == Typed(bench.Now, bench))
            return bench.Now;
        if (Patterns.Select(p => p.Parse(text)).FirstOrDefault(p => p.Success) is not { } parsed || parsed.Value.Year is < 1900 or > 2999)
        {
            fields.Fault(field, $"“{text}” is not a day and an hour. Write them as in {Typed(bench.Now, bench).Replace('T', ' ')}.");
            return null;
        }
        var at = bench.Zone.AtLeniently(parsed.Value).ToInstant();
        if (at <= bench.Now)
            return at;
        fields.Fault(field, $"{Words.ShortMoment(bench.At(at), bench.Today)} has not come yet. Write when it was done.");
        return null;
    }
}
