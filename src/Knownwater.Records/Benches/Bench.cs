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

    public bool IsInvented { get; set; }

    public Instant MadeAt { get; set; }

    public int Version { get; set; }
}
