namespace Knownwater.Records.Checks;

/// <summary>What became of an event that a device sent.</summary>
/// <param name="Key">The event.</param>
/// <param name="Fate">What became of it.</param>
/// <param name="Sentence">What there is to say about it; empty where nothing is.</param>
/// <param name="Offers">Likely meanings of a reading that is asked again.</param>
/// <param name="Doubtful">Whether the reading would be kept as typed once confirmed.</param>
public sealed record RunAnswer(Guid Key, RunEventFate Fate, string Sentence, IReadOnlyList<Offer> Offers, bool Doubtful = false);
