using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Preparation;

/// <summary>Reads a proof into what the library weighs and what pages show.</summary>
internal static class ProofReading
{
    /// <summary>Most weighings of one proof.</summary>
    public const int Most = 50;

    /// <summary>After this a proof is said to be old: repeat yearly (common practice).</summary>
    private static readonly Duration Fresh = Duration.FromDays(365);

    public static IReadOnlyList<FieldFault> Gone { get; } = [new FieldFault("", "This proof is not there any more. Look at the piece, or take it back in the history.")];

    public static IReadOnlyList<FieldFault> Finished { get; } = [new FieldFault("", "This proof is finished and stands as it is. Begin another one.")];

    public sealed record Loaded(GlasswareProofRow Row, List<ProofWeighing> Weighings, GlasswarePiece Piece, Glassware? Balance, int Next);

    /// <summary>Reads a proof with its weighings, its piece and its balance as it was proven then.</summary>
    public static async Task<Loaded?> Load(RecordsContext records, Guid id, bool tracked, CancellationToken cancel)
    {
        var all = new[] { RecordsContext.DeletedFilter };
        if (await (tracked ? records.GlasswareProofs : records.GlasswareProofs.AsNoTracking()).FirstOrDefaultAsync(p => p.Id == id, cancel) is not { } row)
            return null;
        var weighings = await (tracked ? records.ProofWeighings : records.ProofWeighings.AsNoTracking()).Where(w => w.ProofId == id).OrderBy(w => w.Ordinal).ToListAsync(cancel);
        var last = await records.ProofWeighings.IgnoreQueryFilters(all).Where(w => w.ProofId == id).MaxAsync(w => (int?)w.Ordinal, cancel) ?? 0;
        var piece = await records.Glassware.AsNoTracking().IgnoreQueryFilters(all).FirstAsync(g => g.Id == row.PieceId, cancel);
        var balance = row.BalanceId is { } b ? (await GlasswareShelf.Read(records, [b], cancel, row.DoneAt))[b] : null;
        return new Loaded(row, weighings, piece, balance, last + 1);
    }

    /// <summary>Usual number of weighings: ten deliveries, three fillings, five readings of a weight, one sum (common practice).</summary>
    public static int Usual(GlasswareKind kind, int each) => each > 1 ? 1 : kind switch { GlasswareKind.Balance => 5, GlasswareKind.Flask => 3, _ => 10 };

    /// <summary>Least number: four are a quick look (common practice); one filling or one sum says its bias.</summary>
    public static int Least(GlasswareKind kind, int each) => each > 1 || kind == GlasswareKind.Flask ? 1 : kind == GlasswareKind.Balance ? 2 : 4;

    public static string KeyOf(CheckWeight weight) => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{weight.Class}|{weight.Grams:R}");

    /// <summary>The weighings as the library takes them.</summary>
    public static GravimetricTrial Trial(GlasswareProofRow row, IReadOnlyList<double> grams, GlasswarePiece piece, Glassware balance) => new()
    {
        Setting = row.Setting,
        WeighingsGrams = grams,
        DeliveriesEach = row.DeliveriesEach,
        Balance = balance,
        TemperatureCelsius = row.TemperatureCelsius,
        // a large vessel is seldom of one temperature
        TemperatureLimit = piece.Kind is GlasswareKind.Flask or GlasswareKind.Cylinder ? 0.5 : GravimetricTrial.UsualTemperatureLimit,
        PressureHectopascals = row.PressureHectopascals,
        PressureLimit = row.PressureTyped.Length > 0 ? GravimetricTrial.UsualPressureLimit : 50,
        HumidityPercent = row.HumidityPercent,
        ExpansionPerCelsius = piece.Kind is GlasswareKind.PistonPipette or GlasswareKind.Syringe ? 0 : AirBuoyancy.BorosilicatePerCelsius,
        EvaporationGrams = row.Evaporation,
        Limit = Limit(row, piece),
        AssumedSd = piece.Repeatability > 0 ? piece.Repeatability : piece.Kind is GlasswareKind.Flask or GlasswareKind.Cylinder ? Meniscus(row.Setting) : 0,
    };

    public static GravimetricProof Evaluate(GlasswareProofRow row, IReadOnlyList<ProofWeighing> weighings, GlasswarePiece piece, Glassware? balance)
    {
        double[] grams = [.. weighings.Select(w => w.Grams)];
        return balance is null
            ? GravimetricProof.OfBalance(GlasswareShelf.Piece(piece, []), row.Setting, row.WeightLimit, grams)
            : GravimetricProof.Of(Trial(row, grams, piece, balance));
    }

