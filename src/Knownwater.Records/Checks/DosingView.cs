using Knownwater.Checks;

namespace Knownwater.Records.Checks;

/// <summary>Automatic dosing that was paused for a check.</summary>
/// <param name="Check">The check.</param>
/// <param name="Title">“Alkalinity on the harbour analyser”.</param>
/// <param name="PausedWords">“3 September, 09:05”.</param>
/// <param name="ResumedWords">When it listened again; empty while it is paused.</param>
/// <param name="Verdict">The verdict of the check; null while there is none.</param>
/// <param name="Advice">What to mind before it listens again, in a sentence.</param>
public sealed record DosingView(Guid Check, string Title, string PausedWords, string ResumedWords, Verdict? Verdict, string Advice);
