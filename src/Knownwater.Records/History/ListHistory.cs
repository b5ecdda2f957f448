using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.History;

/// <summary>Lists what was done, the newest first.</summary>
public sealed class ListHistory(RecordsContext records, Clock clock)
{
    /// <summary>Which acts; what is null does not narrow.</summary>
    public sealed record Query
    {
        /// <summary>Check, instrument, method, lot or water concerned.</summary>
        public Guid? Subject { get; init; }

        /// <summary>Page, from one.</summary>
        public int Page { get; init; } = 1;

        /// <summary>Acts a page, 1 to 200.</summary>
        public int PageSize { get; init; } = 50;
    }

    /// <summary>Reads the history.</summary>
    /// <param name="query">Which acts.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>One page of it.</returns>
    public async Task<HistoryList> Handle(Query query, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(query);
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var which = records.History.AsNoTracking();
        if (query.Subject is { } subject)
            which = which.Where(h => h.Subject == subject);
        var size = Math.Clamp(query.PageSize, 1, 200);
        var total = await which.CountAsync(cancel);
        var pages = Math.Max(1, (total + size - 1) / size);
        var page = Math.Clamp(query.Page, 1, pages);
        var entries = await which.OrderByDescending(h => h.Ordinal).ThenByDescending(h => h.At).Skip((page - 1) * size).Take(size).ToListAsync(cancel);
        return new HistoryList(
            entries.Select(h => new HistoryLine(h.Id, h.At, Words.ShortMoment(bench.At(h.At), bench.Today), h.Who, h.Sentence, h.SubjectKind, h.Subject, h.UndoneBy is not null, h.UndoneBy is null)).ToList(),
            total, page, pages);
    }
}

/// <summary>One page of the history.</summary>
/// <param name="Items">The acts, newest first.</param>
/// <param name="Total">How many there are on all pages.</param>
/// <param name="Page">This page, from one.</param>
/// <param name="Pages">How many pages there are; at least one.</param>
public sealed record HistoryList(IReadOnlyList<HistoryLine> Items, int Total, int Page, int Pages);

/// <summary>One act.</summary>
/// <param name="Id">Its key.</param>
/// <param name="At">When.</param>
/// <param name="WhenWords">When, in words.</param>
/// <param name="Who">Initials; may be empty.</param>
/// <param name="Sentence">What was done.</param>
/// <param name="SubjectKind">What it concerns: check, instrument, method, lot, water, bench.</param>
/// <param name="Subject">Key of what it concerns.</param>
/// <param name="Undone">Whether it was undone.</param>
/// <param name="CanUndo">Whether it may be undone.</param>
public sealed record HistoryLine(Guid Id, Instant At, string WhenWords, string Who, string Sentence, string SubjectKind, Guid Subject, bool Undone, bool CanUndo);