    public static string What(GlasswareProofRow row, GlasswarePiece piece, DecimalSign sign)
    {
        var size = $"{NumberWords.Plain(row.Setting, 6, sign)}{Words.NoBreak}{Unit(piece)}";
        return piece.Kind == GlasswareKind.Balance ? $"with a weight of {size}{(row.WeightClass.Length > 0 ? $", class {row.WeightClass}" : "")}"
            : row.DeliveriesEach > 1 ? $"{size}, {Words.Count(row.DeliveriesEach)} deliveries weighed as one sum"
            : piece.Kind == GlasswareKind.Flask ? $"{size}, {Fillings(row.Planned)}"
            : $"{size}, {Words.Count(row.Planned)} deliveries one by one";
    }

    public static double? Grams(TypedFields fields, BenchSetting bench, string field, string typed) => AmountText.Read(fields, bench, field, typed, true, "a weighing");

    /// <summary>A weighing that is more than a fifth away from what it should weigh is asked about.</summary>
    public static string? Doubt(GlasswareProofRow row, GlasswarePiece piece, double grams, string typed, DecimalSign sign)
    {
        var expected = row.Setting * row.DeliveriesEach * (piece.Kind == GlasswareKind.Balance ? 1 : 0.997);
        return Math.Abs(grams / expected - 1) <= 0.2 ? null
            : $"{typed} g is far from the {NumberWords.Plain(expected, 3, sign)}{Words.NoBreak}g that were to come. Type it anew, or tick that the balance shows it so.";
    }

    /// <summary>Why a proof cannot be finished yet; empty where it can.</summary>
    public static string Missing(GlasswareProofRow row, int weighings, GlasswarePiece piece)
    {
        var least = Least(piece.Kind, row.DeliveriesEach);
        return weighings >= least ? "" : $"{(weighings == 0 ? "Nothing is weighed yet" : $"{Words.Capital(Words.Count(weighings))} of {Words.Count(row.Planned)} {(weighings == 1 ? "is" : "are")} weighed")}; it takes {Words.Count(least)} at the least, and {Words.Count(row.Planned)} as planned.";
    }

    /// <summary>“Delivers 0.9966 mL where 1 mL is set: 0.34 % low, ± 0.25 %.”</summary>
    public static string Sentence(GravimetricProof found, GlasswareProofRow row, GlasswarePiece piece, DecimalSign sign)
    {
        var doubt = Doubt(found);
        var mean = $"{NumberWords.Value(found.Mean, doubt, sign)}{Words.NoBreak}{found.Unit}";
        var set = $"{NumberWords.Plain(row.Setting, 6, sign)}{Words.NoBreak}{found.Unit}";
        var mass = piece.Kind == GlasswareKind.Balance;
        string Part(double value) => mass ? $"{NumberWords.Plain(value, 2, sign)}{Words.NoBreak}g" : $"{NumberWords.Plain(100 * value / row.Setting, 2, sign)}{Words.Narrow}%";
        var away = found.BiasInterval.Contains(0) ? $"no bias is seen, ±{Words.Narrow}{Part(doubt)}" : $"{Part(Math.Abs(found.Bias))} {(found.Bias > 0 ? "high" : "low")}, ±{Words.Narrow}{Part(doubt)}";
        return piece.Kind switch
        {
            GlasswareKind.Balance => $"Shows {mean} where {set} lie on it: {away}.",
            GlasswareKind.Flask => $"Holds {mean} at its mark of {set}: {away}.",
            GlasswareKind.BulbPipette => $"Delivers {mean} from its mark of {set}: {away}.",
            _ => $"Delivers {mean} where {set} {(piece.Kind == GlasswareKind.PistonPipette ? "is set" : "is read")}: {away}.",
        };
    }

