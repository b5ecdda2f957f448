using Knownwater.Checks;
using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>Says what to suspect of a check: causes in their order, what speaks for and against each, and which test would tell.</summary>
/// <remarks>The evidence is read from the records at the moment of asking; nothing is written.</remarks>
public sealed class DiagnoseCheck(RecordsContext records, Clock clock)
{
    private const double Least = 0.01;
    internal const int FewFaults = 2;

    /// <summary>Diagnoses the check.</summary>
    /// <param name="check">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>What to suspect; null where this bench has no check of that key, it is not closed, or no reading of it counts.</returns>
    public async Task<CheckDiagnosis?> Handle(Guid check, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var rows = (await CheckRows.Read(records, records.Checks.AsNoTracking().Where(c => c.Id == check && c.State == CheckState.Closed && c.Kind == null), cancel)).SingleOrDefault();
        if (rows is null || await new EvidenceReading(records, bench).Of(rows, cancel) is not { } evidence)
            return null;
        var found = Diagnosis.Of(evidence);
        var methods = await CheckReading.Methods(records, rows.Check.MethodId is { } m ? [m] : [], cancel);
        var (sign, form) = (bench.Sign, rows.Measured.Form);
        var ids = rows.Levels.Select(l => l.Row.ReferenceWaterId).OfType<Guid>().Distinct().ToList();
        var made = await records.ReferenceWaters.AsNoTracking().Where(w => ids.Contains(w.Id)).Select(w => new { w.Id, w.StockId, w.PreparationId }).ToListAsync(cancel);
        // the highest level shows most
        var water = rows.Levels.OrderByDescending(l => l.Known.Value).Select(l => made.FirstOrDefault(w => w.Id == l.Row.ReferenceWaterId)).FirstOrDefault(w => w is not null);
        return new CheckDiagnosis
        {
            Check = check,
            Title = CheckReading.Title(rows, methods),
            Sentence = CheckReading.Sentence(rows, sign),
            DayWords = Words.Day(bench.DayOf(rows.Check.StartedAt), bench.Today),
            Method = rows.Check.MethodId,
            Instrument = rows.Check.MethodId is { } id ? methods.GetValueOrDefault(id)?.InstrumentId : null,
            Water = water?.Id,
            Stock = water?.StockId,
            Preparation = water?.PreparationId,
            Earlier = evidence.Earlier.Count,
            Causes = [.. found.Causes.Where((c, i) => i == 0 || c.Probability >= Least).Select(c => new CauseLine(
                Title(c), c.Probability, DiagnosisWords.Percent(c.Probability, sign), DiagnosisWords.Size(c, form, sign),
                [.. c.Reasons.Where(r => r.IsFor).Select(r => DiagnosisWords.Say(r, c, form, sign))],
                [.. c.Reasons.Where(r => !r.IsFor).Select(r => DiagnosisWords.Say(r, c, form, sign))],
                [.. c.Faults.Select(f => new FaultLine(f.Fault, Words.Capital(DiagnosisWords.Name(f.Fault)), f.Probability, DiagnosisWords.Percent(f.Probability, sign)))]))],
            Others = found.Causes.Where((c, i) => i > 0 && c.Probability < Least).Sum(c => c.Probability) is > 0 and var rest ? DiagnosisWords.Percent(rest, sign) : "",
            Tests = [.. found.Tests.Select(t => new TestLine(t.Kind, DiagnosisWords.Say(t, sign)[0], [.. DiagnosisWords.Say(t, sign).Skip(1)]))],
        };
    }

    private static string Title(Cause cause) => cause.Faults.Count <= FewFaults ? DiagnosisWords.Say(cause) : $"{Words.Capital(VerdictWords.Count(cause.Faults.Count))} causes fit these readings alike; only a test parts them.";
}

/// <summary>What to suspect of a check.</summary>
public sealed record CheckDiagnosis
{
    /// <summary>The check.</summary>
    public required Guid Check { get; init; }

    /// <summary>“Nitrate on the harbour analyser”.</summary>
    public required string Title { get; init; }

    /// <summary>Its verdict in a sentence.</summary>
    public required string Sentence { get; init; }

    /// <summary>The day it was run.</summary>
    public required string DayWords { get; init; }

    /// <summary>Its method; null where none was said.</summary>
    public required Guid? Method { get; init; }

    /// <summary>Its instrument; null where none was said.</summary>
    public required Guid? Instrument { get; init; }

    /// <summary>Its strongest known water that is on the shelf; null where there is none.</summary>
    public required Guid? Water { get; init; }

    /// <summary>The stock behind that water; null where none was said.</summary>
    public required Guid? Stock { get; init; }

    /// <summary>The preparation of that water; null where it was not made here.</summary>
    public required Guid? Preparation { get; init; }

    /// <summary>How many earlier checks of the method were asked.</summary>
    public required int Earlier { get; init; }

    /// <summary>Causes, the most probable first; those below one percent are left out.</summary>
    public required IReadOnlyList<CauseLine> Causes { get; init; }

    /// <summary>What those left out have together, in words; empty where there are none.</summary>
    public required string Others { get; init; }

    /// <summary>Tests that would tell, the best for its time first.</summary>
    public required IReadOnlyList<TestLine> Tests { get; init; }
}

/// <summary>A cause as a page shows it.</summary>
/// <param name="Sentence">“The stock is off, or this lot of reagent has another strength.”; of many faults “Nine causes fit these readings alike; only a test parts them.”</param>
/// <param name="Probability">Its probability, 0 to 1.</param>
/// <param name="ProbabilityWords">“62 %”.</param>
/// <param name="Size">How large its effect would be; may be empty.</param>
/// <param name="For">What speaks for it, one sentence each.</param>
/// <param name="Against">What speaks against it, one sentence each.</param>
/// <param name="Faults">The faults that the readings cannot tell apart, the more probable first; at least one.</param>
public sealed record CauseLine(string Sentence, double Probability, string ProbabilityWords, string Size, IReadOnlyList<string> For, IReadOnlyList<string> Against, IReadOnlyList<FaultLine> Faults)
{
    /// <summary>The most probable of its faults.</summary>
    public Fault Leading => Faults[0].Fault;

    /// <summary>Whether it holds so many faults that its sentence does not name them.</summary>
    public bool IsCrowd => Faults.Count > DiagnoseCheck.FewFaults;
}

/// <summary>A fault as a page shows it.</summary>
/// <param name="Fault">Which.</param>
/// <param name="Name">“The stock is off”.</param>
/// <param name="Probability">Its probability, 0 to 1.</param>
/// <param name="ProbabilityWords">“17 %”.</param>
public sealed record FaultLine(Fault Fault, string Name, double Probability, string ProbabilityWords);

/// <summary>A test as a page shows it.</summary>
/// <param name="Kind">Which test.</param>
/// <param name="Sentence">What to do, and how long it takes.</param>
/// <param name="Outcomes">What each outcome would mean, one sentence each.</param>
public sealed record TestLine(TestKind Kind, string Sentence, IReadOnlyList<string> Outcomes);
