using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>Looks at what must hold before the first reading: computed where the records know it, asked where only the person does.</summary>
internal static class Guards
{
    /// <summary>What one guard finds, before what the person said of it.</summary>
    private sealed record Found(GuardKind Kind, GuardState State, string Sentence, string ToDo = "", string Tick = "", Guid? OtherMethod = null);

    /// <summary>All guards of a check on a method, in the order in which one sees to them.</summary>
    public static async Task<IReadOnlyList<GuardView>> Look(RecordsContext records, CheckRows rows, Method method, Instrument instrument, Procedure procedure, BenchSetting bench, CancellationToken cancel)
    {
        var said = (await records.CheckGuards.AsNoTracking().Where(g => g.CheckId == rows.Check.Id).ToListAsync(cancel)).ToDictionary(g => g.Kind);
        var ids = rows.Levels.Select(l => l.Row.ReferenceWaterId).OfType<Guid>().ToList();
        var waters = await records.ReferenceWaters.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().Where(w => ids.Contains(w.Id)).ToDictionaryAsync(w => w.Id, cancel);
        var levels = rows.Levels.Select(l => (Level: l, Water: l.Row.ReferenceWaterId is { } id ? waters.GetValueOrDefault(id) : null)).ToList();
        var levelIds = rows.Levels.Select(l => l.Row.Id).ToList();
        var drawn = await records.Draws.AsNoTracking().Where(d => d.CheckLevelId != null && levelIds.Contains(d.CheckLevelId.Value)).ToDictionaryAsync(d => d.CheckLevelId!.Value, d => d.Millilitres, cancel);
        var amount = await WaterReading.Amounts(records, [.. waters.Values], cancel);
        var others = await records.Methods.AsNoTracking().Where(m => m.InstrumentId == instrument.Id && m.Id != method.Id).ToListAsync(cancel);
        var lots = await CheckWriting.LotsInUse(records, method.Id, cancel);
        var emptied = await EmptiedSlots(records, method.Id, lots, cancel);
        var elsewhere = instrument.Kind == InstrumentKind.Analyser ? await PausedElsewhere(records, rows.Check.Id, instrument.Id, cancel) : null;
        Found[] found =
        [
            Dosing(rows.Check, instrument, elsewhere, bench), Matrices(rows, levels, method, instrument, others, bench), UseBy(levels, bench), Range(rows, levels, method, bench),
            Enough(rows, levels, method, procedure, amount, drawn, bench.Sign), Lots(lots, emptied, bench), Sample(method, bench.Sign), Temperature(rows.Check, bench.Sign), Replicates(rows),
        ];
        return [.. found.Select(f => With(f, said.GetValueOrDefault(f.Kind), rows.Check))];
    }

    /// <summary>“Two things need you, one stands in the way.”</summary>
    public static string Summary(IReadOnlyList<GuardView> guards)
    {
        int Count(GuardState state) => guards.Count(g => g.State == state);
        string Things(int n, string one, string many) => n == 0 ? "" : n == 1 ? $"one thing {one}" : $"{Words.Count(n)} things {many}";
        var parts = new[] { Things(Count(GuardState.InTheWay), "stands in the way", "stand in the way"), Things(Count(GuardState.NeedsYou), "needs you", "need you") }.Where(p => p.Length > 0).ToList();
        if (parts.Count > 0)
            return Words.Capital(string.Join(", ", parts)) + ".";
        return Count(GuardState.Overridden) == 0 ? "All holds." : "All is seen to; some of it only with a reason.";
    }

    /// <summary>What stood in the way of a check that was begun all the same, each with the reason.</summary>
    public static async Task<IReadOnlyList<NumberLine>> Overridden(RecordsContext records, Guid check, CancellationToken cancel) =>
        [.. (await records.CheckGuards.AsNoTracking().Where(g => g.CheckId == check && g.Reason != "").OrderBy(g => g.At).ToListAsync(cancel)).OrderBy(g => g.Kind).Select(g => new NumberLine(g.Fault, g.Reason))];

