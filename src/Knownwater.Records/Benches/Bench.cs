using Knownwater.Quantities;
using NodaTime;

namespace Knownwater.Records.Benches;

/// <summary>Whoever and whatever belongs together.</summary>
internal sealed class Bench(Guid id)
{
    public Guid Id { get; private set; } = id;

    public string Name { get; set; } = "";

    public DecimalSign? DecimalSign { get; set; }

    public string TimeZone { get; set; } = "UTC";

    public MainUse MainUse { get; set; }

    /// <summary>How many false alarms in a year the owner bears, all methods together; null until it was said.</summary>
    public double? FalseAlarmsPerYear { get; set; }

    /// <summary>Chance of reading wrong at which a method is to be checked again; null until it was said.</summary>
    public double? RiskOfWrong { get; set; }

    public bool IsInvented { get; set; }

    public Instant MadeAt { get; set; }

    public int Version { get; set; }
}
