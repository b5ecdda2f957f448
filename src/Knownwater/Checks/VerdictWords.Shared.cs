using Knownwater.Quantities;

namespace Knownwater.Checks;

public static partial class VerdictWords
{
    /// <summary>What is said where several verdicts share nothing.</summary>
    public const string NothingShared = "The known values share no error source that counts. Each verdict stands for itself.";

    /// <summary>A shared error source in words.</summary>
    /// <param name="shared">The source and what leans on it.</param>
    /// <param name="names">Names of the values in the order in which they were given, “nitrate”.</param>
    /// <param name="verdicts">Their verdicts; null where there is none yet.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>“Nitrate and phosphate lean on one source, P200, gain: it moves them by +0.40 % and +0.31 %.”; and what follows for verdicts that read wrong.</returns>
    public static string Say(SharedDoubt shared, IReadOnlyList<string> names, IReadOnlyList<Verdict?> verdicts, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(shared);
        ArgumentNullException.ThrowIfNull(names);
        ArgumentNullException.ThrowIfNull(verdicts);
        // one side of all is what matters, not which: the source may err to either
        var up = shared.Parts[0].Contribution < 0 ? -1 : 1;
        var moves = shared.Parts.Select(p => p.Relative is { } r ? Percent(up * r, sign) : "its whole value").ToList();
        var sentence = $"{Capital(Enumerate([.. shared.Parts.Select(p => names[p.Index])]))} lean on one source, {shared.Source.Name}: when it is off by its standard uncertainty, they move by {Enumerate(moves)}.";
        if (!shared.MayExplain(verdicts))
            return sentence;
        var wrong = shared.Parts.Where(p => verdicts[p.Index] is Verdict.ReadsHigh or Verdict.ReadsLow).ToList();
        var which = wrong.Count == shared.Parts.Count ? wrong.Count == 2 ? "Both" : "All of them" : Capital(Enumerate([.. wrong.Select(p => names[p.Index])]));
        return sentence + $" {which} read wrong to the side that an error of it would take them. Rule it out first, with a water that does without it; then look at the analyser.";
    }

    private static string Percent(double part, DecimalSign sign) => $"{(part < 0 ? "−" : "+")}{NumberWords.Plain(100 * Math.Abs(part), 2, sign)}{Narrow}%";

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    private static string Enumerate(List<string> items) => items.Count == 1 ? items[0] : string.Join(", ", items.Take(items.Count - 1)) + " and " + items[^1];
}