    private static GuardView With(Found found, CheckGuard? said, Check check)
    {
        var state = found.State;
        var reason = said?.Reason ?? "";
        if (reason.Length == 0 && found is { Kind: GuardKind.Lots, State: GuardState.InTheWay })
            reason = check.ExpiredLotReason;
        var confirmed = said is { Reason.Length: 0 };
        if (state == GuardState.NeedsYou && confirmed)
            state = GuardState.Holds;
        if (state == GuardState.InTheWay && reason.Length > 0)
            state = GuardState.Overridden;
        return new GuardView(found.Kind, state, StateWords(state), Name(found.Kind), found.Sentence, state == GuardState.Holds ? "" : found.ToDo, found.Tick, confirmed, state == GuardState.Overridden ? reason : "", found.OtherMethod);
    }

    /// <summary>A check of another method on the instrument for which dosing is paused still.</summary>
    private static Task<Check?> PausedElsewhere(RecordsContext records, Guid check, Guid instrument, CancellationToken cancel) =>
        (from other in records.Checks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking()
         where other.Id != check && other.DosingPausedAt != null && other.DosingResumedAt == null
         join method in records.Methods.IgnoreQueryFilters([RecordsContext.DeletedFilter]) on other.MethodId equals method.Id
         where method.InstrumentId == instrument
         orderby other.DosingPausedAt
         select other).FirstOrDefaultAsync(cancel);

    private static Found Dosing(Check check, Instrument instrument, Check? elsewhere, BenchSetting bench)
    {
        if (instrument.Kind != InstrumentKind.Analyser)
            return new Found(GuardKind.Dosing, GuardState.Holds, "No dosing listens to a hand kit.");
        if (check is { DosingPausedAt: { } paused, DosingResumedAt: null })
            return new Found(GuardKind.Dosing, GuardState.Holds, $"Paused since {Words.ShortMoment(bench.At(paused), bench.Today)}. You are reminded to let it listen again.");
        if (elsewhere is { DosingPausedAt: { } since })
            return new Found(GuardKind.Dosing, GuardState.Holds, $"Paused since {Words.ShortMoment(bench.At(since), bench.Today)}, for the check of {Words.Small(Measured.Of(elsewhere.ParameterKey, elsewhere.OtherName, elsewhere.Form).Name)}. You are reminded to let it listen again; not before this check is done too.");
        return new Found(GuardKind.Dosing, GuardState.NeedsYou, "Automatic dosing that listens to this analyser would take the known water for your tank. Dosing at a fixed rate may run on.",
            "Pause it, and alarms that act. The time is written down.", "Nothing listens to this analyser");
    }

