namespace Knownwater.Quantities;

/// <summary>What kind of quantity a reporting form gives.</summary>
public enum FormKind
{
    /// <summary>Mass of a species per volume: mg/L.</summary>
    MassConcentration,

    /// <summary>Amount of a species per volume: mmol/L.</summary>
    AmountConcentration,

    /// <summary>Charge per volume: meq/L; without a species it is alkalinity.</summary>
    ChargeConcentration,

    /// <summary>Mass of a species per mass of water: mg/kg.</summary>
    MassContent,

    /// <summary>Amount of a species per mass of water: µmol/kg.</summary>
    AmountContent,

    /// <summary>Charge per mass of water: meq/kg; without a species it is alkalinity.</summary>
    ChargeContent,

    /// <summary>German degrees of alkalinity, dKH: one is as much alkalinity as 10 mg/L CaO.</summary>
    AlkalinityDegrees,

    /// <summary>Degrees of general hardness: dGH is as much calcium and magnesium as 10 mg/L CaO; fH as 10 mg/L CaCO3; eH as one grain of CaCO3 per imperial gallon.</summary>
    HardnessDegrees,

    /// <summary>Temperature, °C or °F.</summary>
    Temperature,

    /// <summary>Electrical conductivity, mS/cm.</summary>
    Conductivity,

    /// <summary>Practical salinity (PSS-78).</summary>
    Salinity,

    /// <summary>pH.</summary>
    Acidity,

    /// <summary>Specific gravity.</summary>
    SpecificGravity,
}
