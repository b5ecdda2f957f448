using Knownwater.Quantities;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Instruments;

/// <summary>One parameter on one instrument in one matrix; numbers as typed beside their values.</summary>
internal sealed class Method(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid InstrumentId { get; set; }

    public string ParameterKey { get; set; } = "";

    public string OtherName { get; set; } = "";

    public string Form { get; set; } = "";

    public Matrix Matrix { get; set; }

    public double? SalinityLow { get; set; }

    public string SalinityLowTyped { get; set; } = "";

    public double? SalinityHigh { get; set; }

    public string SalinityHighTyped { get; set; } = "";

    public double? SampleVolumeMillilitres { get; set; }

    public string SampleVolumeTyped { get; set; } = "";

    public double? RangeLow { get; set; }

    public string RangeLowTyped { get; set; } = "";

    public double? RangeHigh { get; set; }

    public string RangeHighTyped { get; set; } = "";

    public double? Resolution { get; set; }

    public string ResolutionTyped { get; set; } = "";

    /// <summary>How it is read; null for a display.</summary>
    public ReadingScale? Scale { get; set; }

    /// <summary>Steps of the card, each a number with a decimal point, a semicolon between; empty for other scales.</summary>
    public string Steps { get; set; } = "";

    public string StepsTyped { get; set; } = "";

    public double? ValuePerDrop { get; set; }

    public string ValuePerDropTyped { get; set; } = "";

    /// <summary>Whether the kit's table makes up for the last drop.</summary>
    public bool TableAllowsForLastDrop { get; set; }

    public double? MinutesPerReading { get; set; }

    public string MinutesPerReadingTyped { get; set; } = "";

    public double? ToleranceAbsolute { get; set; }

    public string ToleranceAbsoluteTyped { get; set; } = "";

    public double? TolerancePercent { get; set; }

    public string TolerancePercentTyped { get; set; } = "";
}