    private static Found Matrices(CheckRows rows, IReadOnlyList<(LevelRows Level, ReferenceWater? Water)> levels, Method method, Instrument instrument, IReadOnlyList<Method> others, BenchSetting bench)
    {
        var window = Window(method, bench.Sign);
        foreach (var (_, water) in levels)
        {
            if (water is null || PlanFields.Mismatch(water.Matrix, water.Salinity, method, bench.Sign) is null)
                continue;
            var what = Words.Small(rows.Measured.Name);
            if (water.Matrix == method.Matrix)
            {
                return new Found(GuardKind.Matrix, GuardState.InTheWay, $"{water.Label} has salinity {NumberWords.Plain(water.Salinity!.Value, 4, bench.Sign)}; the method is for {window}. Salt changes colour, blank and density, so the reading would be judged against another water than it is meant for.",
                    "Take known water of the method’s salinity.");
            }
            var fits = others.FirstOrDefault(m => m.Matrix == water.Matrix && rows.Measured.IsSameAs(m.ParameterKey, m.OtherName));
            return new Found(GuardKind.Matrix, GuardState.InTheWay,
                $"{water.Label} is {In(water.Matrix!.Value)}, but this method is for {In(method.Matrix)}. Where the reagents for {what} differ between the two, it reads wrong whatever the water holds.",
                fits is not null ? $"{Words.Capital(instrument.Name)} has a method for {what} in {In(fits.Matrix)}: start the check on that one." : $"Take known water in {In(method.Matrix)}, or add the method for {In(water.Matrix.Value)} to {instrument.Name}.",
                OtherMethod: fits?.Id);
        }
        var unknown = levels.Where(l => l.Water?.Matrix is null || (l.Water is { Matrix: Matrix.Seawater, Salinity: null } && (method.SalinityLow ?? method.SalinityHigh) is not null)).ToList();
        if (unknown.Count > 0)
            return new Found(GuardKind.Matrix, GuardState.NeedsYou, $"The method is for {window}. What {Which(unknown)} is made of is not noted in full.", "Look at the label. A method for the other kind of water has other reagents and reads wrong.", $"The known water is {window}");
        var names = Words.List([.. levels.Select(l => $"{l.Water!.Label} is {Words.Water(l.Water.Matrix, l.Water.Salinity, bench.Sign)}").Distinct()]);
        return new Found(GuardKind.Matrix, GuardState.Holds, $"{names}; the method is for {window}.");
    }

    /// <summary>The levels whose water is not of the method’s kind.</summary>
    public static async Task<IReadOnlyList<LevelRows>> Mismatched(RecordsContext records, CheckRows rows, Method method, BenchSetting bench, CancellationToken cancel)
    {
        var ids = rows.Levels.Select(l => l.Row.ReferenceWaterId).OfType<Guid>().ToList();
        var waters = await records.ReferenceWaters.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().Where(w => ids.Contains(w.Id)).ToDictionaryAsync(w => w.Id, cancel);
        return [.. rows.Levels.Where(l => l.Row.ReferenceWaterId is { } id && waters.GetValueOrDefault(id) is { } w && PlanFields.Mismatch(w.Matrix, w.Salinity, method, bench.Sign) is not null)];
    }

    private static Found UseBy(IReadOnlyList<(LevelRows Level, ReferenceWater? Water)> levels, BenchSetting bench)
    {
        foreach (var (_, water) in levels)
        {
            if (water is { Deleted: true })
                return new Found(GuardKind.UseBy, GuardState.InTheWay, $"{water.Label} was taken off the shelf{(water.DeletedReason.Length > 0 ? $": {water.DeletedReason.TrimEnd('.')}" : "")}.", "Take another known water.");
        }
        foreach (var (level, water) in levels)
        {
            if (water is not null && WaterAgeing.IsPast(water, level.Known.Value, bench))
                return new Found(GuardKind.UseBy, GuardState.InTheWay, $"{water.Label} is past its date{(water.UseBy is { } last ? $", {Words.Day(last, bench.Today)}" : "")}. {WaterAgeing.Reason(water, level.Known.Value, bench.Sign)}", "Make it again, or take another bottle.");
        }
        var undated = levels.Where(l => l.Water?.UseBy is null).ToList();
        if (undated.Count > 0)
            return new Found(GuardKind.UseBy, GuardState.NeedsYou, $"The last day of {Which(undated)} is not noted. Old known water no longer holds what its label says.", "Look at the label.", "It is within its date");
        return new Found(GuardKind.UseBy, GuardState.Holds, $"{Words.List([.. levels.Select(l => $"{l.Water!.Label} is good until {Words.Day(l.Water.UseBy!.Value, bench.Today)}").Distinct()])}.");
    }

