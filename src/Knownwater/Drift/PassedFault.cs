namespace Knownwater.Drift;

/// <summary>A fault that came at one event and went at a later one.</summary>
/// <param name="Came">The step with which it came.</param>
/// <param name="Went">The step that took it back.</param>
public sealed record PassedFault(EventStep Came, EventStep Went);
