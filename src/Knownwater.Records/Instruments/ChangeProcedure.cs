using System.Text;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Preparation;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Instruments;

/// <summary>Changes the procedure of an instrument: the change is a new version, old ones stay readable.</summary>
public sealed class ChangeProcedure(RecordsContext records, Clock clock)
{
    private const int LongestDocument = 100_000;

    /// <summary>The change.</summary>
    public sealed record Command
    {
        /// <summary>The instrument.</summary>
        public required Guid Instrument { get; init; }

        /// <summary>The version that was changed; refused where another one stands by now.</summary>
        public required int From { get; init; }

        /// <summary>What is changed.</summary>
        public required ProcedureEdit Edit { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>A new version stands.</summary>
        public sealed record Changed(int Version) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Change(command, act, cancel), cancel);
    }

    private async Task<Outcome> Change(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        var who = fields.Optional("Who", command.Who, 40);
        if (await records.Instruments.AsNoTracking().FirstOrDefaultAsync(i => i.Id == command.Instrument, cancel) is not { } instrument)
            return new Outcome.Refused(InstrumentFaults.InstrumentGone);
        if (await ProcedureReading.Read(records, instrument.Id, instrument.Kind, null, cancel) is not var (standing, number))
            return Refused("A laboratory has no procedure: the known water goes there like any sample.");
        if (number != command.From)
            return Refused($"The procedure was changed since you opened it: version {number} stands now. Look at it, then change it again.");
        var edited = await Edit(command.Edit, standing, instrument, bench, fields, cancel);
        if (!fields.Ok || edited is not var (procedure, sentence))
            return new Outcome.Refused(fields.Faults);
        var document = ProcedureDocument.Write(procedure);
        if (document == ProcedureDocument.Write(standing))
            return Refused("Nothing is different from the version that stands.");
        var next = (await records.Procedures.IgnoreQueryFilters([RecordsContext.DeletedFilter]).Where(p => p.InstrumentId == instrument.Id).MaxAsync(p => (int?)p.Number, cancel) ?? 0) + 1;
        records.Procedures.Add(new ProcedureRow(records.BenchId, clock.NewId()) { InstrumentId = instrument.Id, Number = next, Document = document, Change = sentence, Who = who, At = now });
        await act.Did($"{instrument.Name}, procedure, version {next}: {sentence}.", Subjects.Instrument, instrument.Id, cancel);
        return new Outcome.Changed(next);
    }

    private async Task<(Procedure Procedure, string Sentence)?> Edit(ProcedureEdit edit, Procedure standing, Instrument instrument, BenchSetting bench, TypedFields fields, CancellationToken cancel)
    {
        var steps = standing.Steps.ToList();
        int At(string key)
        {
            var at = steps.FindIndex(s => s.Key == key);
            if (at < 0)
                fields.Fault("", "That step is not in the procedure any more. Look at it again.");
            return at;
        }
        switch (edit)
        {
            case ProcedureEdit.Head head:
                fields.Needed("Residual", head.Residual, "How much stays behind is not said. Weigh the chamber dry, then wet and emptied: a gram is a millilitre.");
                fields.Needed("Rinse", head.Rinse, "How much one rinses with is not said. About 10 mL is common for an analyser.");
                var residual = AmountText.Read(fields, bench, "Residual", head.Residual, isMass: false, "what stays behind", zeroToo: true);
                var rinse = AmountText.Read(fields, bench, "Rinse", head.Rinse, isMass: false, "a rinse");
                var named = standing with { Name = head.Name.Trim(), Source = head.Source.Trim(), ResidualMillilitres = residual ?? 0, RinseMillilitres = rinse ?? 1 };
                return Checked(named, fields, null) ? (named, "name and volumes changed") : null;
            case ProcedureEdit.Step { Key.Length: 0 } added:
                var place = added.After.Length == 0 ? 0 : At(added.After) + 1;
                if (!fields.Ok)
                    return null;
                steps.Insert(place, Written(added, NewKey(added, steps), fields));
                return Checked(standing with { Steps = steps }, fields, place) ? (standing with { Steps = steps }, $"“{Short(added.Act)}” added") : null;
            case ProcedureEdit.Step changed:
                if (At(changed.Key) is var at && at < 0)
                    return null;
                steps[at] = Written(changed, changed.Key, fields);
                return Checked(standing with { Steps = steps }, fields, at) ? (standing with { Steps = steps }, $"“{Short(changed.Act)}” changed") : null;
            case ProcedureEdit.Move move:
                if (At(move.Key) is var from && from < 0)
                    return null;
                var to = from + (move.Up ? -1 : 1);
                if (to < 0 || to >= steps.Count)
                {
                    fields.Fault("", move.Up ? "It is the first step already." : "It is the last step already.");
                    return null;
                }
                (steps[from], steps[to]) = (steps[to], steps[from]);
                return (standing with { Steps = steps }, $"“{Short(steps[to].Act)}” moved {(move.Up ? "up" : "down")}");
            case ProcedureEdit.LeaveOut leave:
                if (At(leave.Key) is var gone && gone < 0)
                    return null;
                var text = steps[gone].Act;
                steps.RemoveAt(gone);
                return Checked(standing with { Steps = steps }, fields, null) ? (standing with { Steps = steps }, $"“{Short(text)}” left out") : null;
            case ProcedureEdit.Again again:
                if (await ProcedureReading.Read(records, instrument.Id, instrument.Kind, again.Version, cancel) is not var (older, _))
                {
                    fields.Fault("", $"There is no version {again.Version}. Choose one of the list.");
                    return null;
                }
                return (older, again.Version == ProcedureReading.Shipped ? "the one that comes with the program taken again" : $"version {again.Version} taken again");
            case ProcedureEdit.Whole whole:
                if (whole.Text.Length > LongestDocument)
                {
                    fields.Fault("Document", $"That is {whole.Text.Length} characters long; {LongestDocument} fit.");
                    return null;
                }
                var (read, faults) = ProcedureDocument.Read(whole.Text);
                if (read is null)
                {
                    fields.Fault("Document", ProcedureDocument.Said(whole.Text, faults));
                    return null;
                }
                return (read, "written anew as a document");
            default:
                throw new InvalidOperationException($"Unknown change {edit.GetType().Name}.");
        }
    }