    /// <summary>One proof in a line, for the list of a piece.</summary>
    public static ProofLine Line(GlasswareProofRow row, GlasswarePiece piece, BenchSetting bench)
    {
        var sign = bench.Sign;
        var what = What(row, piece, sign);
        if (row.DoneAt is not { } done)
            return new ProofLine(row.Id, $"Begun {Words.ShortMoment(bench.At(row.StartedAt), bench.Today)}: {what}", "Go on with it.", false, false, false);
        var unit = Unit(piece);
        // a balance keeps true minus shown, and a reader wants shown minus true
        var bias = piece.Kind == GlasswareKind.Balance ? -row.Bias : row.Bias;
        var found = row.Proves
            ? $"{(bias >= 0 ? "+" : NumberWords.Minus)}{NumberWords.Value(Math.Abs(bias), 2 * row.BiasU, sign)}{Words.NoBreak}{unit} at {NumberWords.Plain(row.Setting, 6, sign)}{Words.NoBreak}{unit}, ±{Words.Narrow}{NumberWords.Plain(2 * row.BiasU, 2, sign)}{Words.NoBreak}{unit}; {NumberWords.Plain(row.Sd, 2, sign)}{Words.NoBreak}{unit} between {(piece.Kind == GlasswareKind.Balance ? "weighings" : "deliveries")}"
            : "not proven: too coarse";
        return new ProofLine(row.Id, $"{Words.DayAndYear(bench.DayOf(done))}: {what}", found, true, row.Proves, IsOld(row, bench.Now));
    }

    public static ProofView View(Loaded read, BenchSetting bench)
    {
        var (row, weighings, piece, balance, next) = read;
        var sign = bench.Sign;
        var mass = piece.Kind == GlasswareKind.Balance;
        var enough = weighings.Count >= (mass ? 2 : 1);
        var found = enough ? Evaluate(row, weighings, piece, balance) : null;
        var done = row.DoneAt is not null;
        string Size(double value) => $"{NumberWords.Plain(value, 2, sign)}{Words.NoBreak}{Unit(piece)}";
        var lines = new List<WeighingLine>();
        for (var i = 0; i < weighings.Count; i++)
        {
            // it ends one digit behind the display step of the balance
            var step = (balance?.Readability ?? row.Setting / 10000) / row.DeliveriesEach;
            lines.Add(new WeighingLine(weighings[i].Ordinal, weighings[i].Typed, mass || found is null ? "" : $"{NumberWords.Value(found.Amounts[i], step, sign)}{Words.NoBreak}mL"));
        }
        return new ProofView
        {
            Id = row.Id,
            Piece = piece.Id,
            PieceName = piece.Name,
            WhatWords = What(row, piece, sign),
            IsDone = done,
            WhenWords = Words.Moment(bench.At(row.DoneAt ?? row.StartedAt)),
            Steps = Steps(row, piece, balance, sign),
            Cautions = Cautions(row, piece, balance, sign),
            Weighings = lines,
            Planned = row.Planned,
            Next = next,
            NextAct = NextAct(row, piece, sign),
            Missing = Missing(row, weighings.Count, piece),
            SoFar = !done && found is not null && weighings.Count >= 2
                ? $"So far: {NumberWords.Value(found.Mean, Doubt(found), sign)}{Words.NoBreak}{found.Unit} on average{(found.SdIsBound ? $", all within the rounding of the display" : row.DeliveriesEach > 1 ? "" : $", {Size(found.Sd)} from one to the next")}."
                : "",
            Result = done && found is not null ? Sentence(found, row, piece, sign) : "",
            Follows = done && found is not null ? Follows(found, row, piece, sign) : "",
            Numbers = done && found is not null ? Numbers(found, row, piece, sign) : [],
            Done = Circumstances(row, piece, balance, sign),
            Proves = row.Proves,
            IsOld = IsOld(row, bench.Now),
        };
    }

    private static bool IsOld(GlasswareProofRow row, Instant now) => row.DoneAt is { } done && now - done > Fresh;

    private static string Unit(GlasswarePiece piece) => piece.Kind == GlasswareKind.Balance ? "g" : "mL";

    private static string Fillings(int count) => count == 1 ? "one filling" : $"{Words.Count(count)} fillings";

    private static double Limit(GlasswareProofRow row, GlasswarePiece piece) => piece.ToleranceIsRelative ? piece.Tolerance * row.Setting : piece.Tolerance;

    /// <summary>How a meniscus is read: about 0.05 mL at 100 mL, 0.16 mL at 1 L (common practice: 0.1 to 0.2 mL).</summary>
    private static double Meniscus(double millilitres) => 0.05 * Math.Sqrt(millilitres / 100);

    private static double Doubt(GravimetricProof found) => (found.BiasInterval.High - found.BiasInterval.Low) / 2;

