using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>Lists checks, the newest first.</summary>
public sealed class ListChecks(RecordsContext records, Clock clock)
{
    /// <summary>Which checks; what is null does not narrow.</summary>
    public sealed record Query
    {
        /// <summary>Key of a parameter.</summary>
        public string? Parameter { get; init; }

        /// <summary>An instrument.</summary>
        public Guid? Instrument { get; init; }

        /// <summary>A method.</summary>
        public Guid? Method { get; init; }

        /// <summary>A verdict over all levels.</summary>
        public Verdict? Verdict { get; init; }

        /// <summary>A state.</summary>
        public CheckState? State { get; init; }

        /// <summary>Page, from one.</summary>
        public int Page { get; init; } = 1;

        /// <summary>Checks a page, 1 to 200.</summary>
        public int PageSize { get; init; } = 25;
    }

    /// <summary>Reads the list.</summary>
    /// <param name="query">Which checks.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>One page of the list, with what may be chosen as filters.</returns>
    public async Task<CheckList> Handle(Query query, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(query);
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var which = records.Checks.AsNoTracking();
        if (query.Parameter is { Length: > 0 } key)
            which = which.Where(c => c.ParameterKey == key);
        if (query.Method is { } method)
            which = which.Where(c => c.MethodId == method);
        if (query.Instrument is { } instrument)
        {
            var methods = records.Methods.IgnoreQueryFilters([RecordsContext.DeletedFilter]).Where(m => m.InstrumentId == instrument).Select(m => (Guid?)m.Id);
            which = which.Where(c => methods.Contains(c.MethodId));
        }
        if (query.Verdict is { } verdict)
            which = which.Where(c => c.Verdict == verdict);
        if (query.State is { } state)
            which = which.Where(c => c.State == state);
        var size = Math.Clamp(query.PageSize, 1, 200);
        var total = await which.CountAsync(cancel);
        var pages = Math.Max(1, (total + size - 1) / size);
        var page = Math.Clamp(query.Page, 1, pages);
        var items = await CheckReading.Lines(records, which.OrderByDescending(c => c.StartedAt).ThenByDescending(c => c.TouchedAt).Skip((page - 1) * size).Take(size), bench, cancel);
        var parameters = await records.Checks.AsNoTracking().Select(c => c.ParameterKey).Distinct().ToListAsync(cancel);
        var instruments = await (
            from c in records.Checks.AsNoTracking()
            join m in records.Methods.IgnoreQueryFilters([RecordsContext.DeletedFilter]) on c.MethodId equals m.Id
            join i in records.Instruments.IgnoreQueryFilters([RecordsContext.DeletedFilter]) on m.InstrumentId equals i.Id
            select new { i.Id, i.Name }).Distinct().ToListAsync(cancel);
        return new CheckList(items, total, page, pages,
            parameters.Select(p => new ParameterChoice(p, p == Measured.Other ? "Another analyte" : Parameter.Find(p)?.Name ?? p)).OrderBy(p => p.Name, StringComparer.Ordinal).ToList(),
            instruments.Select(i => new InstrumentChoice(i.Id, i.Name)).OrderBy(i => i.Name, StringComparer.Ordinal).ToList());
    }
}

/// <summary>One page of checks.</summary>
/// <param name="Items">The checks, newest first.</param>
/// <param name="Total">How many there are on all pages.</param>
/// <param name="Page">This page, from one.</param>
/// <param name="Pages">How many pages there are; at least one.</param>
/// <param name="Parameters">Parameters that occur, key and name.</param>
/// <param name="Instruments">Instruments that occur, key and name.</param>
public sealed record CheckList(IReadOnlyList<CheckLine> Items, int Total, int Page, int Pages, IReadOnlyList<ParameterChoice> Parameters, IReadOnlyList<InstrumentChoice> Instruments);

/// <summary>A parameter that may be chosen.</summary>
public sealed record ParameterChoice(string Key, string Name);

/// <summary>An instrument that may be chosen.</summary>
public sealed record InstrumentChoice(Guid Id, string Name);

/// <summary>A check in one line of a list.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Title">“Alkalinity on the harbour analyser”.</param>
/// <param name="State">Where it stands.</param>
/// <param name="Kept">Whether it was kept and described.</param>
/// <param name="Verdict">Verdict over all levels; null where there is none.</param>
/// <param name="Sentence">“Reads high by 10.6 %, and that matters.”, or “2 of 5 readings”.</param>
/// <param name="StartedAt">When it was started.</param>
/// <param name="DayWords">That day in words.</param>
/// <param name="LevelWords">“at 7.90 dKH”.</param>
public sealed record CheckLine(Guid Id, string Title, CheckState State, bool Kept, Verdict? Verdict, string Sentence, Instant StartedAt, string DayWords, string LevelWords);
