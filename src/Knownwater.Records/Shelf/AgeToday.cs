using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>A known water that ends today or has ended.</summary>
/// <param name="Water">The water.</param>
/// <param name="IsNow">Whether it has ended already.</param>
/// <param name="Sentence">“Remake KW-35 phosphate 0.1 by 13:40.”</param>
/// <param name="Reason">“The wall and microbes: by tomorrow it may be another 20 % weaker.”</param>
internal sealed record AgeToday(ReferenceWater Water, bool IsNow, string Sentence, string Reason)
{
    /// <summary>The waters that end today or have ended, the oldest first.</summary>
    public static async Task<IReadOnlyList<AgeToday>> Read(RecordsContext records, BenchSetting bench, CancellationToken cancel)
    {
        var waters = (await records.ReferenceWaters.AsNoTracking().Where(w => w.UseBy != null).ToListAsync(cancel)).Where(w => w.UseBy <= bench.Today).OrderBy(w => w.UseBy).ThenBy(w => w.AddedAt).ToList();
        var values = await records.Estimates.Read(waters.Select(w => w.EstimateId).ToList(), cancel);
        return [.. waters.Select(w => Of(w, values[w.EstimateId].Value, bench)).OfType<AgeToday>()];
    }

    private static AgeToday? Of(ReferenceWater water, double value, BenchSetting bench)
    {
        var isPast = WaterAgeing.IsPast(water, value, bench);
        var name = $"{(water.Code.Length > 0 && water.Code != water.Label ? water.Code + " " : "")}{water.Label}";
        if (water.PreparationId is null)
            return isPast ? new AgeToday(water, true, $"{name} is past its date since {Words.Day(water.UseBy!.Value, bench.Today)}. Make it fresh, or take it off the shelf.", "Old known water no longer holds what its label says.") : null;
        var when = WaterAgeing.LastHour(water, value, bench) is { } last
            ? isPast ? $"now: it kept until {Words.ShortMoment(bench.At(last), bench.Today)}" : $"by {Words.ShortMoment(bench.At(last), bench.Today)}"
            : isPast ? $"today: it is past its date since {Words.Day(water.UseBy!.Value, bench.Today)}" : "by tonight";
        return new AgeToday(water, isPast, $"Remake {name} {when}.", WaterAgeing.Reason(water, value, bench.Sign));
    }
}
