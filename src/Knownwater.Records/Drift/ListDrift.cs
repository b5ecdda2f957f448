using Knownwater.Figures;
using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Drift;

/// <summary>Lists the course of every method in a sentence: what moved first.</summary>
public sealed class ListDrift(RecordsContext records, Clock clock)
{
    /// <summary>Reads the list.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The methods, those that moved first, then by name.</returns>
    public async Task<IReadOnlyList<DriftLine>> Handle(CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var perYear = await ViewDrift.ChecksPerYear(records, bench, cancel);
        List<DriftLine> lines = [];
        foreach (var method in await records.Methods.AsNoTracking().Select(m => m.Id).ToListAsync(cancel))
        {
            var course = (await MethodCourse.Read(records, bench, method, cancel))!;
            if (course.History is null)
            {
                lines.Add(new DriftLine(method, course.Title, "No check counts yet.", "", "no checks yet", FigureTone.Plain));
                continue;
            }
            var reading = new CourseReading(course, bench, perYear);
            lines.Add(new DriftLine(method, course.Title, reading.Sentence, reading.Detail, ViewDrift.Checks(course, Words.Day(bench.DayOf(course.Checks[0].Check.StartedAt), bench.Today)), reading.Tone));
        }
        return [.. lines.OrderBy(l => l.Tone == FigureTone.Plain).ThenBy(l => l.Title, StringComparer.Ordinal)];
    }
}
