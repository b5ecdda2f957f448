using NodaTime;

namespace Knownwater.Records.Due;

/// <summary>Something that falls on a day.</summary>
/// <param name="On">The day.</param>
/// <param name="Item">What, with its reason and the act that it asks for.</param>
/// <param name="Key">What stays the same while its day moves: “check-…”.</param>
public sealed record DatedItem(LocalDate On, DueItem Item, string Key);
