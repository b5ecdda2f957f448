namespace Knownwater.Records.Checks;

/// <summary>The steps of a check by the procedure of its instrument.</summary>
/// <param name="Check">The check.</param>
/// <param name="ProcedureName">Name of the procedure; empty where there is none.</param>
/// <param name="ProcedureVersion">Version of the procedure: 0 for the shipped one, from 1 for the instrument’s own.</param>
/// <param name="Steps">All steps in the order of doing; empty where they cannot be given.</param>
/// <param name="Hindrance">Why there are no steps, in a sentence that says what to do; null where there are.</param>
public sealed record RunPlan(Guid Check, string ProcedureName, int ProcedureVersion, IReadOnlyList<RunStep> Steps, string? Hindrance);
