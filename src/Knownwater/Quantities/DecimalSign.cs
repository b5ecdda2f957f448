namespace Knownwater.Quantities;

/// <summary>The sign between whole digits and decimals in what the owner types and reads.</summary>
public enum DecimalSign
{
    /// <summary>A point, as in 7.90.</summary>
    Point,

    /// <summary>A comma, as in 7,90.</summary>
    Comma,
}
