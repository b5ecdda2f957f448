namespace Knownwater.Drift;

/// <summary>One check in the trueness view: its bias against the known zero.</summary>
/// <param name="Check">Its place in the history, from 0.</param>
/// <param name="Day">Its day.</param>
/// <param name="Bias">Bias over its levels, in tolerances.</param>
/// <param name="StandardUncertainty">Standard uncertainty with everything in it: scatter within and between checks, known water.</param>
/// <param name="KnownWaterUncertainty">The part of it that comes from the known water.</param>
public sealed record TruenessPoint(int Check, double Day, double Bias, double StandardUncertainty, double KnownWaterUncertainty);
