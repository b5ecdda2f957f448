using Knownwater.Preparation;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Preparation;

/// <summary>Plans a preparation: what is poured into what, with which glassware. It can be looked at before it is kept.</summary>
public sealed class PlanPreparation(RecordsContext records, Clock clock)
{
    /// <summary>Relative standard uncertainty of the mixing that is suggested, in percent (common practice).</summary>
    public const string SuggestedMixing = "0.2";

    /// <summary>The plan; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>Label of the bottle to be; may be empty.</summary>
        public string Label { get; init; } = "";

        /// <summary>The stock it is made from.</summary>
        public Guid? Stock { get; init; }

        /// <summary>The water it is made in.</summary>
        public Guid? Water { get; init; }

        /// <summary>Steps in order; entries without any amount are left out.</summary>
        public required IReadOnlyList<StepEntry> Steps { get; init; }

        /// <summary>Temperature at the bench, °C; empty for 20.</summary>
        public string Temperature { get; init; } = "";

        /// <summary>Mixing in percent; empty leaves it out.</summary>
        public string Mixing { get; init; } = "";

        /// <summary>The value that is wanted; may be empty.</summary>
        public string Target { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>One step as typed.</summary>
    public sealed record StepEntry
    {
        /// <summary>What is taken.</summary>
        public string Aliquot { get; init; } = "";

        /// <summary>The piece it is taken with.</summary>
        public Guid? With { get; init; }

        /// <summary>What it is made up to, or poured into.</summary>
        public string Made { get; init; } = "";

        /// <summary>Whether that is the total; else it is the water.</summary>
        public bool IsTotal { get; init; }

        /// <summary>The piece that is measured with.</summary>
        public Guid? In { get; init; }

        /// <summary>What it is filled up with.</summary>
        public Diluent Diluent { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Kept.</summary>
        public sealed record Planned(Guid Preparation) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Keeps the plan.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Plan(command, act, cancel), cancel);
    }

    /// <summary>What the plan would give; nothing is kept.</summary>
    /// <param name="command">The plan.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The view, or what is wrong with it.</returns>
    public async Task<(PreparationView? View, IReadOnlyList<FieldFault> Faults)> Look(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        records.StartAfresh();
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        var read = await Read(command, bench, fields, cancel);
        records.StartAfresh();
        return read is { } plan && fields.Ok ? (PreparationReading.View(plan.Row, plan.Steps, plan.Shelf, null, bench), []) : (null, fields.Faults);
    }

    private async Task<Outcome> Plan(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await Read(command, bench, fields, cancel) is not { } plan || !fields.Ok)
            return new Outcome.Refused(fields.Faults);
        records.Preparations.Add(plan.Row);
        records.PreparationSteps.AddRange(plan.Steps);
        var view = PreparationReading.View(plan.Row, plan.Steps, plan.Shelf, null, bench);
        await act.Did($"{plan.Row.Label} planned: {Words.Small(view.ParameterName)}, {view.PlannedWords}.", Subjects.Preparation, plan.Row.Id, cancel);
        return new Outcome.Planned(plan.Row.Id);
    }

