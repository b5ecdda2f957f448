using System.ComponentModel.DataAnnotations.Schema;
using Knownwater.Preparation;
using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Preparation;

/// <summary>One preparation of known water: as planned, and as it was done.</summary>
internal sealed class PreparationRow(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public string Label { get; set; } = "";

    public Guid StockId { get; set; }

    public Guid NutrientFreeWaterId { get; set; }

    public double TemperatureCelsius { get; set; }

    public string TemperatureTyped { get; set; } = "";

    /// <summary>Relative standard uncertainty of the mixing at each step.</summary>
    public double Mixing { get; set; }

    public string MixingTyped { get; set; } = "";

    public double? Target { get; set; }

    public string TargetTyped { get; set; } = "";

    /// <summary>How many acts at the bench are done.</summary>
    public int ActsDone { get; set; }

    /// <summary>What went otherwise than planned, one line a slip.</summary>
    public string Slips { get; set; } = "";

    public string Who { get; set; } = "";

    public Instant PlannedAt { get; set; }

    /// <summary>When the water was put on the shelf; null until then.</summary>
    public Instant? DoneAt { get; set; }
}

/// <summary>One step: what was planned, and what was really dispensed.</summary>
internal sealed class PreparationStepRow(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid PreparationId { get; set; }

    public int Ordinal { get; set; }

    public double Aliquot { get; set; }

    public string AliquotTyped { get; set; } = "";

    public Guid WithId { get; set; }

    public double Made { get; set; }

    public string MadeTyped { get; set; } = "";

    public bool IsTotal { get; set; }

    public Guid InId { get; set; }

    public Diluent Diluent { get; set; }

    /// <summary>What was really taken, in the unit of the piece; null where it went as planned.</summary>
    public double? AliquotDone { get; set; }

    public string AliquotDoneTyped { get; set; } = "";

    /// <summary>What was really made or poured; null where it went as planned.</summary>
    public double? MadeDone { get; set; }

    public string MadeDoneTyped { get; set; } = "";

    /// <summary>The step of another preparation that is carried out for this one too; null where it is this one's own.</summary>
    public Guid? SharedStepId { get; set; }

    /// <summary>The step that is carried out at the bench: the shared one where there is one, as it is read with the preparation.</summary>
    [NotMapped]
    public PreparationStepRow Carried
    {
        get => field ?? this;
        set;
    }

    /// <summary>Labels of the preparations that take from the water of this step too; empty where none does.</summary>
    [NotMapped]
    public IReadOnlyList<string> KeptFor { get; set; } = [];

    /// <summary>Label of the preparation that carries out a shared step; empty for this one's own.</summary>
    [NotMapped]
    public string CarriedFor { get; set; } = "";
}
