namespace Knownwater.Drift;

/// <summary>On which side of its target a chart watches.</summary>
public enum ChartSides
{
    /// <summary>Above and below.</summary>
    Both = 0,

    /// <summary>Above alone; for the lower side turn the signs of the points.</summary>
    Upper = 1,
}
