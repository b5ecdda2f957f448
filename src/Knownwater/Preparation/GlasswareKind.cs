namespace Knownwater.Preparation;

/// <summary>What measures an amount: a kind of volumetric glassware, or a balance.</summary>
public enum GlasswareKind
{
    /// <summary>Volumetric flask with one mark.</summary>
    Flask,

    /// <summary>Pipette with one mark (ISO 648).</summary>
    BulbPipette,

    /// <summary>Pipette with graduations (ISO 835).</summary>
    GraduatedPipette,

    /// <summary>Pipette with a piston, fixed or adjustable (ISO 8655-2).</summary>
    PistonPipette,

    /// <summary>Measuring cylinder (ISO 4788).</summary>
    Cylinder,

    /// <summary>Burette (ISO 385).</summary>
    Burette,

    /// <summary>Syringe.</summary>
    Syringe,

    /// <summary>Balance; its amounts are masses.</summary>
    Balance,
}
