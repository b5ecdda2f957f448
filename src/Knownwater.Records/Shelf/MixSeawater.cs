using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Shelf;

/// <summary>Weighs out artificial seawater by a recipe; nothing is written.</summary>
public sealed class MixSeawater(RecordsContext records, Clock clock)
{
    /// <summary>What is wanted; numbers as typed.</summary>
    public sealed record Query
    {
        /// <summary>Key of a recipe.</summary>
        public required string Recipe { get; init; }

        /// <summary>How much of it.</summary>
        public string Amount { get; init; } = "";

        /// <summary>Whether the amount is in kilograms; else in litres.</summary>
        public bool IsKilograms { get; init; }

        /// <summary>Practical salinity.</summary>
        public string Salinity { get; init; } = "";

        /// <summary>What it shall be the matched ions for.</summary>
        public MatchedFor MatchedFor { get; init; }
    }

    /// <summary>Reckons the list.</summary>
    /// <param name="query">What is wanted.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The list, or what is wrong beside its field (recipe, amount, salinity).</returns>
    public async Task<(SeawaterMixView? View, IReadOnlyList<FieldFault> Faults)> Handle(Query query, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(query);
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (SeawaterRecipe.Find(query.Recipe) is not { } recipe)
        {
            fields.Fault("recipe", "That recipe is not known. Choose one of the list.");
            return (null, fields.Faults);
        }
        var amount = fields.NeededNumber("amount", query.Amount, "an amount", "How much is wanted is missing. 5 L is a good start.", 0, aboveLeast: true);
        var salinity = fields.NeededNumber("salinity", query.Salinity, "a salinity", "The salinity is missing. Known water must match the method’s; 35 is usual.", 5, 42);
        if (amount is not { } much || salinity is not { } s || !fields.Ok)
            return (null, fields.Faults);
        try
        {
            var kilograms = query.IsKilograms ? much : much * new WaterState(s, 20).DensityKilogramsPerCubicMetre / 1000;
            return (SeawaterMixView.Of(recipe.Mix(kilograms, s, query.MatchedFor), bench), []);
        }
        catch (PreparationException refusal)
        {
            fields.Fault("amount", refusal.Message);
            return (null, fields.Faults);
        }
    }
}