    private static Found Range(CheckRows rows, List<(LevelRows Level, ReferenceWater? Water)> levels, Method method, BenchSetting bench)
    {
        string Amount(double value) => $"{NumberWords.Plain(value, 5, bench.Sign)}{Words.NoBreak}{rows.Measured.Form.UnitDisplay}";
        foreach (var (level, _) in levels)
        {
            if (level.Known.Value > method.RangeHigh)
                return new Found(GuardKind.Range, GuardState.InTheWay, $"The known value, {Amount(level.Known.Value)}, lies above what the method shows: up to {Amount(method.RangeHigh.Value)}.", "Take weaker known water.");
            if (level.Known.Value < method.RangeLow)
                return new Found(GuardKind.Range, GuardState.InTheWay, $"The known value, {Amount(level.Known.Value)}, lies below what the method shows: from {Amount(method.RangeLow.Value)}.", "Take stronger known water. A blank that the display cuts off is typed as “<”.");
        }
        var values = Words.List([.. levels.Select(l => Amount(l.Level.Known.Value))]);
        if (method.RangeHigh is not { } high)
            return new Found(GuardKind.Range, GuardState.NeedsYou, $"How far the method shows is not noted. The known value is {values}.", "Look into the instrument’s papers; noted with the method, it is not asked again.", $"The method shows {values}");
        return new Found(GuardKind.Range, GuardState.Holds, $"{values} {(levels.Count == 1 ? "lies" : "lie")} within {(method.RangeLow is { } low ? NumberWords.Plain(low, 5, bench.Sign) : "0")} to {Amount(high)}.");
    }

    /// <summary>What the readings that are still to come take of each bottle: the sample and the rinses of each.</summary>
    private static Found Enough(CheckRows rows, IReadOnlyList<(LevelRows Level, ReferenceWater? Water)> levels, Method method, Procedure procedure, Func<ReferenceWater, BottleAmount> amount, Dictionary<Guid, double> drawn, DecimalSign sign)
    {
        string Ml(double value) => $"{NumberWords.Plain(value, 3, sign)}{Words.NoBreak}mL";
        int Rinses(bool first) => procedure.StepsOfReplicate(first).Count(s => s.Kind == ProcedureStepKind.Pour);
        var (sample, said, unknown) = (method.SampleVolumeMillilitres ?? 0, new List<string>(), new List<string>());
        // a bottle that several levels are poured from counts once; a water that is not on the shelf for itself
        foreach (var bottle in levels.GroupBy(l => l.Water is { } w ? w.BottleId ?? w.Id : l.Level.Row.Id))
        {
            var (readings, rinses, booked) = (0, 0, 0.0);
            foreach (var (level, _) in bottle)
            {
                var more = level.Planned - level.Replicates.Count + rows.ConditioningToGo(level);
                var begun = level.Replicates.Count + level.Conditioning.Count > 0;
                readings += more;
                // what was drawn for this check when it was started, less what is taken by now, is there still
                booked += drawn.TryGetValue(level.Row.Id, out var drew) ? Math.Max(0, drew - (sample * (level.Replicates.Count + level.Conditioning.Count))) : 0;
                rinses += more > 0 ? (begun ? Rinses(false) : Rinses(true)) + ((more - 1) * Rinses(false)) : 0;
            }
            var water = bottle.First().Water;
            var takes = (rinses * procedure.RinseMillilitres) + (readings * sample);
            var parts = new[] { rinses > 0 ? $"{rinses} {(rinses == 1 ? "rinse" : "rinses")} of {Ml(procedure.RinseMillilitres)}" : "", sample > 0 ? $"{readings} {(readings == 1 ? "sample" : "samples")} of {Ml(sample)}" : "" }.Where(p => p.Length > 0).ToList();
            if (takes == 0)
                continue;
            var sentence = $"This check takes about {Ml(takes)} of {water?.Label ?? "the known water"}: {Words.List(parts)}";
            if (water is null || amount(water) is not { Whole: { } all } there)
            {
                said.Add($"{sentence}; how much there is, is not noted.");
                unknown.Add($"{Ml(takes)} of {water?.Label ?? "the known water"}");
                continue;
            }
            var left = Math.Max(0, all - there.Used + booked);
            if (takes > left * (1 + 1e-9))
                return new Found(GuardKind.Amount, GuardState.InTheWay, $"{sentence}; by the records about {Ml(left)} is left.", "Make more, or take another bottle. Do not save on rinses: their volume is not critical, their number is.");
            said.Add($"{sentence}; by the records about {Ml(left)} is left.");
        }
        if (unknown.Count > 0)
            return new Found(GuardKind.Amount, GuardState.NeedsYou, string.Join(' ', said), "Look at the bottle.", $"There is {Words.List(unknown)}");
        return new Found(GuardKind.Amount, GuardState.Holds, said.Count > 0 ? string.Join(' ', said) : "The readings are all in.");
    }

