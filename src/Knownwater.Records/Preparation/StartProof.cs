using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Begins a proof by weighing: what is set, on which balance, in which water. Refused where the balance cannot show it.</summary>
public sealed class StartProof(RecordsContext records, Clock clock)
{
    /// <summary>The proof to be; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>The piece to prove: anything that measures volume, or a balance.</summary>
        public required Guid Piece { get; init; }

        /// <summary>The balance it is weighed on; not for a balance.</summary>
        public Guid? Balance { get; init; }

        /// <summary>What is set, mL; empty for the mark of a flask or bulb pipette. For a balance: mass of the weight, g; empty with a listed weight.</summary>
        public string Setting { get; init; } = "";

        /// <summary>Deliveries in each weighing; empty or 1 weighs them one by one.</summary>
        public string DeliveriesEach { get; init; } = "";

        /// <summary>How many weighings; empty for the usual number.</summary>
        public string Weighings { get; init; } = "";

        /// <summary>Temperature of the water, °C.</summary>
        public string Temperature { get; init; } = "";

        /// <summary>Pressure of the place, hPa; empty for 1013.</summary>
        public string Pressure { get; init; } = "";

        /// <summary>Relative humidity, %; empty for 50.</summary>
        public string Humidity { get; init; } = "";

        /// <summary>What evaporates during one delivery, g; empty for nothing.</summary>
        public string Evaporation { get; init; } = "";

        /// <summary>Kind of tip; may be empty.</summary>
        public string Tip { get; init; } = "";

        /// <summary>A listed check weight, <c>M1|10</c>; empty for another.</summary>
        public string Weight { get; init; } = "";

