namespace Knownwater.Drift;

/// <summary>One check in the stability view: its deviation from the level fitted to all checks with the same stock, so that the error of the stock is out.</summary>
/// <param name="Check">Its place in the history, from 0.</param>
/// <param name="Day">Its day.</param>
/// <param name="Stock">Its stock.</param>
/// <param name="Deviation">Deviation in tolerances; null where no other check used this stock in the same span between events that start anew.</param>
/// <param name="StandardUncertainty">Standard uncertainty of the deviation, in tolerances.</param>
public sealed record StabilityPoint(int Check, double Day, string? Stock, double? Deviation, double StandardUncertainty);