    private static ProcedureStep Written(ProcedureEdit.Step typed, string key, TypedFields fields)
    {
        static string? Text(string text) => text.Trim() is { Length: > 0 } trimmed ? trimmed : null;
        var minutes = fields.Number("Minutes", typed.Minutes, "a timer", 1.0 / 60, Procedure.LongestTimer / 60);
        return new ProcedureStep
        {
            Key = key,
            When = typed.When,
            Kind = typed.Kind,
            Cue = Text(typed.Cue),
            Act = typed.Act.Trim(),
            Done = typed.Done.Trim(),
            Seconds = minutes is { } m ? (int)Math.Round(60 * m) : null,
            TakesReadingTime = typed.TakesReadingTime,
            Signal = typed.Signal,
            Why = Text(typed.Why),
            Caution = Text(typed.Caution),
        };
    }

    /// <summary>Adds the faults of a changed procedure: those of the step in hand at its fields, the others for the whole form.</summary>
    private static bool Checked(Procedure procedure, TypedFields fields, int? step)
    {
        foreach (var fault in procedure.Faults())
        {
            var mine = step is { } i ? $"Steps[{i}]." : "";
            var field = mine.Length > 0 && fault.Field.StartsWith(mine, StringComparison.Ordinal) ? fault.Field[mine.Length..] : fault.Field;
            fields.Fault(field switch { "Timer" => "Minutes", "Steps" or "Key" => "", _ => field }, fault.Sentence);
        }
        return fields.Ok;
    }

    /// <summary>A name for a new step, of the first words of what it does.</summary>
    private static string NewKey(ProcedureEdit.Step step, List<ProcedureStep> steps)
    {
        var key = new StringBuilder();
        foreach (var c in step.Act.ToLowerInvariant())
        {
            if (char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c))
                key.Append(c);
            else if (key.Length > 0 && key[^1] != '-')
                key.Append('-');
            if (key.Length >= 24)
                break;
        }
        var root = key.ToString().Trim('-') is { Length: > 0 } words ? words : "step";
        var free = root;
        for (var n = 2; steps.Exists(s => s.Key == free); n++)
            free = $"{root}-{n}";
        return free;
    }

    private static string Short(string text) => text.Trim() is { Length: > 50 } longer ? longer[..48].TrimEnd() + "…" : text.Trim().TrimEnd('.');

    private static Outcome.Refused Refused(string sentence) => new([new FieldFault("", sentence)]);
}
