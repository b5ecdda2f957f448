using System.Globalization;
using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Preparation;

/// <summary>One piece of glassware, or a balance: what it measures, and how well.</summary>
/// <remarks>
/// <para>Volumes in mL at 20 °C, masses in g. Every use of one piece shares its systematic sources, whose identities follow from the piece (<see cref="SourceIdentity"/>); two pieces share
/// nothing. What differs from one delivery to the next is private to that delivery.</para>
/// <para>A tolerance a without a certificate is rectangular, u = a/√3 (JCGM 100:2008, 4.3.7), or triangular on the user’s word, u = a/√6 (QUAM:2012, example A1). Most pieces have one
/// systematic source, the same amount at every setting. A piston pipette of known size V_n set to V has two, a gain a·V/V_n and an offset a·√(1 − (V/V_n)²), which add in quadrature to a: the
/// limits of ISO 8655-2 hold for the whole range, and the correlation of two settings is then V₁V₂/V_n² + √(1 − (V₁/V_n)²)·√(1 − (V₂/V_n)²). A relative tolerance is a gain alone.</para>
/// <para>A proof replaces all this for settings within 10 % of the proven one: its bias is corrected, the doubt of the bias is shared by all uses, and its sd is the repeatability.</para>
/// </remarks>
public sealed record Glassware
{
    /// <summary>How far a setting may lie from a proven one, as a fraction, for the proof to hold.</summary>
    public const double ProofReach = 0.1;

    /// <summary>Identity of the piece, not empty.</summary>
    public required Guid Id { get; init; }

    /// <summary>What its owner calls it, for budgets and messages.</summary>
    public required string Name { get; init; }

    /// <summary>What it is.</summary>
    public required GlasswareKind Kind { get; init; }

    /// <summary>Nominal volume in mL, or capacity of a balance in g; above zero; null where it is not known.</summary>
    public double? Nominal { get; init; }

    /// <summary>Smallest setting that may be used, in mL or g; above zero; null where there is none.</summary>
    public double? Least { get; init; }

    /// <summary>Half-width of the limits of systematic error: in mL or g, or a fraction of the setting where <see cref="ToleranceIsRelative"/>; zero or above.</summary>
    public required double Tolerance { get; init; }

    /// <summary>Whether <see cref="Tolerance"/> is a fraction of the setting.</summary>
    public bool ToleranceIsRelative { get; init; }

    /// <summary>Distribution of the systematic error within its limits: rectangular or triangular.</summary>
    public SourceShape Shape { get; init; } = SourceShape.Rectangular;

    /// <summary>Standard deviation of one delivery, in mL or g; zero or above.</summary>
    public double Repeatability { get; init; }

    /// <summary>Step d of the display of a balance, in g; above zero; null where its rounding is left out. A weighing is two readings, tare and load, each with u = d/√12.</summary>
    public double? Readability { get; init; }

    /// <summary>Proofs of settings, in the order of their dates: of two that lie equally near, the later one counts.</summary>
    public IReadOnlyList<GlasswareProof> Proofs { get; init; } = [];

    /// <summary>Whether its amounts are masses.</summary>
    public bool IsBalance => Kind == GlasswareKind.Balance;

    /// <summary>Whether it has one mark alone: a flask or a bulb pipette.</summary>
    public bool HasOneMark => Kind is GlasswareKind.Flask or GlasswareKind.BulbPipette;

    /// <summary>“mL”, or “g” for a balance.</summary>
    public string Unit => IsBalance ? "g" : "mL";

