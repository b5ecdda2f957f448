namespace Knownwater.Checks;

/// <summary>What can be behind a failed check. Marks, carriers and classes of each are declared in <c>docs/explanation/diagnosis-faults.md</c>.</summary>
public enum Fault
{
    /// <summary>Nothing is wrong: the readings lie off by chance and by the doubt of the known water.</summary>
    Chance = 0,

    /// <summary>Another form of the same thing: N for NO3, P for PO4, dKH for meq/L.</summary>
    WrongForm,

    /// <summary>A thousand too many or too few: mg for µg.</summary>
    WrongThousand,

    /// <summary>The stock was weighed as another hydrate.</summary>
    WrongHydrate,

    /// <summary>Per kilogram taken for per litre, or the other way round.</summary>
    MassForVolume,

    /// <summary>The stock holds another concentration than it is held to.</summary>
    StockOff,

    /// <summary>The lot of the reagent has another strength than the method takes it to have.</summary>
    LotStrength,

    /// <summary>The reagent has weakened since its lot was opened.</summary>
    ReagentWeakened,

    /// <summary>Pipette, flask or balance were off when the known water was prepared, or its dilution was.</summary>
    DeliveryOff,

    /// <summary>Another volume of sample than the method asks for.</summary>
    SampleVolume,

    /// <summary>A setting, a service or a repair changed the factor of the instrument.</summary>
    SettingChanged,

    /// <summary>The reagent of this lot has a colour, or an acid demand, of its own.</summary>
    ReagentBlank,

    /// <summary>Window or cell are dirty, or the lamp is weak.</summary>
    DirtyWindow,

    /// <summary>The matrix water of the known water holds more than it is held to.</summary>
    MatrixContaminated,

    /// <summary>The last rinse was pure water, which thins the sample by its residue.</summary>
    PureWaterRinse,

    /// <summary>One rinse too few: the former sample is carried over.</summary>
    CarryOver,

    /// <summary>The method is made for another matrix: sea for fresh, or the other way round.</summary>
    WrongMethod,

    /// <summary>The known water has lost water to the air.</summary>
    Evaporated,

    /// <summary>The known water has lost what it holds to walls, microbes or air.</summary>
    Losses,

    /// <summary>The curve flattens at the top: saturation, or stray light.</summary>
    Saturation,

    /// <summary>Temperature or lamp had not settled: the readings drift within the occasion.</summary>
    DriftWithin,

    /// <summary>A bubble, or one odd reading.</summary>
    OneOddReading,

    /// <summary>The readings scatter more than usual.</summary>
    WorseScatter,

    /// <summary>None of these explains the readings well.</summary>
    Unlisted,
}
