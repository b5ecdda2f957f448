namespace Knownwater.Drift;

/// <summary>How far a check fell from what the checks before it foretold.</summary>
/// <param name="Check">Its place in the history, from 0.</param>
/// <param name="Day">Its day.</param>
/// <param name="Error">Found bias minus foretold bias, in tolerances.</param>
/// <param name="Sd">Standard deviation of that error, in tolerances.</param>
/// <param name="Score">The error as a normal score: N(0, 1) and independent from check to check where nothing has changed; null where nothing was foretold yet: for the first two checks, and the first one after an event that starts anew.</param>
public sealed record ForecastError(int Check, double Day, double Error, double Sd, double? Score);
