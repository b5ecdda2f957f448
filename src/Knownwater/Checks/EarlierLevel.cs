namespace Knownwater.Checks;

/// <summary>One level of an earlier check, in the reporting form of the failed one.</summary>
/// <param name="Known">Known value; zero or above.</param>
/// <param name="Bias">Mean of the readings minus the known value; finite.</param>
/// <param name="MeanU">Standard uncertainty of the mean of its readings, s/√n, without that of the known value; above zero.</param>
public sealed record EarlierLevel(double Known, double Bias, double MeanU);
