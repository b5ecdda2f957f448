namespace Knownwater.Web.Sheet;

/// <summary>One choice of a list.</summary>
/// <param name="Value">What is posted.</param>
/// <param name="Words">What is read.</param>
/// <param name="Group">The group it stands in; empty for none.</param>
public sealed record Choice(string Value, string Words, string Group = "");