        /// <summary>Limit of error of another check weight, g.</summary>
        public string WeightLimit { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Begun; the weighings follow.</summary>
        public sealed record Started(Guid Proof) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Start(command, act, cancel), cancel);
    }

    private async Task<Outcome> Start(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        if (await records.Glassware.AsNoTracking().FirstOrDefaultAsync(g => g.Id == command.Piece, cancel) is not { } piece)
            return new Outcome.Refused(GlasswareFields.Gone);
        var row = new GlasswareProofRow(records.BenchId, clock.NewId())
        {
            PieceId = piece.Id,
            StartedAt = now,
            TouchedAt = now,
            Who = fields.Optional("Who", command.Who, 40),
            Tip = fields.Optional("Tip", command.Tip, 100),
        };
        if (piece.Kind == GlasswareKind.Balance)
            ReadWeight(command, fields, bench, row);
        else
            ReadWater(command, fields, bench, row, piece);
        row.Planned = string.IsNullOrWhiteSpace(command.Weighings) ? ProofReading.Usual(piece.Kind, row.DeliveriesEach)
            : fields.Whole("Weighings", command.Weighings, "the number of weighings", "", ProofReading.Least(piece.Kind, row.DeliveriesEach), 50) ?? 0;
        Glassware? balance = null;
        if (piece.Kind != GlasswareKind.Balance)
        {
            balance = command.Balance is { } id ? (await GlasswareShelf.Read(records, [id], cancel)).GetValueOrDefault(id) : null;
            if (balance is not { IsBalance: true })
                fields.Fault("Balance", "No balance is chosen. Choose the one the water is weighed on, or add it to the glassware first.");
            row.BalanceId = balance?.Id;
        }
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        if (balance is not null)
        {
            var reach = BalanceReach.Of(ProofReading.Trial(row, [], piece, balance), row.Planned);
            if (reach.Power == ProofPower.TooCoarse)
                fields.Fault("Balance", reach.Words(bench.Sign));
            if (balance.Nominal is { } most && row.Setting * row.DeliveriesEach > most)
                fields.Fault("Balance", $"{balance.Name} carries {NumberWords.Plain(most, 4, bench.Sign)}{Words.NoBreak}g at the most; the water alone weighs more. Weigh less at once, or take another balance.");
        }
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        records.GlasswareProofs.Add(row);
        await act.Did($"A proof of {piece.Name} begun, {ProofReading.What(row, piece, bench.Sign)}.", Subjects.Glassware, piece.Id, cancel);
        return new Outcome.Started(row.Id);
    }

    private static void ReadWeight(Command command, TypedFields fields, BenchSetting bench, GlasswareProofRow row)
    {
        row.DeliveriesEach = 1;
        row.TemperatureCelsius = 20;
        row.PressureHectopascals = 1013;
        row.HumidityPercent = 50;
        if (command.Weight.Length > 0)
        {
            if (GlasswareCatalogue.CheckWeights.FirstOrDefault(w => ProofReading.KeyOf(w) == command.Weight) is { } weight)
                (row.Setting, row.WeightClass, row.WeightLimit) = (weight.Grams, weight.Class, weight.Limit);
            else
                fields.Fault("Weight", "This weight is not in the list. Choose another, or write its mass and its limit.");
            return;
        }
        row.SettingTyped = command.Setting.Trim();
        row.Setting = AmountText.Read(fields, bench, "Setting", command.Setting, true, "the mass of the weight") ?? 0;
        if (row.SettingTyped.Length == 0)
            fields.Fault("Setting", "The mass of the weight is missing. Choose a listed weight, or write what stands on yours, as in 100 g.");
        if (command.WeightLimit.Trim() is "" or "0")
            fields.Fault("WeightLimit", "How far the weight may be off is not said. Its class says so; a coin has none, take a weight of known class.");
        else
            row.WeightLimit = AmountText.Read(fields, bench, "WeightLimit", command.WeightLimit, true, "the limit of a weight") ?? 0;
    }

    private static void ReadWater(Command command, TypedFields fields, BenchSetting bench, GlasswareProofRow row, GlasswarePiece piece)
    {
        row.SettingTyped = command.Setting.Trim();
        var oneMark = piece.Kind is GlasswareKind.Flask or GlasswareKind.BulbPipette;
        var setting = AmountText.Read(fields, bench, "Setting", command.Setting, false, "a volume") ?? (command.Setting.Trim().Length == 0 && oneMark ? piece.Nominal : null);
        if (setting is { } volume)
        {
            row.Setting = volume;
            var (least, most) = oneMark ? (piece.Nominal, piece.Nominal) : (piece.Least, piece.Nominal);
            if (volume < least * (1 - 1e-9) || volume > most * (1 + 1e-9))
                fields.Fault("Setting", $"{piece.Name} gives {(oneMark || least is null ? "" : $"{NumberWords.Plain(least.Value, 4, bench.Sign)} to ")}{NumberWords.Plain(most!.Value, 4, bench.Sign)}{Words.NoBreak}mL; {NumberWords.Plain(volume, 4, bench.Sign)}{Words.NoBreak}mL is outside. Write a volume that it is used at.");
        }
        else if (command.Setting.Trim().Length == 0)
        {
            fields.Fault("Setting", "What is set is missing. Write the volume as you use it: a proof holds for it and what lies within a tenth of it.");
        }
        row.DeliveriesEach = string.IsNullOrWhiteSpace(command.DeliveriesEach) ? 1 : fields.Whole("DeliveriesEach", command.DeliveriesEach, "the number of deliveries", "", 1, 50) ?? 1;
        (row.TemperatureCelsius, row.TemperatureTyped) = (fields.NeededNumber("Temperature", command.Temperature, "the temperature of the water", "The temperature of the water is missing. Measure it in the water itself; one degree makes 0.02 %.", 5, 40) ?? 0, command.Temperature.Trim());
        (row.PressureHectopascals, row.PressureTyped) = (fields.Number("Pressure", command.Pressure, "the air pressure", 500, 1100) ?? 1013, command.Pressure.Trim());
        (row.HumidityPercent, row.HumidityTyped) = (fields.Number("Humidity", command.Humidity, "the humidity", 0, 100) ?? 50, command.Humidity.Trim());
        var evaporation = command.Evaporation.Trim() is "" or "0" ? 0 : AmountText.Read(fields, bench, "Evaporation", command.Evaporation, true, "what evaporates") ?? 0;
        (row.Evaporation, row.EvaporationTyped) = (evaporation, command.Evaporation.Trim());
        if (row.Setting > 0 && evaporation > row.Setting / 10)
            fields.Fault("Evaporation", $"{row.EvaporationTyped} is more than a tenth of what is delivered. Write the grams that one delivery loses, as in 0.0008, and cover the vessel.");
    }
}