    private async Task<(PreparationRow Row, List<PreparationStepRow> Steps, PreparationFields Shelf)?> Read(Command command, BenchSetting bench, TypedFields fields, CancellationToken cancel)
    {
        if (command.Stock is null)
            fields.Fault("Stock", "No stock is chosen. Choose what it is made from.");
        if (command.Water is null)
            fields.Fault("Water", "No water is chosen. Choose what it is made in.");
        var entries = command.Steps.Select((s, i) => (Entry: s, Prefix: $"Steps[{i}].")).Where(s => s.Entry.Aliquot.Trim().Length + s.Entry.Made.Trim().Length > 0).ToList();
        if (entries.Count == 0)
            fields.Fault("Steps[0].Aliquot", "No step is written. Write what is taken of the stock and what it goes into; a bottle that is used as it is goes on the shelf as known water.");
        if (entries.Count > PreparationPlan.MostSteps)
            fields.Fault($"Steps[{PreparationPlan.MostSteps}].Aliquot", $"A preparation has {Words.Count(PreparationPlan.MostSteps)} steps at the most. Make a stock in between and put it on the shelf.");
        var wanted = entries.SelectMany(e => new[] { e.Entry.With, e.Entry.In }).OfType<Guid>().Distinct().ToList();
        var shelf = command is { Stock: { } stock, Water: { } water } ? await PreparationFields.Read(records, bench, stock, water, wanted, cancel) : null;
        if (shelf is null && command is { Stock: not null, Water: not null })
            fields.Fault("Stock", "The stock or the water is not on the shelf any more. Choose again.");
        var temperature = fields.Number("Temperature", command.Temperature, "the temperature at the bench", 0, 40) ?? 20;
        var mixing = fields.Number("Mixing", command.Mixing, "the mixing", 0, 20) / 100 ?? 0;
        var target = fields.Number("Target", command.Target, "the value that is wanted", 0);
        var row = new PreparationRow(records.BenchId, clock.NewId())
        {
            Label = fields.Optional("Label", command.Label, 80),
            StockId = command.Stock ?? Guid.Empty,
            NutrientFreeWaterId = command.Water ?? Guid.Empty,
            TemperatureCelsius = temperature,
            TemperatureTyped = command.Temperature.Trim(),
            Mixing = mixing,
            MixingTyped = command.Mixing.Trim(),
            Target = target,
            TargetTyped = command.Target.Trim(),
            Who = fields.Optional("Who", command.Who, 40),
            PlannedAt = clock.Now,
        };
        var steps = new List<PreparationStepRow>();
        foreach (var (entry, prefix) in entries)
        {
            var with = Piece(fields, prefix + "With", entry.With, shelf, "what it is taken with");
            var inside = Piece(fields, prefix + "In", entry.In, shelf, "what it is made in or weighed on");
            var aliquot = with is null ? null : AmountText.Read(fields, bench, prefix + "Aliquot", entry.Aliquot, with.IsBalance, "what is taken");
            var made = inside is null ? null : AmountText.Read(fields, bench, prefix + "Made", entry.Made, inside.IsBalance, "what it is made up to");
            if (with is not null && entry.Aliquot.Trim().Length == 0)
                fields.Fault(prefix + "Aliquot", "How much is taken is missing.");
            if (inside is not null && entry.Made.Trim().Length == 0)
                fields.Fault(prefix + "Made", "How much water it is made in is missing.");
            if (aliquot is { } a && made is { } m)
            {
                steps.Add(new PreparationStepRow(records.BenchId, clock.NewId())
                {
                    PreparationId = row.Id, Ordinal = steps.Count + 1, Aliquot = a, AliquotTyped = entry.Aliquot.Trim(), WithId = entry.With!.Value, Made = m, MadeTyped = entry.Made.Trim(),
                    IsTotal = entry.IsTotal, InId = entry.In!.Value, Diluent = entry.Diluent,
                });
            }
        }
        if (!fields.Ok || shelf is null)
            return null;
        try
        {
            var made = shelf.Evaluate(row, steps, asDone: false);
            if (row.Label.Length == 0)
                row.Label = $"{shelf.Stock.ParameterName} {Quantities.NumberWords.Plain(made.Concentration.Value, 3, bench.Sign)}";
        }
        catch (PreparationException refusal)
        {
            fields.Fault("Steps[0].Aliquot", refusal.Message);
            return null;
        }
        return (row, steps, shelf);
    }

    private static Glassware? Piece(TypedFields fields, string field, Guid? id, PreparationFields? shelf, string what)
    {
        if (id is null)
        {
            fields.Fault(field, $"Choose {what}.");
            return null;
        }
        if (shelf is null)
            return null;
        if (shelf.Pieces.TryGetValue(id.Value, out var piece))
            return piece;
        fields.Fault(field, "This piece is not there any more. Choose another one.");
        return null;
    }
}