    /// <summary>Reagents whose last lot was emptied, none being open since, each with that lot.</summary>
    private static async Task<IReadOnlyList<Lot>> EmptiedSlots(RecordsContext records, Guid method, IReadOnlyList<Lot> open, CancellationToken cancel)
    {
        var used = await (from use in records.MethodLots.AsNoTracking()
                          where use.MethodId == method
                          join lot in records.Lots on use.LotId equals lot.Id
                          where lot.EmptiedOn != null && lot.Reagent != ""
                          select lot).ToListAsync(cancel);
        return [.. used.Where(l => !open.Any(o => string.Equals(o.Reagent, l.Reagent, StringComparison.OrdinalIgnoreCase))).GroupBy(l => l.Reagent, StringComparer.OrdinalIgnoreCase).Select(g => g.MaxBy(l => l.EmptiedOn)!).OrderBy(l => l.Reagent, StringComparer.Ordinal)];
    }

    private static Found Lots(List<Lot> lots, IReadOnlyList<Lot> emptied, BenchSetting bench)
    {
        if (emptied.Count > 0)
            return new Found(GuardKind.Lots, GuardState.InTheWay, $"No lot of {emptied[0].Reagent} is open: lot {emptied[0].Name} was emptied on {Words.Day(emptied[0].EmptiedOn!.Value, bench.Today)}.", "Open one, and note it with the instrument.");
        if (lots.Count == 0)
            return new Found(GuardKind.Lots, GuardState.NeedsYou, "No lot of reagent is noted for this method. An old reagent changes how it reads, and a lot that is not noted cannot be found as the cause.", "Look at the bottles; noted with the instrument, they are not asked for again.", "The reagents are open, shaken and in date");
        if (lots.FirstOrDefault(l => l.ExpiresOn < bench.Today) is { } expired)
            return new Found(GuardKind.Lots, GuardState.InTheWay, $"{Words.Capital(Named(expired))} is past its date, {Words.Day(expired.ExpiresOn!.Value, bench.Today)}. A check of it says little of the next one.", "Open a fresh one.");
        var names = Words.Capital($"{Words.List([.. lots.Select(l => $"{Named(l)}, opened {Words.Day(l.OpenedOn, bench.Today)}{(l.ExpiresOn is { } until ? $", good until {Words.Day(until, bench.Today)}" : ", no last day noted")}")])}.");
        return lots.Any(l => l.ExpiresOn is null)
            ? new Found(GuardKind.Lots, GuardState.NeedsYou, names, "Look at the bottle whose last day is not noted; noted with the lot, it is not asked for again.", "It is in date")
            : new Found(GuardKind.Lots, GuardState.Holds, names);
    }

    private static string Named(Lot lot) => $"lot {lot.Name}{(lot.Reagent.Length > 0 ? $" of {lot.Reagent}" : "")}";

