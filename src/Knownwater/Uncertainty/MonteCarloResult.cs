namespace Knownwater.Uncertainty;

/// <summary>The distribution of a measurand by Monte Carlo, summed up (JCGM 101:2008, 7.5 to 7.7).</summary>
/// <param name="Trials">Number of trials M.</param>
/// <param name="Mean">Mean of the model values.</param>
/// <param name="StandardUncertainty">Standard deviation of the model values.</param>
/// <param name="Low">Lower end of the probabilistically symmetric 95 % coverage interval.</param>
/// <param name="High">Its upper end.</param>
/// <param name="ShortestLow">Lower end of the shortest 95 % coverage interval.</param>
/// <param name="ShortestHigh">Its upper end.</param>
/// <param name="BinWidth">Width of the histogram's bins: how far an end may lie from that of the sorted values. What chance leaves in it comes on top.</param>
public sealed record MonteCarloResult(int Trials, double Mean, double StandardUncertainty, double Low, double High, double ShortestLow, double ShortestHigh, double BinWidth);
