using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Notes how much of one parameter a nutrient-free water holds already; a former note of the same parameter is replaced.</summary>
public sealed class NoteBackground(RecordsContext records, Clock clock)
{
    /// <summary>The background; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>The nutrient-free water.</summary>
        public required Guid Water { get; init; }

        /// <summary>Key of a listed parameter, or <c>other</c>.</summary>
        public required string Parameter { get; init; }

        /// <summary>Name of another analyte; only with <c>other</c>.</summary>
        public string OtherName { get; init; } = "";

        /// <summary>Reporting form as text; empty for the parameter's own.</summary>
        public string Form { get; init; } = "";

        /// <summary>A value, or a limit such as “&lt;0.02”.</summary>
        public string Background { get; init; } = "";

        /// <summary>Its doubt to both sides as typed; not read for a limit.</summary>
        public string BackgroundDoubt { get; init; } = "";

        /// <summary>Where it comes from.</summary>
        public BackgroundOrigin BackgroundOrigin { get; init; }

        /// <summary>The method it was read on, where that is the analyser under check; null where not said.</summary>
        public Guid? BackgroundMethod { get; init; }


        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Noted.</summary>
        public sealed record Noted : Outcome;


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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Note(command, act, cancel), cancel);
    }

    private async Task<Outcome> Note(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await records.NutrientFreeWaters.AsNoTracking().FirstOrDefaultAsync(w => w.Id == command.Water, cancel) is not { } water)
            return new Outcome.Refused([new FieldFault("Water", "This water is not on the shelf any more. Look at the shelf, or take it back in the history.")]);
        if (command.Background.Trim().Length == 0)
            fields.Fault("Background", "The background is missing. Write what was read, or the limit below which it lies as in <0.02.");
        var background = fields.Ok ? await BackgroundFields.Read(records, clock, bench, fields, water, new BackgroundFields(command.Parameter, command.OtherName, command.Form, command.Background, command.BackgroundDoubt, command.BackgroundOrigin, command.BackgroundMethod), cancel) : null;
        if (!fields.Ok || background is null)
            return new Outcome.Refused(fields.Faults);
        foreach (var former in await records.Backgrounds.Where(b => b.WaterId == water.Id && b.ParameterKey == background.ParameterKey && b.OtherName == background.OtherName).ToListAsync(cancel))
            (former.Deleted, former.DeletedReason) = (true, "measured anew");
        records.Backgrounds.Add(background);
        var measured = Measured.Of(background.ParameterKey, background.OtherName, background.Form);
        await act.Did($"{water.Label} holds {background.Typed}{Words.NoBreak}{measured.Form.Display} of {Words.Small(measured.Name)}.", Subjects.NutrientFree, water.Id, cancel);
        return new Outcome.Noted();
    }
}
