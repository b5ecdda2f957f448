using System.Globalization;
using Knownwater.Checks;
using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>Shows the run of a check: its steps, where it stands, and what happened.</summary>
public sealed class ViewRun(RecordsContext records, Clock clock)
{
    /// <summary>A word that changes whenever the run or its check does; for a device that asks often.</summary>
    /// <param name="check">The check.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The word; null where the check has no run.</returns>
    public async Task<string?> Mark(Guid check, CancellationToken cancel)
    {
        var found = await (
            from c in records.Checks.AsNoTracking()
            where c.Id == check
            join r in records.Runs on c.Id equals r.CheckId
            orderby r.Ordinal descending
            select new { r.Ordinal, r.Events, c.TouchedAt, c.Version }).FirstOrDefaultAsync(cancel);
        return found is null ? null : Mark(found.Ordinal, found.Events, found.Version);
    }

    /// <summary>Reads the run that was begun last.</summary>
    /// <param name="check">The check.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The run; null where the check is gone or has none.</returns>
    public async Task<RunView?> Handle(Guid check, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var rows = (await CheckRows.Read(records, records.Checks.AsNoTracking().Where(c => c.Id == check), cancel)).SingleOrDefault();
        if (rows is null || await RunLog.Last(records, check, cancel) is not { } run)
            return null;
        var steps = RunLog.Steps(run);
        var events = await RunLog.Events(records, run.Id, cancel);
        var photos = await records.RunPhotos.AsNoTracking().Where(p => p.RunId == run.Id).Select(p => new { p.EventId, p.Id }).ToDictionaryAsync(p => p.EventId, p => p.Id, cancel);
        var progress = RunLog.Fold(steps.Count, events);
        var view = await CheckReading.View(records, rows, bench, cancel);
        var toGo = rows.Levels.Sum(l => Math.Max(0, l.Planned - l.Replicates.Count) + rows.ConditioningToGo(l));
        return new RunView
        {
            Id = run.Id,
            Check = check,
            Mark = Mark(run.Ordinal, run.Events, rows.Check.Version),
            Title = view.Title,
            ParameterName = rows.Measured.Name,
            Unit = rows.Measured.Form.Display,
            ScaleHint = view.ScaleHint,
            Procedure = run.Procedure,
            ProcedureVersion = run.ProcedureVersion,
            Steps = steps,
            Step = RunLog.Standing(progress, steps, rows),
            Starts = progress.Starts.Where(s => s.Key < steps.Count && steps[s.Key].Seconds is not null).ToDictionary(s => s.Key, s => s.Value),
            Ended = progress.Ended,
            CheckState = rows.Check.State,
            AutomationPaused = rows.Check.AutomationPaused,
            Levels = [.. view.Levels.Select(l => new RunLevel(l.Ordinal, l.KnownWords, l.Planned, [.. l.Readings.Select(r => r.Typed)], [.. l.Conditioning.Select(r => r.Typed)], l.Series))],
            LeftWords = toGo == 0 || rows.Check.MinutesPerReading is not { } minutes ? "" : $"{VerdictWords.Duration(toGo * minutes)} left",
            StartedWords = Words.Moment(bench.At(run.StartedAt)),
            Events = [.. events.Select(e => new RunEventLine(
                e.Ordinal,
                e.Kind,
                e.Step,
                e.Text,
                e.Who,
                Time(bench.At(e.HappenedAt)),
                Said(e, steps, rows),
                photos.TryGetValue(e.Id, out var photo) ? photo : null))],
            Now = now,
        };
    }

    private static string Mark(int ordinal, int events, int version) => string.Create(CultureInfo.InvariantCulture, $"{ordinal}.{events}.{version}");

    private static string Time(ZonedDateTime at) => string.Create(CultureInfo.InvariantCulture, $"{at.Hour:00}:{at.Minute:00}:{at.Second:00}");

    private static string Said(RunEvent e, IReadOnlyList<RunStep> steps, CheckRows rows)
    {
        var step = e.Step >= 0 && e.Step < steps.Count ? steps[e.Step] : null;
        return e.Kind switch
        {
            RunEventKind.Begun => "Begun.",
            RunEventKind.Done => step is null ? "Done." : $"{step.Done}: {step.Act}",
            RunEventKind.Back => $"Back from step {e.Step + 1}.",
            RunEventKind.TimerStarted => $"Timer of step {e.Step + 1} started.",
            RunEventKind.ReadingKept => $"{(step?.Conditioning is { } c ? $"Conditioning run {c}" : $"Reading{(step?.Replicate is { } r ? $" {r}" : "")}")} typed: {e.Text} {rows.Measured.Form.UnitDisplay}.",
            RunEventKind.Slip => $"Slip: {e.Text}",
            RunEventKind.Note => $"Note: {e.Text}",
            RunEventKind.Photo => e.Text.Length > 0 ? $"Photo: {e.Text}" : "Photo.",
            _ => "Ended.",
        };
    }
}
