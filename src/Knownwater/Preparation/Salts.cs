using System.Globalization;
using Knownwater.Quantities;

namespace Knownwater.Preparation;

/// <summary>The salts that something is known of.</summary>
/// <remarks>Any other salt is taken too: its data sheet decides.</remarks>
public static class Salts
{
    private static readonly Lazy<IReadOnlyList<Salt>> Listed = new(() => [.. EmbeddedTable.Read("Preparation.salts.csv").Select(Read)]);

    /// <summary>All of them, in the order of the table.</summary>
    public static IReadOnlyList<Salt> All => Listed.Value;

    /// <summary>What is known of a salt.</summary>
    /// <param name="formula">What is weighed, hydrate water included.</param>
    /// <returns>The salt; null where nothing is known of it, also where only another hydrate is known.</returns>
    public static Salt? Find(ChemicalFormula formula)
    {
        ArgumentNullException.ThrowIfNull(formula);
        return All.FirstOrDefault(s => s.Formula.Text == formula.Text) ?? All.FirstOrDefault(s => s.Formula.Composition == formula.Composition);
    }

    /// <summary>Mass of one hydrate that holds as much salt as a mass of another.</summary>
    /// <param name="grams">Mass of <paramref name="from"/>, g.</param>
    /// <param name="from">What the mass is of, as in MgCl2.</param>
    /// <param name="to">What is weighed instead, as in MgCl2.6H2O.</param>
    /// <returns>Mass of <paramref name="to"/>, g.</returns>
    /// <exception cref="PreparationException">The two differ by more than water.</exception>
    public static double Hydrate(double grams, ChemicalFormula from, ChemicalFormula to)
    {
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(to);
        if (ChemicalFormula.Parse(from.Text.Split('.')[0]).Composition != ChemicalFormula.Parse(to.Text.Split('.')[0]).Composition)
            throw new PreparationException($"{from.Text} and {to.Text} differ by more than water. Take two hydrates of one salt.");
        return grams * to.MolarMassGramsPerMole / from.MolarMassGramsPerMole;
    }

    /// <summary>Refuses a salt that is not weighed at home.</summary>
    /// <param name="formula">What shall be weighed.</param>
    /// <exception cref="PreparationException">It is not weighed at home; the sentence says why and what does.</exception>
    public static void RequireWeighable(ChemicalFormula formula)
    {
        if (Find(formula) is { WhyNotAtHome: { } why } salt)
            throw new PreparationException($"{Named(salt)} is not weighed at home. {why}. Take {salt.Instead}.");
    }

    /// <summary>Refuses a strength beyond what dissolves.</summary>
    /// <param name="formula">What is dissolved.</param>
    /// <param name="gramsPerLitre">How much of it in a litre of solution, g/L.</param>
    /// <exception cref="PreparationException">It does not dissolve so far; the sentence names the largest strength.</exception>
    public static void RequireDissolves(ChemicalFormula formula, double gramsPerLitre)
    {
        if (Find(formula) is { MostGramsPerLitre: { } most } salt && gramsPerLitre > most)
        {
            throw new PreparationException($"{Named(salt)} does not dissolve to {Plain(gramsPerLitre)} g/L; {Plain(Floor(most))} g/L is the most that surely does ({salt.SolubilityAt}). Weigh less of it, or take more water.");
        }
    }

    /// <summary>What the hand should know before it weighs a salt.</summary>
    /// <param name="formula">What shall be weighed.</param>
    /// <returns>Sentences; never empty.</returns>
    public static IReadOnlyList<string> Cautions(ChemicalFormula formula)
    {
        if (Find(formula) is not { } salt)
            return [$"Nothing is known here of {formula.Text}: its data sheet decides about drying, solubility and hazard."];
        return [.. new[] { salt.Drying, salt.Hazard, salt.WhyUnfit ?? "", "Its data sheet has the last word." }.Where(w => w.Length > 0)];
    }

    private static string Named(Salt salt) => $"{char.ToUpperInvariant(salt.Name[0])}{salt.Name[1..]}, {salt.Formula.Text},";

    /// <summary>Two digits, rounded down: a limit is never overstated.</summary>
    private static double Floor(double value)
    {
        var unit = Math.Pow(10, Math.Floor(Math.Log10(value)) - 1);
        return Math.Floor(value / unit) * unit;
    }

    private static string Plain(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private static Salt Read(Dictionary<string, string> row) => new()
    {
        Formula = ChemicalFormula.Parse(row["formula"]),
        Name = row["name"],
        Purity = row["purity"],
        SolubilityGramsPer100Grams = row["solubility"].Length > 0 ? double.Parse(row["solubility"], CultureInfo.InvariantCulture) : null,
        SolubilityOf = row["solubility_as"].Length > 0 ? ChemicalFormula.Parse(row["solubility_as"]) : null,
        SolubilityAt = row["solubility_at"],
        Drying = row["drying"],
        Hazard = row["hazard"],
        MayBeDosedIn = row["may_be_dosed"].Split(';', StringSplitOptions.RemoveEmptyEntries),
        WhyNotAtHome = row["why_not_at_home"] is { Length: > 0 } why ? why : null,
        Instead = row["instead"] is { Length: > 0 } instead ? instead : null,
        WhyUnfit = row["unfit"] is { Length: > 0 } unfit ? unfit : null,
        Storage = row["storage"],
    };
}
