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

    public double? MinutesPerReading { get; set; }

    public string MinutesPerReadingTyped { get; set; } = "";

    public double? ToleranceAbsolute { get; set; }

    public string ToleranceAbsoluteTyped { get; set; } = "";

    public double? TolerancePercent { get; set; }

    public string TolerancePercentTyped { get; set; } = "";
}
