namespace Knownwater.Records.Checks;

/// <summary>What to do after a check that failed or cannot tell yet: what holds until a check passes, and the search for the cause in its order.</summary>
/// <param name="Holds">What holds until a check passes, one sentence or two each: maintenance, correction, emergency.</param>
/// <param name="Rates">The last proven maintenance rate of each tank that the method reads.</param>
/// <param name="Steps">What to do, in this order; empty where the check cannot tell yet.</param>
/// <param name="InDoubt">“Twelve readings and one dose are in doubt, since 12 August, when it last read right.”; empty where nothing is.</param>
/// <param name="CanLookBack">Whether the check puts something in doubt, or did so.</param>
public sealed record AfterFailure(IReadOnlyList<string> Holds, IReadOnlyList<HeldRate> Rates, IReadOnlyList<string> Steps, string InDoubt, bool CanLookBack);

/// <summary>The rate at which a tank is dosed on until a check passes.</summary>
/// <param name="Tank">The tank.</param>
/// <param name="TankName">Its name.</param>
/// <param name="DoseWords">“38 mL a day of bicarbonate solution”.</param>
/// <param name="WhenWords">When it was recorded.</param>
/// <param name="IsProven">Whether it was recorded before a check that read right; else it is only the last one.</param>
public sealed record HeldRate(Guid Tank, string TankName, string DoseWords, string WhenWords, bool IsProven);