    /// <summary>The amount that one use delivers or contains, with its error sources.</summary>
    /// <param name="setting">What is set, filled to or read, in mL or g; above zero and within what the piece can do.</param>
    /// <param name="occasion">Identity of this one use, not empty; uses with one identity are the same delivery.</param>
    /// <returns>Estimate in mL (at 20 °C) or g.</returns>
    /// <exception cref="PreparationException">The piece cannot do this setting.</exception>
    /// <exception cref="ArgumentException">A figure of the piece or of a proof is outside its limits, or an identity is empty.</exception>
    public Estimate Measure(double setting, Guid occasion)
    {
        Check();
        Accept(setting);
        if (occasion == Guid.Empty)
            throw new ArgumentException($"The use of {Name} has an empty identity; give each delivery one of its own.", nameof(occasion));

        var parts = new List<Estimate> { Estimate.Exact(setting) };
        void Add(Guid owner, string role, string name, double u, SourceShape shape, double sensitivity = 1, string? unit = null, double dof = double.PositiveInfinity, Guid? family = null)
        {
            if (u > 0 && sensitivity != 0)
                parts.Add(Estimate.From(0, new ErrorSource(SourceIdentity.Of(owner, role), $"{Name}, {name}", u, unit ?? Unit, dof, shape, family), sensitivity));
        }

        var sd = Repeatability;
        var proof = ProofAt(setting);
        if (proof is not null)
        {
            sd = proof.Sd;
            parts.Add(proof.Bias);
            Add(proof.Id, "bias", "proven bias", proof.BiasU, ShapeOf(proof.BiasDof), dof: proof.BiasDof);
        }
        else
        {
            var limit = Tolerance / Math.Sqrt(Shape == SourceShape.Triangular ? 6 : 3);
            if (ToleranceIsRelative)
                Add(Id, "gain", "gain", limit, Shape, setting, "");
            else if (Kind == GlasswareKind.PistonPipette && Nominal is { } full)
            {
                var part = setting / full;
                Add(Id, "gain", "gain", limit / full, Shape, setting, "");
                Add(Id, "offset", "offset", limit, Shape, Math.Sqrt(Math.Max(0, 1 - part * part)));
            }
            else
                Add(Id, "systematic", "tolerance", limit, Shape);
        }
        var (repeatDof, family) = proof is { SdDof: < double.PositiveInfinity } ? (proof.SdDof, (Guid?)proof.Id) : (double.PositiveInfinity, null);
        Add(occasion, $"repeatability of {Id}", "repeatability", sd, ShapeOf(repeatDof), dof: repeatDof, family: family);
        if (IsBalance && Readability is { } step)
        {
            Add(occasion, $"tare of {Id}", "rounding of the tare", step / Math.Sqrt(12), SourceShape.Rectangular);
            Add(occasion, $"load of {Id}", "rounding of the load", step / Math.Sqrt(12), SourceShape.Rectangular);
        }
        var weights = new double[parts.Count];
        Array.Fill(weights, 1);
        return Estimate.Weighted([.. parts], weights);
    }

    /// <summary>The proof that holds at a setting: the nearest one within <see cref="ProofReach"/> of it; null where there is none.</summary>
    /// <param name="setting">Setting in mL or g.</param>
    public GlasswareProof? ProofAt(double setting)
    {
        GlasswareProof? found = null;
        var nearest = ProofReach * (1 + 1e-12);
        foreach (var proof in Proofs)
        {
            var away = Math.Abs(setting - proof.Setting) / proof.Setting;
            if (away <= nearest)
                (found, nearest) = (proof, away);
        }
        return found;
    }

    private static SourceShape ShapeOf(double dof) => double.IsPositiveInfinity(dof) ? SourceShape.Normal : SourceShape.ScaledT;

    private void Check()
    {
        if (Id == Guid.Empty)
            throw new ArgumentException($"{Name} has an empty identity; give each piece one of its own.");
        ArgumentException.ThrowIfNullOrWhiteSpace(Name);
        if (!Enum.IsDefined(Kind))
            throw new ArgumentException($"{Kind} is no kind of glassware.");
        Require.NotNegative(Tolerance);
        Require.NotNegative(Repeatability);
        if (Shape is not (SourceShape.Rectangular or SourceShape.Triangular))
            throw new ArgumentException($"The tolerance of {Name} is {Shape}; limits are rectangular, or triangular on your word.");
        if (Nominal is { } nominal)
            Require.Positive(nominal);
        if (Least is { } least)
            Require.Positive(least);
        if (Readability is { } readability)
            Require.Positive(readability);
        foreach (var proof in Proofs)
        {
            Require.Positive(proof.Setting);
            Require.Finite(proof.Bias);
            Require.NotNegative(proof.BiasU);
            Require.NotNegative(proof.Sd);
            Require.Dof(proof.BiasDof);
            Require.Dof(proof.SdDof);
        }
    }

    private void Accept(double setting)
    {
        string Amount(double value) => string.Create(CultureInfo.InvariantCulture, $"{value:G12} {Unit}");
        const double rounding = 1e-9;
        if (!double.IsFinite(setting) || setting <= 0)
            throw new PreparationException($"{Name} is set to {Amount(setting)}, but an amount is above zero; give what it delivers.");
        if (Nominal is { } mark && HasOneMark && Math.Abs(setting - mark) > rounding * mark)
            throw new PreparationException($"{Name} has one mark, at {Amount(mark)}, and cannot measure {Amount(setting)}; use its whole volume, or another piece.");
        if (Nominal is { } most && setting > most * (1 + rounding))
            throw new PreparationException($"{Name} is set to {Amount(setting)}, but {(IsBalance ? "carries" : "holds")} at most {Amount(most)}; take a larger piece.");
        if (Least is { } least && setting < least * (1 - rounding))
            throw new PreparationException($"{Name} is set to {Amount(setting)}, but begins at {Amount(least)}; take a smaller piece, or more of a weaker solution.");
    }
}
