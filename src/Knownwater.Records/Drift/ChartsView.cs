using Knownwater.Figures;

namespace Knownwater.Records.Drift;

/// <summary>The charts that illustrate the course of a method, as a page shows them.</summary>
/// <param name="Method">The method.</param>
/// <param name="Title">“Nitrate on the harbour analyser”.</param>
/// <param name="Charts">The charts; empty where too few checks count.</param>
public sealed record ChartsView(Guid Method, string Title, IReadOnlyList<ChartLook> Charts);

/// <summary>One chart.</summary>
/// <param name="Key">Its word in an address: “sums”.</param>
/// <param name="Heading">What it is called.</param>
/// <param name="Takes">What its points are.</param>
/// <param name="Limits">Its limits, and what they come from.</param>
/// <param name="RunLength">How often it signals where nothing has changed.</param>
/// <param name="Finds">What it found here.</param>
/// <param name="Figure">The picture.</param>
public sealed record ChartLook(string Key, string Heading, string Takes, string Limits, string RunLength, string Finds, ChartFigure Figure);
