namespace Knownwater.Checks;

/// <summary>A slip whose size is known beforehand: readings come out as this ratio times the known value.</summary>
/// <remarks>The other way round, one over the ratio, is a slip of its own.</remarks>
public sealed record Slip
{
    /// <summary>States a slip.</summary>
    /// <param name="kind">One of <see cref="Fault.WrongForm"/>, <see cref="Fault.WrongThousand"/>, <see cref="Fault.WrongHydrate"/> and <see cref="Fault.MassForVolume"/>.</param>
    /// <param name="ratio">What the readings are, as a multiple of the known value; above zero, finite, not 1.</param>
    /// <param name="meant">What was meant: “mg/L NO3”.</param>
    /// <param name="taken">What it was taken for: “mg/L NO3-N”.</param>
    /// <exception cref="ArgumentOutOfRangeException">The kind is no slip, or the ratio is not above zero, or is 1.</exception>
    public Slip(Fault kind, double ratio, string meant, string taken)
    {
        if (kind is not (Fault.WrongForm or Fault.WrongThousand or Fault.WrongHydrate or Fault.MassForVolume))
            throw new ArgumentOutOfRangeException(nameof(kind), kind, $"{kind} has no ratio of its own. A slip is a wrong form, thousand, hydrate, or mass for volume.");
        if (!(ratio > 0) || double.IsInfinity(ratio) || ratio == 1)
            throw new ArgumentOutOfRangeException(nameof(ratio), ratio, $"The ratio of a slip is {ratio}, but it must be above zero, finite, and not 1. Give reading over known value.");
        ArgumentException.ThrowIfNullOrWhiteSpace(meant);
        ArgumentException.ThrowIfNullOrWhiteSpace(taken);
        Kind = kind;
        Ratio = ratio;
        Meant = meant;
        Taken = taken;
    }

    /// <summary>Which slip.</summary>
    public Fault Kind { get; }

    /// <summary>Reading over known value.</summary>
    public double Ratio { get; }

    /// <summary>What was meant.</summary>
    public string Meant { get; }

    /// <summary>What it was taken for.</summary>
    public string Taken { get; }
}
