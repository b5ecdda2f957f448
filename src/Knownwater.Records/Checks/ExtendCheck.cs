using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Takes the one extension that was declared beforehand, where the check can't tell yet.</summary>
public sealed class ExtendCheck(RecordsContext records, Clock clock)
{
    /// <summary>The check.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The check takes more readings: the first level that does, and how many there.</summary>
        public sealed record Extended(int Level, int More) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Extend(command, act, cancel), cancel);
    }

    private async Task<Outcome> Extend(Command command, Act act, CancellationToken cancel)
    {
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        var check = rows.Check;
        var refusal = check switch
        {
            { ExtensionDeclared: false } => "No extension was declared before the first reading, so this check stands as it is. Further readings are a new check that stands alone.",
            { ExtensionTaken: true } => "The one extension was taken already. Further readings are a new check that stands alone.",
            { ExtensionRenounced: true } => "This check was stopped here. Further readings are a new check that stands alone.",
            { State: CheckState.Open } => "The planned readings are not all in yet. Take those first.",
            { State: CheckState.Stopped } => "This check was stopped. Start a new one; it stands alone.",
            _ => null,
        };
        if (refusal is not null)
            return new Outcome.Refused([new FieldFault("", refusal)]);
        var more = rows.Levels.Select(l => (Level: l, More: JudgeLevel.Extension(rows, JudgeLevel.Judge(rows, l)))).Where(x => x.More > 0).ToList();
        if (more.Count == 0)
            return new Outcome.Refused([new FieldFault("", "More readings would not settle this check. See what it says would.")]);
        foreach (var (level, readings) in more)
            level.Row.ExtendedBy = readings;
        await CheckDraws.Bring(records, clock, rows, onlyTaken: false, cancel);
        check.ExtensionTaken = true;
        check.State = CheckState.Open;
        check.ClosedAt = null;
        check.TouchedAt = CheckFaults.Later(check.TouchedAt, clock.Now);
        JudgeLevel.Write(rows, clock.Now);
        var first = more[0];
        await act.Did($"The declared extension was taken: {Words.List(more.Select(m => $"{Words.Count(m.More)} more{CheckFaults.At(rows, m.Level)}").ToList())}.", Subjects.Check, check.Id, cancel);
        return new Outcome.Extended(first.Level.Row.Ordinal, first.More);
    }
}
