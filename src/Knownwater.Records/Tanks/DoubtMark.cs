namespace Knownwater.Records.Tanks;

/// <summary>What a failed check says of a reading or a dose.</summary>
/// <param name="Check">The check on whose page it can be cleared.</param>
/// <param name="InDoubt">Whether it is in doubt; else it was cleared.</param>
/// <param name="Words">“in doubt by the check of 3 September”, or “cleared: a stock past its best (MJ)”.</param>
public sealed record DoubtMark(Guid Check, bool InDoubt, string Words);
