using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Preparation;

/// <summary>One proof of a piece by weighing: as it was set up, and what it found once it is finished. Volumes in mL, masses in g.</summary>
internal sealed class GlasswareProofRow(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid PieceId { get; set; }

    /// <summary>The balance it is weighed on; null where a balance itself is proven.</summary>
    public Guid? BalanceId { get; set; }

    /// <summary>What is set, or the nominal mass of the check weight.</summary>
    public double Setting { get; set; }

    public string SettingTyped { get; set; } = "";

    /// <summary>Deliveries in each weighing; more than one where a sum is weighed.</summary>
    public int DeliveriesEach { get; set; }

    /// <summary>How many weighings are planned.</summary>
    public int Planned { get; set; }

    public double TemperatureCelsius { get; set; }

    public string TemperatureTyped { get; set; } = "";

    public double PressureHectopascals { get; set; }

    public string PressureTyped { get; set; } = "";

    public double HumidityPercent { get; set; }

    public string HumidityTyped { get; set; } = "";

    /// <summary>What evaporates during one delivery, g.</summary>
    public double Evaporation { get; set; }

    public string EvaporationTyped { get; set; } = "";

    /// <summary>Kind of tip, or what else a later reader should know.</summary>
    public string Tip { get; set; } = "";

    /// <summary>Class of the check weight; empty where none is used.</summary>
    public string WeightClass { get; set; } = "";

    /// <summary>Limit of error of the check weight.</summary>
    public double WeightLimit { get; set; }

    public string Who { get; set; } = "";

    public Instant StartedAt { get; set; }

    /// <summary>When a weighing was last kept or changed.</summary>
    public Instant TouchedAt { get; set; }

    /// <summary>When it was finished; null until then.</summary>
    public Instant? DoneAt { get; set; }

    /// <summary>Whether what it found replaces the limits of the piece.</summary>
    public bool Proves { get; set; }

    public double Bias { get; set; }

    public double BiasU { get; set; }

    /// <summary>Degrees of freedom of the bias; positive infinity where it counts as known.</summary>
    public double BiasDof { get; set; }

    public double Sd { get; set; }

    /// <summary>Degrees of freedom of the sd; positive infinity where it counts as known.</summary>
    public double SdDof { get; set; }
}

/// <summary>One weighing of a proof, as typed and in g.</summary>
internal sealed class ProofWeighing(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid ProofId { get; set; }

    public int Ordinal { get; set; }

    public string Typed { get; set; } = "";

    public double Grams { get; set; }

    public string Who { get; set; } = "";

    public Instant At { get; set; }
}
