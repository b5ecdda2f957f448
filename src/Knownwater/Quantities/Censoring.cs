namespace Knownwater.Quantities;

/// <summary>Whether a number is the value itself or only a limit for it.</summary>
public enum Censoring
{
    /// <summary>The number is the value.</summary>
    None,

    /// <summary>The value lies below the number: "&lt;0.02".</summary>
    Below,

    /// <summary>The value lies above the number: "&gt;50".</summary>
    Above,
}
