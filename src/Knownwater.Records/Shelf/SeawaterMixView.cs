using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;

namespace Knownwater.Records.Shelf;

/// <summary>A weighing list of artificial seawater as a page shows it.</summary>
public sealed record SeawaterMixView
{
    /// <summary>“5 L of seawater 35, by Kester 1967”.</summary>
    public required string Title { get; init; }

    /// <summary>Where the recipe was published.</summary>
    public required string SourceWords { get; init; }

    /// <summary>Acts in order; a salt has its mass.</summary>
    public required IReadOnlyList<MixAct> Acts { get; init; }

    /// <summary>What was left out, and why.</summary>
    public required IReadOnlyList<string> LeftOut { get; init; }

    /// <summary>Water, whole mass, whole volume, salinity.</summary>
    public required IReadOnlyList<Checks.NumberLine> Facts { get; init; }

    /// <summary>Practical salinity as a form takes it.</summary>
    public required string Salinity { get; init; }

    internal static SeawaterMixView Of(SeawaterMix mix, BenchSetting bench)
    {
        string Grams(double value) => $"{NumberWords.Fixed(value, value >= 100 ? 1 : value >= 10 ? 2 : 3, bench.Sign)}{Words.NoBreak}g";
        string Plain(double value, int digits) => NumberWords.Plain(value, digits, bench.Sign);
        var acts = new List<MixAct>
        {
            new(0, $"Take about {Plain(0.85 * mix.WaterGrams / 1000, 2)}{Words.NoBreak}kg of purified water in a clean vessel of plastic or laboratory glass.", "", Sentences(mix, 0)),
        };
        foreach (var turn in mix.Lines.GroupBy(l => l.Turn))
        {
            var lines = turn.ToList();
            for (var i = 0; i < lines.Count; i++)
            {
                var line = lines[i];
                var apart = turn.Key is 3 or 4 ? "Dissolve it apart in some of the rest of the water, then pour it in with stirring." : "Stir until it is dissolved.";
                acts.Add(new MixAct(turn.Key, $"{Words.Capital(line.Name)}, {line.Formula.Display}. {apart}", Grams(line.Grams), i == 0 ? Sentences(mix, turn.Key) : []));
            }
        }
        acts.Add(new MixAct(5, $"Fill up with purified water to {Plain(mix.Kilograms, 4)}{Words.NoBreak}kg in all, or to {Plain(mix.Litres, 4)}{Words.NoBreak}L at 20{Words.NoBreak}°C. Measure its salinity.", "", Sentences(mix, 5)));
        acts.Add(new MixAct(6, "Label it: seawater, salinity, recipe, mixed on, initials.", "", []));
        return new SeawaterMixView
        {
            Title = $"{Plain(mix.Litres, 3)}{Words.NoBreak}L of artificial seawater, salinity {Plain(mix.PracticalSalinity, 3)}",
            SourceWords = $"{mix.Recipe.Name}: {mix.Recipe.Source}.",
            Acts = acts,
            LeftOut = mix.LeftOut,
            Facts =
            [
                new("Purified water in all", Grams(mix.WaterGrams)),
                new("Whole mass", $"{Plain(mix.Kilograms, 4)}{Words.NoBreak}kg"),
                new("Whole volume at 20 °C", $"{Plain(mix.Litres, 4)}{Words.NoBreak}L"),
                new("Salinity as mixed", Plain(mix.PracticalSalinity, 3)),
                new("Calcium", Ion(mix, "Ca", 40.078, bench)),
                new("Magnesium", Ion(mix, "Mg", 24.305, bench)),
                new("Bicarbonate", $"{Plain(1000 * mix.MolesPerKilogram.GetValueOrDefault("HCO3"), 3)}{Words.NoBreak}mmol/kg"),
            ],
            Salinity = Plain(Math.Round(mix.PracticalSalinity, 1), 3),
        };
    }

    private static string Ion(SeawaterMix mix, string ion, double molarMass, BenchSetting bench) =>
        $"{NumberWords.Plain(1000 * molarMass * mix.MolesPerKilogram.GetValueOrDefault(ion), 3, bench.Sign)}{Words.NoBreak}mg/kg";

    private static IReadOnlyList<string> Sentences(SeawaterMix mix, int turn) => [.. mix.Cautions.Where(c => c.Turn == turn).Select(c => c.Sentence)];
}

/// <summary>One act of mixing.</summary>
/// <param name="Turn">Its turn: 0 the water, 1 to 4 the salts, 5 filling up, 6 the label.</param>
/// <param name="Act">What to do.</param>
/// <param name="MassWords">How much is weighed; empty where nothing is.</param>
/// <param name="Cautions">Cautions at this act.</param>
public sealed record MixAct(int Turn, string Act, string MassWords, IReadOnlyList<string> Cautions);
