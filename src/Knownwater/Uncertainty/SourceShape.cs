namespace Knownwater.Uncertainty;

/// <summary>The distribution of an error source (JCGM 101:2008, 6.4).</summary>
/// <remarks>The numbers are stored in records: a new shape is appended, none is renumbered.</remarks>
public enum SourceShape
{
    /// <summary>Normal (6.4.7); with finite degrees of freedom, as of a certificate that states them, Monte Carlo draws a scaled t (6.4.9.7).</summary>
    Normal,

    /// <summary>Rectangular between ±a, u = a/√3 (6.4.2).</summary>
    Rectangular,

    /// <summary>Symmetric triangular between ±a, u = a/√6 (6.4.5).</summary>
    Triangular,

    /// <summary>Symmetric trapezoidal between ±a with a top of ±βa, u = a·√((1 + β²)/6) (6.4.4).</summary>
    Trapezoidal,

    /// <summary>Arc sine between ±a, u = a/√2: a cyclic influence (6.4.6).</summary>
    ArcSine,

    /// <summary>Scaled and shifted Student's t: the mean of repeated readings (6.4.9).</summary>
    ScaledT,

    /// <summary>Rounding to steps q of a display: rectangular between ±q/2, u = q/√12 (6.4.2; JCGM 100:2008, F.2.2.1).</summary>
    Resolution,

    /// <summary>What a reading “below L” leaves of a quantity that cannot be negative: flat from zero on, then falling in a straight line over the width of the reading's own error.</summary>
    Censored,
}
