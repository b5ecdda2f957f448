using System.Security.Cryptography;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>Takes events of a run from a device, in order; one that was taken before is answered alike and written once.</summary>
public sealed class KeepRunEvents(RecordsContext records, Clock clock, KeepReading keep, ChangeReading change, ResumeDosing resume)
{
    /// <summary>Most events in one command.</summary>
    public const int Most = 50;

    /// <summary>Most events of one run.</summary>
    public const int MostOfRun = 5000;

    /// <summary>Longest note, in characters.</summary>
    public const int Longest = 1000;

    /// <summary>The step at the end that says that automatic dosing listens again; done, it notes that too.</summary>
    internal const string DosingResumed = "end/dosing-resumed";

    /// <summary>Events of one device.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>The run that the device is at; null for the last one of the check.</summary>
        public Guid? Run { get; init; }

        /// <summary>The device; empty for a page without script.</summary>
        public Guid Client { get; init; }

        /// <summary>The events in the order in which they happened on the device, one to <see cref="Most"/>.</summary>
        public required IReadOnlyList<SentRunEvent> Events { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Each event has its answer, in the same order.</summary>
        public sealed record Answered(IReadOnlyList<RunAnswer> Answers) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act; events answered before stay.</param>
    /// <returns>How it ended.</returns>
    public async Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        if (command.Events.Count is 0 or > Most)
            return Refused($"{command.Events.Count} events came at once; send one to {Most}.");
        var run = command.Run is { } id ? await records.Runs.AsNoTracking().FirstOrDefaultAsync(r => r.Id == id && r.CheckId == command.Check, cancel) : await RunLog.Last(records, command.Check, cancel);
        if (run is null || !await records.Checks.AnyAsync(c => c.Id == command.Check, cancel))
            return new Outcome.Refused(RunLog.Gone);
        var answers = new List<RunAnswer>();
        foreach (var sent in command.Events)
        {
            answers.Add(answers is [.., { Fate: not RunEventFate.Kept }]
                ? new RunAnswer(sent.Key, RunEventFate.Waits, "", [])
                : await One(command, run.Id, sent, cancel));
        }
        return new Outcome.Answered(answers);
    }

    private async Task<RunAnswer> One(Command command, Guid run, SentRunEvent sent, CancellationToken cancel)
    {
        var text = sent.Text.Trim();
        var said = "";
        if (!Enum.IsDefined(sent.Kind) || sent.Kind is RunEventKind.Begun or RunEventKind.Photo)
            return No(sent, "That is no event that a sheet sends here.");
        if (sent.Kind is RunEventKind.Note or RunEventKind.Slip && text.Length is 0 or > Longest)
            return No(sent, text.Length == 0 ? "Nothing is written yet. Say in a few words what happened." : $"That is {text.Length} characters long; {Longest} fit. Shorten it.");
        if (await records.RunEvents.AsNoTracking().AnyAsync(e => e.RunId == run && e.Key == sent.Key, cancel))
            return new RunAnswer(sent.Key, RunEventFate.Kept, "", []);
        if (sent.Kind == RunEventKind.ReadingKept)
        {
            var (fate, sentence) = await Reading(command, run, sent, cancel);
            if (fate is not null)
                return fate;
            said = sentence;
        }
        else if (sent.Kind == RunEventKind.Done)
        {
            await Resume(command, run, sent, cancel);
        }
        return await RunLog.Save(records, async () =>
        {
            var row = await records.Runs.FirstAsync(r => r.Id == run, cancel);
            // A device that sends twice at once may have put it there meanwhile.
            if (await records.RunEvents.AsNoTracking().AnyAsync(e => e.RunId == run && e.Key == sent.Key, cancel))
                return new RunAnswer(sent.Key, RunEventFate.Kept, said, []);
            if (row.Events >= MostOfRun)
                return No(sent, $"This run has {MostOfRun} events already, which is the most. Go on with the readings of the check.");
            RunLog.Append(records, clock, row, sent with { Text = text, Age = Clamp(sent.Age) }, command.Client, command.Who.Trim());
            return new RunAnswer(sent.Key, RunEventFate.Kept, said, []);
        }, cancel);
    }

