using System.Globalization;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>
/// Evaluates a water again from what was dispensed, with the proofs of its glassware and the values of its stock and of the water it was
/// made in as they are today. Checks that used it keep the value they were judged with.
/// </summary>
public sealed class ReckonAnew(RecordsContext records, Clock clock)
{
    /// <summary>The water.</summary>
    public sealed record Command
    {
        /// <summary>A known water that was prepared here; all values of its bottle are reckoned anew.</summary>
        public required Guid Water { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Its value is another one now.</summary>
        public sealed record Reckoned(Guid HistoryEntry) : Outcome;

        /// <summary>Nothing has changed since it was made; nothing was written.</summary>
        public sealed record Same : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Reckon(command, act, cancel), cancel);
    }

    private async Task<Outcome> Reckon(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        if (await records.ReferenceWaters.FirstOrDefaultAsync(w => w.Id == command.Water, cancel) is not { } water)
            return new Outcome.Refused(WaterFields.Gone);
        if (water.PreparationId is null)
            return new Outcome.Refused([new FieldFault("Water", $"{water.Label} was not prepared here; its value was typed. Change it instead.")]);
        var sentences = new List<string>();
        foreach (var (row, was, value, form) in await Anew(records, bench, water, tracked: true, cancel))
        {
            if (IsSame(was, value))
                continue;
            var inputs = await records.EstimateRows.AsNoTracking().Where(e => e.Id == row.EstimateId).Select(e => e.Inputs).FirstAsync(cancel);
            row.EstimateId = await records.Estimates.Add(value, form.Text, "preparation", inputs, clock.NewId(), now, cancel);
            (row.KnownTyped, row.DoubtTyped) = (value.Value.ToString("R", CultureInfo.InvariantCulture), value.StandardUncertainty.ToString("R", CultureInfo.InvariantCulture));
            sentences.Add($"{Words.Small(Measured.Of(row.ParameterKey, row.OtherName, row.Form).Name)} {WaterReading.KnownWords(value, form, bench.Sign)}, was {WaterReading.KnownWords(was, form, bench.Sign)}");
        }
        if (sentences.Count == 0)
            return new Outcome.Same();
        var entry = await act.Did($"{water.Label} reckoned anew: {Words.List(sentences)}.", Subjects.Water, water.Id, cancel);
        return new Outcome.Reckoned(entry.Id);
    }

    /// <summary>“10.02 ± 0.09 mg/L NO₃ instead of 10.01 ± 0.12 mg/L NO₃”; empty where the value would stay.</summary>
    internal static async Task<string> Offer(RecordsContext records, BenchSetting bench, ReferenceWater water, CancellationToken cancel)
    {
        if (water.PreparationId is null)
            return "";
        foreach (var (row, was, value, form) in await Anew(records, bench, water, tracked: false, cancel))
        {
            if (row.Id == water.Id && !IsSame(was, value))
                return $"{WaterReading.KnownWords(value, form, bench.Sign)} instead of {WaterReading.KnownWords(was, form, bench.Sign)}";
        }
        return "";
    }

    /// <summary>The values of a bottle as they are stored and as they would be today.</summary>
    private static async Task<List<(ReferenceWater Row, Estimate Was, Estimate Value, ReportingForm Form)>> Anew(RecordsContext records, BenchSetting bench, ReferenceWater water, bool tracked, CancellationToken cancel)
    {
        var found = new List<(ReferenceWater, Estimate, Estimate, ReportingForm)>();
        if (await PreparationReading.Load(records, bench, water.PreparationId!.Value, tracked: false, cancel, withLaterProofs: true) is not { } read)
            return found;
        var (preparation, steps, fields) = read;
        var bottle = water.BottleId ?? water.Id;
        var rows = await (tracked ? records.ReferenceWaters : records.ReferenceWaters.AsNoTracking()).Where(w => w.Id == bottle || w.BottleId == bottle).ToListAsync(cancel);
        var known = await records.Estimates.Read(rows.Select(r => r.EstimateId).ToList(), cancel);
        foreach (var part in fields.Further.Prepend(fields))
        {
            if (rows.Find(r => r.ParameterKey == part.Row.ParameterKey && r.OtherName == part.Row.OtherName) is not { } row)
                continue;
            try
            {
                found.Add((row, known[row.EstimateId], part.Evaluate(preparation, steps, asDone: true).Concentration, part.Stock.Form));
            }
            catch (Knownwater.Preparation.PreparationException)
            {
                // a piece whose limits no longer bear what was dispensed with it: the value stands as it was made
            }
        }
        return found;
    }

    /// <summary>Whether two values are the same to what is stored: value and every source.</summary>
    private static bool IsSame(Estimate was, Estimate value) =>
        Math.Abs(was.Value - value.Value) <= 1e-9 * Math.Abs(was.Value) && Math.Abs(was.StandardUncertainty - value.StandardUncertainty) <= 1e-6 * was.StandardUncertainty
        && Estimate.Covariance(was, value) >= (1 - 1e-6) * was.StandardUncertainty * value.StandardUncertainty;
}