    private static string Follows(GravimetricProof found, GlasswareProofRow row, GlasswarePiece piece, DecimalSign sign)
    {
        if (found.Power == ProofPower.TooCoarse)
            return found.Refusal(sign);
        var limit = Limit(row, piece);
        var (far, doubt) = (Math.Abs(found.Bias), Doubt(found));
        var mass = piece.Kind == GlasswareKind.Balance;
        var limitWords = mass ? $"{NumberWords.Plain(limit, 2, sign)}{Words.NoBreak}g" : $"{NumberWords.Plain(100 * limit / row.Setting, 2, sign)}{Words.Narrow}%";
        var within = limit == 0 ? ""
            : far - doubt > limit ? mass ? $"That is beyond its limit of {limitWords}. Adjust it as its maker says, then prove it again with another weight. " : $"That is beyond its limit of {limitWords}. Have it looked after, or use it with this correction. "
            : far + doubt <= limit ? $"That is within its limit of {limitWords}. "
            : $"Whether that is within its limit of {limitWords} is not certain. ";
        var reach = 100 * Glassware.ProofReach;
        return within + (found.Power == ProofPower.Proves
            ? $"Preparations from now on use what was found, for what lies within {NumberWords.Plain(reach, 2, sign)}{Words.Narrow}% of {NumberWords.Plain(row.Setting, 6, sign)}{Words.NoBreak}{found.Unit}. Waters made before keep their values. Repeat it yearly, after a fall, a new seal or other tips."
            : found.Refusal(sign));
    }

    private static List<NumberLine> Numbers(GravimetricProof found, GlasswareProofRow row, GlasswarePiece piece, DecimalSign sign)
    {
        string Size(double value) => $"{NumberWords.Plain(value, 2, sign)}{Words.NoBreak}{found.Unit}";
        string Ends(double low, double high, double doubt) => $"{NumberWords.Signed(low, doubt, sign)} to {NumberWords.Signed(high, doubt, sign)}{Words.NoBreak}{found.Unit}";
        string Dof(double dof) => double.IsPositiveInfinity(dof) || dof > 999 ? "taken as known" : $"{NumberWords.Plain(Math.Floor(dof), 3, sign)} degrees of freedom";
        var doubt = Doubt(found);
        var n = found.Weighings;
        var lines = new List<NumberLine>
        {
            new("Bias", $"{NumberWords.Signed(found.Bias, doubt, sign)}{Words.NoBreak}{found.Unit}; 95{Words.Narrow}%: {Ends(found.BiasInterval.Low, found.BiasInterval.High, doubt)}"),
            new("Its standard uncertainty", $"{Size(found.BiasU)}, {Dof(found.BiasDof)}"),
            new(piece.Kind == GlasswareKind.Balance ? "Between weighings" : "Between deliveries", (found.SdIsBound, found.SdInterval) switch
            {
                (true, _) => $"below {Size(found.Sd)}: it hides in the rounding of the display",
                (_, { } ends) => $"{Size(found.Sd)}, one standard deviation; 95{Words.Narrow}%: {NumberWords.Plain(ends.Low, 2, sign)} to {Size(ends.High)}",
                _ => found.Sd > 0 ? $"{Size(found.Sd)}, assumed: {(n == 1 ? "one weighing shows" : "sums show")} no scatter" : "not known",
            }),
        };
        if (found.Reach is { } reach)
        {
            var scatter = Math.Sqrt(Math.Max(0, found.BiasU * found.BiasU - reach.StandardUncertainty * reach.StandardUncertainty));
            lines.Insert(2, new NumberLine("Made up of", $"balance {Size(reach.Balance)}, rounding {Size(reach.Rounding)}, scatter {Size(scatter)}, temperature and pressure {Size(reach.Water)}{(reach.Evaporation > 0 ? $", evaporation {Size(reach.Evaporation)}" : "")}"));
            lines.Add(new NumberLine("Volume of 1 g", $"{NumberWords.Fixed(AirBuoyancy.MillilitresPerGram(row.TemperatureCelsius, row.PressureHectopascals, row.HumidityPercent), 5, sign)}{Words.NoBreak}mL"));
        }
        return lines;
    }

    private static List<NumberLine> Circumstances(GlasswareProofRow row, GlasswarePiece piece, Glassware? balance, DecimalSign sign)
    {
        string Value(double value, string unit) => $"{NumberWords.Plain(value, 5, sign)}{Words.NoBreak}{unit}";
        var lines = new List<NumberLine>();
        if (balance is not null)
        {
            lines.Add(new NumberLine("Weighed on", $"{balance.Name}{(balance.Readability is { } d ? $", step {Value(d, "g")}" : "")}{(balance.ProofAt(row.Setting * row.DeliveriesEach) is null ? "" : ", proven near this load")}"));
            lines.Add(new NumberLine("Water", Value(row.TemperatureCelsius, "°C")));
            lines.Add(new NumberLine("Air", $"{Value(row.PressureHectopascals, "hPa")}{(row.PressureTyped.Length > 0 ? "" : ", taken")}, {NumberWords.Plain(row.HumidityPercent, 3, sign)}{Words.Narrow}% humidity"));
            if (row.Evaporation > 0)
                lines.Add(new NumberLine("Evaporation", $"{Value(row.Evaporation, "g")} in each delivery, added back"));
        }
        else
        {
            lines.Add(new NumberLine("Check weight", $"{Value(row.Setting, "g")} ±{Words.Narrow}{Value(row.WeightLimit, "g")}{(row.WeightClass.Length > 0 ? $", class {row.WeightClass} (OIML R 111-1, from memory)" : "")}"));
        }
        if (row.Tip.Length > 0)
            lines.Add(new NumberLine("Tip", row.Tip));
        if (row.Who.Length > 0)
            lines.Add(new NumberLine("By", row.Who));
        return lines;
    }

