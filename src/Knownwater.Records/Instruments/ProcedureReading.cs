using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Instruments;

/// <summary>Reads the procedure of an instrument: its own where it has one, else the one that comes with the program.</summary>
internal static class ProcedureReading
{
    /// <summary>The version of the procedure that comes with the program.</summary>
    public const int Shipped = 0;

    /// <summary>How many times as strong as the known water the former sample of the table is.</summary>
    private const double Stronger = 10;

    /// <summary>The version that stands, or the one asked for even if it was undone; null where there is none.</summary>
    public static async Task<(Procedure Procedure, int Number)?> Read(RecordsContext records, Guid instrument, InstrumentKind kind, int? number, CancellationToken cancel)
    {
        var row = number switch
        {
            null => await records.Procedures.AsNoTracking().Where(p => p.InstrumentId == instrument).OrderByDescending(p => p.Number).FirstOrDefaultAsync(cancel),
            > 0 => await records.Procedures.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().FirstOrDefaultAsync(p => p.InstrumentId == instrument && p.Number == number, cancel),
            _ => null,
        };
        if (row is not null)
            return (Of(row), row.Number);
        return number is null or Shipped && Procedure.Shipped(kind) is { } ours ? (ours, Shipped) : null;
    }

    /// <summary>The procedure of a row.</summary>
    public static Procedure Of(ProcedureRow row)
    {
        var (procedure, faults) = ProcedureDocument.Read(row.Document);
        return procedure ?? throw new InvalidOperationException($"Version {row.Number} of the procedure of instrument {row.InstrumentId} cannot be read: {string.Join(" ", faults.Select(f => $"{f.Field}: {f.Sentence}"))}");
    }

    /// <summary>A version as a page shows it.</summary>
    public static async Task<ProcedureView?> View(RecordsContext records, Instrument instrument, int? number, BenchSetting bench, CancellationToken cancel)
    {
        if (await Read(records, instrument.Id, instrument.Kind, number, cancel) is not var (procedure, version))
            return Procedure.Shipped(instrument.Kind) is null ? new ProcedureView(instrument.Id, instrument.Name, instrument.Kind, null, Shipped, false, "", "", "", "", [], [], [], []) : null;
        var rows = await records.Procedures.AsNoTracking().Where(p => p.InstrumentId == instrument.Id).OrderByDescending(p => p.Number).ToListAsync(cancel);
        var standing = rows.Count > 0 ? rows[0].Number : Shipped;
        var versions = rows.Select(r => new ProcedureVersionLine(r.Number, $"{Words.ShortMoment(bench.At(r.At), bench.Today)}{(r.Who.Length > 0 ? $", {r.Who}" : "")}: {r.Change}", r.Number == standing)).ToList();
        if (Procedure.Shipped(instrument.Kind) is not null)
            versions.Add(new ProcedureVersionLine(Shipped, "as it comes with the program", standing == Shipped));
        var samples = await records.Methods.AsNoTracking().Where(m => m.InstrumentId == instrument.Id && m.SampleVolumeMillilitres != null).Select(m => m.SampleVolumeMillilitres!.Value).Distinct().ToListAsync(cancel);
        return new ProcedureView(
            instrument.Id, instrument.Name, instrument.Kind, procedure, version, version == standing, version == Shipped ? "as it comes with the program" : $"version {version}",
            NumberWords.Plain(procedure.ResidualMillilitres, 6, bench.Sign) + " mL", NumberWords.Plain(procedure.RinseMillilitres, 6, bench.Sign) + " mL", ProcedureDocument.Write(procedure), Shown(procedure, bench.Sign), Figures(procedure, bench.Sign), Tables(procedure, samples, bench.Sign), versions);
    }

    /// <summary>The steps with their blanks filled by words that hold for every check.</summary>
    private static List<ProcedureStepView> Shown(Procedure procedure, DecimalSign sign)
    {
        var blanks = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["method"] = "what is checked", ["sample"] = "the method’s sample volume", ["rinse"] = Ml(procedure.RinseMillilitres, sign),
            ["water"] = "the known water", ["known"] = "its label says its value", ["level"] = "1", ["replicate"] = "1", ["of"] = "as many as planned",
        };
        string Said(string? text) => Procedure.Fill(text, blanks) ?? "";
        return [.. procedure.Steps.Select(s => new ProcedureStepView(s, Said(s.Cue), Said(s.Act), Said(s.Why), Said(s.Caution), Time(s), s.Seconds is { } seconds ? NumberWords.Plain(seconds / 60.0, 6, sign) : ""))];
    }

    private static string Time(ProcedureStep step)
    {
        var time = step.Seconds is { } s ? s % 60 == 0 ? $"{s / 60}{Words.NoBreak}min" : $"{s}{Words.NoBreak}s" : "";
        return (step.TakesReadingTime, time.Length > 0) switch
        {
            (true, true) => $"as long as a reading takes, else {time}",
            (true, false) => "as long as a reading takes",
            _ => time,
        };
    }

    /// <summary>What the procedure says of rinses.</summary>
    private static List<NumberLine> Figures(Procedure procedure, DecimalSign sign)
    {
        var (first, further) = (Rinses(procedure, true), Rinses(procedure, false));
        return
        [
            new("Stays behind when emptied", Ml(procedure.ResidualMillilitres, sign)),
            new("A rinse", Ml(procedure.RinseMillilitres, sign)),
            new("Rinses", first == further ? $"{first} before each reading" : $"{first} where the water changes, {further} between readings"),
        ];
    }

    /// <summary>What is left of former water for each number of rinses, a table for each sample volume of the instrument’s methods.</summary>
    private static List<RinseTable> Tables(Procedure procedure, IReadOnlyList<double> samples, DecimalSign sign)
    {
        if (procedure.ResidualMillilitres == 0)
            return [];
        var (first, further) = (Rinses(procedure, true), Rinses(procedure, false));
        RinseLine Line(int rinses, double sample)
        {
            var left = new RinseResidue(Volume.FromMillilitres(procedure.ResidualMillilitres), Volume.FromMillilitres(sample), Volume.FromMillilitres(procedure.RinseMillilitres), rinses);
            return new RinseLine(rinses, rinses == first, rinses == further, Percent(left.ShareBeforeFill, sign), Percent(left.ShareAfterFill, sign), $"{Percent(left.CarryOver(Stronger, 1), sign)} high");
        }
        return [.. samples.Order().Select(s => new RinseTable(Ml(s, sign), [.. Enumerable.Range(0, Math.Max(2, first) + 1).Select(n => Line(n, s))]))];
    }

    private static int Rinses(Procedure procedure, bool first) => procedure.StepsOfReplicate(first).Count(s => s.Kind == ProcedureStepKind.Pour);

    private static string Percent(double share, DecimalSign sign) => $"{NumberWords.Plain(100 * share, 2, sign)}{Words.Narrow}%";

    private static string Ml(double value, DecimalSign sign) => $"{NumberWords.Plain(value, 6, sign)}{Words.NoBreak}mL";
}
