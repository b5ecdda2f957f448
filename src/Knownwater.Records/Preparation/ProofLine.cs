namespace Knownwater.Records.Preparation;

/// <summary>One proof of a piece in a list.</summary>
/// <param name="Id">Its key.</param>
/// <param name="WhatWords">Day and what was weighed.</param>
/// <param name="FoundWords">What it found.</param>
/// <param name="IsDone">Whether it is finished.</param>
/// <param name="Proves">Whether it replaces the limits of the piece.</param>
/// <param name="IsOld">Whether it is older than a year.</param>
public sealed record ProofLine(Guid Id, string WhatWords, string FoundWords, bool IsDone, bool Proves, bool IsOld);
