using Knownwater.Quantities;

namespace Knownwater.Checks;

public static partial class VerdictWords
{
    /// <summary>What is said where several verdicts share nothing.</summary>
    public const string NothingShared = "The known values share no error source that counts. Each verdict stands for itself.";

    /// <summary>A shared error source in words.</summary>
    /// <param name="shared">The source and what leans on it.</param>
    /// <param name="names">Names of the values in the order in which they were given, “nitrate”.</param>
    /// <param name="biases">Verdict and interval of the bias of each; null where there is none.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>“Nitrate and phosphate lean on one source, P200, gain: it moves them by +0.40 % and +0.31 %.”; and what follows for verdicts that read wrong.</returns>
    public static string Say(SharedDoubt shared, IReadOnlyList<string> names, IReadOnlyList<(Verdict Verdict, double Low, double High)?> biases, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(shared);
        ArgumentNullException.ThrowIfNull(names);
        ArgumentNullException.ThrowIfNull(biases);
        // one side of all is what matters, not which: the source may err to either
        var up = shared.Parts[0].Contribution < 0 ? -1 : 1;
        var moves = shared.Parts.Select(p => p.Relative is { } r ? Percent(up * r, sign) : "its whole value").ToList();
        var sentence = $"{Capital(Enumerate([.. shared.Parts.Select(p => names[p.Index])]))} lean on one source, {shared.Source.Name}: when it is off by its standard uncertainty, they move by {Enumerate(moves)}.";
        if (shared.ErrorToExplain(biases) is not { } multiple)
            return sentence;
        var wrong = shared.Parts.Where(p => biases[p.Index] is { Verdict: Verdict.ReadsHigh or Verdict.ReadsLow }).ToList();
        var which = wrong.Count < shared.Parts.Count ? "why " + Enumerate([.. wrong.Select(p => names[p.Index])]) + " read wrong" : wrong.Count == 2 ? "why both read wrong" : "why all of them read wrong";
        var size = $"{NumberWords.Plain(Math.Abs(multiple), 2, sign)} standard uncertainties";
        return sentence + (Math.Abs(multiple) <= FarBeyond
            ? $" One error of it, of {size}, would explain {which}. Rule it out first, with a water that does without it; then look at the analyser."
            : $" One error of it would have to be {size} large to explain {which}, far beyond what it was taken to be off by: look at the analyser, and at this source only if it is damaged or was mixed up.");
    }

    // beyond three standard uncertainties an error of a source is no chance any more
    private const double FarBeyond = 3;

    private static string Percent(double part, DecimalSign sign) => $"{(part < 0 ? "−" : "+")}{NumberWords.Plain(100 * Math.Abs(part), 2, sign)}{Narrow}%";

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    private static string Enumerate(List<string> items) => items.Count == 1 ? items[0] : string.Join(", ", items.Take(items.Count - 1)) + " and " + items[^1];
}
