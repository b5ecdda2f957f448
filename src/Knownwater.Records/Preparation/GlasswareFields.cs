using Knownwater.Preparation;
using Knownwater.Records.Benches;

namespace Knownwater.Records.Preparation;

/// <summary>The fields of a piece of glassware as typed.</summary>
internal sealed record GlasswareFields(string Name, GlasswareKind Kind, string Nominal, string Least, string Tolerance, bool Triangular, string Repeatability, string Readability, string Basis, string Who)
{
    public static IReadOnlyList<FieldFault> Gone { get; } = [new FieldFault("Piece", "This piece is not there any more. Look at the glassware, or take it back in the history.")];

    /// <summary>Reads them into a piece, and names what is wrong.</summary>
    public void Read(TypedFields fields, BenchSetting bench, GlasswarePiece piece)
    {
        var mass = Kind == GlasswareKind.Balance;
        var relative = Tolerance.Trim().EndsWith('%');
        double? Amount(string field, string typed, string what) => AmountText.Read(fields, bench, field, typed, mass, what);
        var tolerance = relative
            ? fields.Number("Tolerance", Tolerance.Trim().TrimEnd('%'), "a limit of error", 0, 50) / 100
            : Tolerance.Trim() == "0" ? 0 : Amount("Tolerance", Tolerance, "a limit of error");
        if (Tolerance.Trim().Length == 0)
            fields.Fault("Tolerance", "How far it may be off is not said. Look at its marking or sheet, or take the figure of its class; 0 takes it as exact.");
        piece.Name = fields.Needed("Name", Name, "It has no name yet. Write one that you will know it by, as in P1 or kitchen balance.", 60);
        piece.Kind = Kind;
        (piece.Nominal, piece.NominalTyped) = (Amount("Nominal", Nominal, mass ? "a capacity" : "a volume"), Nominal.Trim());
        (piece.Least, piece.LeastTyped) = (Amount("Least", Least, "a least setting"), Least.Trim());
        (piece.Tolerance, piece.ToleranceTyped, piece.ToleranceIsRelative, piece.Triangular) = (tolerance ?? 0, Tolerance.Trim(), relative, Triangular);
        (piece.Repeatability, piece.RepeatabilityTyped) = (Repeatability.Trim() is "" or "0" ? 0 : Amount("Repeatability", Repeatability, "a standard deviation") ?? 0, Repeatability.Trim());
        (piece.Readability, piece.ReadabilityTyped) = (mass ? Amount("Readability", Readability, "a display step") : null, Readability.Trim());
        piece.Basis = fields.Optional("Basis", Basis, 200);
        piece.Who = fields.Optional("Who", Who, 40);
        if (piece.Nominal is null && !mass && fields.Ok)
            fields.Fault("Nominal", "Its volume is missing. Write what stands on it, as in 100 mL.");
        if (piece is { Least: { } least, Nominal: { } nominal } && least > nominal)
            fields.Fault("Least", $"The least setting of {piece.LeastTyped} is above the volume of {piece.NominalTyped}. Change one of them.");
        if (!relative && piece.Nominal is { } size && piece.Tolerance > size / 2)
            fields.Fault("Tolerance", $"A limit of {piece.ToleranceTyped} is more than half of {piece.NominalTyped}. See that both are in {(mass ? "g" : "mL")}.");
    }
}