    private static List<string> Steps(GlasswareProofRow row, GlasswarePiece piece, Glassware? balance, DecimalSign sign)
    {
        var set = $"{NumberWords.Plain(row.Setting, 6, sign)}{Words.NoBreak}{Unit(piece)}";
        if (balance is null)
            return ["Set the balance level on a firm table and let it warm up for half an hour.", "Zero it. Put the weight in the middle, with tweezers or gloves.", "Read, take the weight off wholly, zero again.", $"Do so {Words.Count(row.Planned)} times."];
        var lead = new List<string> { "Let water, piece, vessel and balance stand in one room for two hours, out of draught and sun.", $"Use pure water. Its temperature is down as {NumberWords.Plain(row.TemperatureCelsius, 3, sign)}{Words.NoBreak}°C: measure it again in the water itself." };
        switch (piece.Kind)
        {
            case GlasswareKind.Flask or GlasswareKind.Cylinder:
                lead.Add($"Dry {piece.Name}, put it on {balance.Name} and tare.");
                lead.Add($"Fill it to {set}: the lower edge of the meniscus touches the mark, seen at eye level. No drops above the mark, none outside.");
                lead.Add("Weigh. Empty and dry it for the next filling.");
                break;
            default:
                lead.Add("Put some water into a narrow vessel with a lid, so that the air in it is moist.");
                lead.Add(piece.Kind == GlasswareKind.PistonPipette ? $"Set {set} as you always do. Wet the tip three to five times." : $"Rinse {piece.Name} with the water.");
                lead.Add(row.DeliveriesEach > 1
                    ? $"Tare the covered vessel. Deliver {set} {Words.Count(row.DeliveriesEach)} times into it, tip on the wall, then weigh once."
                    : $"Tare the covered vessel. Deliver {set}, tip on the wall, cover, and read after the same wait each time.");
                if (row.DeliveriesEach == 1)
                    lead.Add($"Do so {Words.Count(row.Planned)} times. Same hand, same pace; a new tip each time only if that is how you work.");
                break;
        }
        return lead;
    }

    private static List<string> Cautions(GlasswareProofRow row, GlasswarePiece piece, Glassware? balance, DecimalSign sign)
    {
        var cautions = new List<string>();
        if (balance is null)
        {
            cautions.Add("A weight of known class, never a coin. A balance proven at 100 g is not proven at 1 g; a small weight on top of a full vessel shows the difference that a delivery makes.");
            return cautions;
        }
        var reach = BalanceReach.Of(Trial(row, [], piece, balance), row.Planned);
        if (reach.Power == ProofPower.GrossFaultsOnly)
            cautions.Add(reach.Words(sign));
        if (row.Evaporation == 0 && row.Setting * row.DeliveriesEach < 0.5)
            cautions.Add("Water that evaporates counts as not delivered. Leave the vessel on the balance for the time of the series without a delivery, and write what it loses in each.");
        cautions.Add("Warm vessels look light, dry plastic pulls, a draught shifts milligrams.");
        return cautions;
    }

    private static string NextAct(GlasswareProofRow row, GlasswarePiece piece, DecimalSign sign)
    {
        var set = $"{NumberWords.Plain(row.Setting, 6, sign)}{Words.NoBreak}{Unit(piece)}";
        return piece.Kind switch
        {
            GlasswareKind.Balance => "Zero. Put the weight on. Read.",
            GlasswareKind.Flask or GlasswareKind.Cylinder => $"Tare the dry vessel. Fill to {set}. Weigh.",
            _ => row.DeliveriesEach > 1 ? $"Tare. Deliver {set} {Words.Count(row.DeliveriesEach)} times. Weigh once." : $"Tare. Deliver {set}. Cover. Weigh.",
        };
    }
}