    private static Found Sample(Method method, DecimalSign sign)
    {
        if (method.SampleVolumeMillilitres is not { } volume)
            return new Found(GuardKind.SampleVolume, GuardState.InTheWay, "How much sample the method takes is not noted. By hand it must be exact: a titration takes an error of it in full.", "Look into the instrument’s papers and write it here; it is kept with the method.");
        string Ml(double value) => $"{NumberWords.Plain(value, 6, sign)}{Words.NoBreak}mL";
        string Percent(double value) => $"{NumberWords.Plain(value, 2, sign)}{Words.Narrow}%";
        string Colour(double reagent) => Percent(SampleVolume.PhotometricSensitivity(Volume.FromMillilitres(volume), Volume.FromMillilitres(reagent)));
        var titrated = $"{Ml(volume)}, exactly, by pipette. An error of {Percent(1)} in it is {Percent(1)} of the reading in a titration";
        return new Found(GuardKind.SampleVolume, GuardState.Holds, method.Scale == ReadingScale.Drops
            ? titrated + ", and drops are one."
            : titrated + $". A colour takes the share that the reagents have in the mixture: {Colour(volume / 10)} with {Ml(volume / 10)} of them, {Colour(volume)} with {Ml(volume)}.");
    }

    private static Found Temperature(Check check, DecimalSign sign)
    {
        if (check.TemperatureCelsius is { } celsius)
            return new Found(GuardKind.Temperature, GuardState.Holds, $"All stand at {NumberWords.Plain(celsius, 3, sign)}{Words.NoBreak}°C.");
        return new Found(GuardKind.Temperature, GuardState.NeedsYou, $"Colours come slower in the cold, many by 5 to 10{Words.Narrow}% a degree before they are complete (common practice).",
            $"Let known water, reagents and instrument stand at one room temperature, 20 to 25{Words.NoBreak}°C: 30 to 60 minutes for what was in the fridge (common practice). Tick it, or type the temperature.", "They have stood together long enough");
    }

    private static Found Replicates(CheckRows rows)
    {
        var counts = rows.Levels.Select(l => l.Planned).Distinct().ToList();
        var number = counts.Count == 1 ? $"{Words.Capital(CheckWriting.Readings(counts[0]))}{(rows.Levels.Count > 1 ? " at each level" : "")}" : $"{Words.Capital(Words.List([.. rows.Levels.Select(l => $"{CheckWriting.Readings(l.Planned)} at level {l.Row.Ordinal}")]))}";
        var one = counts.Contains(1) ? " A single one can raise an alarm, but says nothing of its scatter." : "";
        return new Found(GuardKind.Replicates, GuardState.Holds, $"{number}. The number stands once the first reading is in.{one}");
    }

    private static string Window(Method method, DecimalSign sign)
    {
        string S(double value) => NumberWords.Plain(value, 4, sign);
        return In(method.Matrix) + (method.SalinityLow, method.SalinityHigh) switch
        {
            ({ } low, { } high) => $" of salinity {S(low)} to {S(high)}",
            ({ } low, null) => $" of salinity {S(low)} upward",
            (null, { } high) => $" of salinity up to {S(high)}",
            _ => "",
        };
    }

    private static string In(Matrix matrix) => matrix == Matrix.FreshWater ? "fresh water" : "seawater";

    private static string Which(IReadOnlyList<(LevelRows Level, ReferenceWater? Water)> levels) =>
        Words.List([.. levels.Select(l => l.Water?.Label ?? "the known water").Distinct()]);

    private static string StateWords(GuardState state) => state switch
    {
        GuardState.NeedsYou => "needs you",
        GuardState.InTheWay => "stands in the way",
        GuardState.Overridden => "you go on all the same",
        _ => "holds",
    };

    private static string Name(GuardKind kind) => kind switch
    {
        GuardKind.Dosing => "Automatic dosing",
        GuardKind.Matrix => "Kind of water",
        GuardKind.UseBy => "Date of the known water",
        GuardKind.Range => "Range of the method",
        GuardKind.Amount => "Enough known water",
        GuardKind.Lots => "Reagents",
        GuardKind.SampleVolume => "Sample volume",
        GuardKind.Temperature => "Temperature",
        _ => "Number of readings",
    };
}