    /// <summary>Keeps the reading itself, under the event's key. The answer is null where the event may stand in the list.</summary>
    private async Task<(RunAnswer? Refused, string Sentence)> Reading(Command command, Guid run, SentRunEvent sent, CancellationToken cancel)
    {
        var steps = RunLog.Steps(await records.Runs.AsNoTracking().FirstAsync(r => r.Id == run, cancel));
        if (sent.Step < 0 || sent.Step >= steps.Count || steps[sent.Step] is not { Kind: RunStepKind.Read, Level: { } level } step)
            return (No(sent, $"Step {sent.Step + 1} of this run takes no reading."), "");
        var kept = await keep.Handle(new KeepReading.Command
        {
            Check = command.Check,
            Level = level,
            Reading = step.Replicate,
            ConditioningRun = step.Conditioning,
            Typed = sent.Text,
            At = clock.Now - Clamp(sent.Age),
            Confirmed = sent.Confirmed,
            Who = command.Who,
            RequestId = sent.Key,
        }, cancel);
        switch (kept)
        {
            case KeepReading.Outcome.Doubtful doubtful:
                return (new RunAnswer(sent.Key, RunEventFate.Refused, doubtful.Sentence, doubtful.Offers, Doubtful: true), "");
            case KeepReading.Outcome.Refused refused when refused.Faults is [{ Field: "Reading" }]:
                return await InPlace(command, sent, step, refused.Faults[0].Sentence, cancel);
            case KeepReading.Outcome.Refused refused:
                return (new RunAnswer(sent.Key, RunEventFate.Refused, refused.Faults[0].Sentence, refused.Faults[0].Offers), "");
            default:
                return (null, "");
        }
    }

    /// <summary>The place of the reading is taken, or one before it is missing.</summary>
    private async Task<(RunAnswer? Refused, string Sentence)> InPlace(Command command, SentRunEvent sent, RunStep step, string outOfTurn, CancellationToken cancel)
    {
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows || step.Level is not { } level || rows.Level(level) is not { } at)
            return (No(sent, outOfTurn), "");
        if (step.Conditioning is { } run)
            return run <= at.Conditioning.Count ? (null, at.Conditioning[run - 1].Typed == sent.Text.Trim() ? "" : $"Conditioning run {run} is in as {at.Conditioning[run - 1].Typed}, and stays so; it does not count.") : (No(sent, outOfTurn), "");
        if (step.Replicate is not { } replicate || at.Reading(replicate) is not { } there)
            return (No(sent, outOfTurn), "");
        if (there.Typed == sent.Text.Trim())
            return (null, "");
        if (!sent.Again)
            return (null, $"Reading {replicate} was in already, as {there.Typed}; it stands. What was typed here, {sent.Text.Trim()}, is kept in the list of what was done. If it is the right one, open the reading and change it.");
        var changed = await change.Handle(new ChangeReading.Command
        {
            Check = command.Check,
            Level = level,
            Reading = replicate,
            Typed = sent.Text,
            Confirmed = sent.Confirmed,
            Who = command.Who,
            RequestId = ChangeKey(sent.Key),
        }, cancel);
        return changed switch
        {
            ChangeReading.Outcome.Doubtful doubtful => (new RunAnswer(sent.Key, RunEventFate.Refused, doubtful.Sentence, doubtful.Offers, Doubtful: true), ""),
            ChangeReading.Outcome.Refused { Faults: [{ Field: "Reason" }, ..] } => (No(sent, "The verdict stands already, so a change needs its reason. Open the reading in the check and change it there."), ""),
            ChangeReading.Outcome.Refused refused => (new RunAnswer(sent.Key, RunEventFate.Refused, refused.Faults[0].Sentence, refused.Faults[0].Offers), ""),
            _ => (null, ""),
        };
    }

    /// <summary>Notes that dosing listens again where the step says so; where none is noted as paused there is nothing to note.</summary>
    private async Task Resume(Command command, Guid run, SentRunEvent sent, CancellationToken cancel)
    {
        var steps = RunLog.Steps(await records.Runs.AsNoTracking().FirstAsync(r => r.Id == run, cancel));
        if (sent.Step >= 0 && sent.Step < steps.Count && steps[sent.Step].Key == DosingResumed)
            await resume.Handle(new ResumeDosing.Command { Check = command.Check, Moment = clock.Now - Clamp(sent.Age), Who = command.Who, RequestId = sent.Key }, cancel);
    }

    /// <summary>A change is an act of its own, so it has a key of its own that follows from the event's.</summary>
    private static Guid ChangeKey(Guid key) => new(SHA256.HashData([.. key.ToByteArray(), .. "change"u8])[..16]);

    private static Duration Clamp(Duration age) => Duration.Max(Duration.Zero, Duration.Min(age, Duration.FromDays(60)));

    private static RunAnswer No(SentRunEvent sent, string sentence) => new(sent.Key, RunEventFate.Refused, sentence, []);

    private static Outcome.Refused Refused(string sentence) => new([new FieldFault("", sentence)]);
}
