using System.Globalization;
using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Drift;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Records.Tanks;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Demo;

/// <summary>Fills an empty store with the invented records of a harbour school: eighteen months of checks with faults planted in them.</summary>
/// <remarks>
/// Everything goes through the use cases that a person's hand goes through, at the time that the scenario says. The same seed gives the
/// same readings; each act carries a key of its own, so that a load that was cut off is completed by loading again.
/// </remarks>
public sealed class LoadDemo(RecordsStore store)
{
    /// <summary>What the readings are drawn from; the demo's own where nothing is said.</summary>
    public int Seed { get; init; } = Scenario.Seed;

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The store holds the demo.</summary>
        /// <param name="Counts">How many of each there are.</param>
        public sealed record Loaded(IReadOnlyDictionary<string, int> Counts) : Outcome;

        /// <summary>The store holds records of somebody; nothing was written.</summary>
        /// <param name="Sentence">Why, and what to do.</param>
        public sealed record Refused(string Sentence) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="progress">Told the share done, from 0 to 1; may be null.</param>
    /// <param name="cancel">Cancels the load; what was done stays and is completed next time.</param>
    /// <returns>How it ended.</returns>
    public async Task<Outcome> Handle(IProgress<double>? progress, CancellationToken cancel)
    {
        NodaTime.Instant madeAt;
        await using (var records = store.NewContext())
        {
            var bench = await records.Benches.SingleAsync(b => b.Id == records.BenchId, cancel);
            if (!bench.IsInvented)
            {
                if (await records.Instruments.AnyAsync(cancel) || await records.Checks.AnyAsync(cancel) || await records.ReferenceWaters.AnyAsync(cancel))
                    return new Outcome.Refused($"The records in {store.Name} are somebody's own, and invented ones must not mix with them. Load the demo into a file of its own, as in --records demo.db.");
                bench.IsInvented = true;
                bench.Name = Scenario.Bench;
                bench.MainUse = MainUse.Reef;
                bench.DecimalSign = DecimalSign.Point;
                await records.SaveChangesAsync(cancel);
            }
            madeAt = bench.MadeAt;
        }

        var load = new Load(store, madeAt, Seed, cancel);
        await load.Instruments();
        await load.Checks(progress);
        await load.Tanks();
        await using (var records = store.NewContext())
        {
            // reckoned now, so that the first page need not
            await KeptCourse.Read(records, await BenchSetting.Read(records, store.Clock.Now, cancel), cancel);
        }
        return new Outcome.Loaded(await Counts(cancel));
    }

    private async Task<Dictionary<string, int>> Counts(CancellationToken cancel)
    {
        await using var records = store.NewContext();
        return new(StringComparer.Ordinal)
        {
            ["instruments"] = await records.Instruments.CountAsync(cancel),
            ["methods"] = await records.Methods.CountAsync(cancel),
            ["lots"] = await records.Lots.CountAsync(cancel),
            ["reference_waters"] = await records.ReferenceWaters.CountAsync(cancel),
            ["checks"] = await records.Checks.CountAsync(cancel),
            ["readings"] = await records.Replicates.CountAsync(cancel),
            ["tanks"] = await records.Tanks.CountAsync(cancel),
            ["tank_readings"] = await records.TankReadings.CountAsync(cancel),
            ["doses"] = await records.Doses.CountAsync(cancel),
        };
    }

    /// <summary>The time that the scenario says.</summary>
    private sealed class Told : TimeProvider
    {
        public DateTimeOffset Now { get; set; }

        public override DateTimeOffset GetUtcNow() => Now;
    }

    private sealed class Load
    {
        private readonly RecordsStore _store;
        private readonly CancellationToken _cancel;
        private readonly Told _time = new();
        private readonly Clock _clock;
        private readonly DateTimeOffset _start;
        private readonly Dictionary<string, Guid> _methods = new(StringComparer.Ordinal);
        private readonly int _seed;
        private int _acts, _tankActs;

        public Load(RecordsStore store, NodaTime.Instant end, int seed, CancellationToken cancel)
        {
            _store = store;
            _seed = seed;
            _cancel = cancel;
            _clock = new Clock(_time);
            _start = new DateTimeOffset(end.ToDateTimeUtc().Date, TimeSpan.Zero).AddDays(-Scenario.Days).AddHours(8.5);
        }

        /// <summary>The key of the next act: the same in every load of one scenario.</summary>
        private Guid Key() => new($"d0000000-0000-7000-8000-{++_acts:x12}");

        /// <summary>The same for the acts on tanks, which are counted by themselves.</summary>
        private Guid TankKey() => new($"d0000000-0000-7000-8001-{++_tankActs:x12}");

        private void At(double day) => _time.Now = _start.AddDays(day);

        private string Day(double day) => _start.AddDays(day).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

        public async Task Instruments()
        {
            At(0);
            foreach (var (name, kind, note) in Scenario.Instruments)
            {
                var added = await Act<AddInstrument.Outcome>(r => new AddInstrument(r, _clock).Handle(new() { Name = name, Kind = kind, Note = note, Who = "MJ", RequestId = Key() }, _cancel));
                var instrument = added is AddInstrument.Outcome.Added done ? done.Instrument : throw Stopped(added);
                foreach (var method in Scenario.Methods.Where(m => m.Instrument == name))
                    await Method(instrument, method);
            }
        }

        private async Task Method(Guid instrument, DemoMethod method)
        {
            var added = await Act<AddMethod.Outcome>(r => new AddMethod(r, _clock).Handle(new()
            {
                Instrument = instrument,
                Parameter = method.Parameter,
                Matrix = method.Matrix,
                SalinityLow = method.Matrix == Matrix.Seawater ? "30" : "",
                SalinityHigh = method.Matrix == Matrix.Seawater ? "37" : "",
                SampleVolume = method.SampleVolume,
                RangeLow = "0",
                RangeHigh = method.RangeHigh,
                Resolution = method.Shown(method.Step),
                MinutesPerReading = method.Minutes,
                Who = "MJ",
                RequestId = Key(),
            }, _cancel));
            _methods[method.Key] = added is AddMethod.Outcome.Added done ? done.Method : throw Stopped(added);
        }

        public async Task Checks(IProgress<double>? progress)
        {
            var random = new Xoshiro256StarStar(_seed);
            var events = Scenario.Methods.SelectMany(m => m.Lots.Select(l => (l.Day, Method: m, Lot: (DemoLot?)l)))
                .Concat(Scenario.Methods.SelectMany(m => m.CheckDays.Select(d => (Day: d, Method: m, Lot: (DemoLot?)null))))
                .OrderBy(e => e.Day).ThenBy(e => e.Lot is null).ThenBy(e => e.Method.Key, StringComparer.Ordinal).ToList();
            for (var i = 0; i < events.Count; i++)
            {
                var (day, method, lot) = events[i];
                if (lot is not null)
                    await Open(day, method, lot);
                else
                    await Check(day, method, random);
                progress?.Report((i + 1.0) / events.Count);
            }
        }

        private async Task Open(int day, DemoMethod method, DemoLot lot)
        {
            At(day);
            var opened = await Act<OpenLot.Outcome>(r => new OpenLot(r, _clock).Handle(new()
            {
                Methods = [_methods[method.Key]],
                Name = lot.Name,
                Reagent = method.Reagent,
                OpenedOn = Day(day),
                ExpiresOn = Day(day + Scenario.Days + 60),
                Who = "MJ",
                RequestId = Key(),
            }, _cancel));
            if (opened is OpenLot.Outcome.Refused)
                throw Stopped(opened);
        }

        private async Task Check(int day, DemoMethod method, Xoshiro256StarStar random)
        {
            At(day + 0.02 * (method.Key.Length % 7));
            var who = day % 3 == 0 ? "TO" : "MJ";
            var started = await Act<StartCheck.Outcome>(r => new StartCheck(r, _clock).Handle(new()
            {
                Parameter = method.Parameter,
                Method = _methods[method.Key],
                Levels = [.. method.Levels.Select(l => new LevelEntry { Known = method.Shown(l.Known), Doubt = l.Doubt, DoubtKind = DoubtMeaning.Expanded })],
                Replicates = method.Replicates.ToString(CultureInfo.InvariantCulture),
                ExtensionDeclared = method.Extends,
                AutomationPaused = true,
                Who = who,
                RequestId = Key(),
            }, _cancel));
            var check = started is StartCheck.Outcome.Started s ? s.Check : throw Stopped(started);

            for (var level = 0; level < method.Levels.Count; level++)
            {
                var (known, doubt) = method.Levels[level];
                // the water's own error, drawn once for the water of this check
                var truth = method.Holds(day, known + Normal.Sample(random, 0, double.Parse(doubt, CultureInfo.InvariantCulture) / 2));
                for (var n = 0; n < method.Replicates; n++)
                {
                    _time.Now = _time.Now.AddMinutes(double.Parse(method.Minutes, CultureInfo.InvariantCulture));
                    var shown = method.Rounded(method.Typed(day, method.Rounded(method.Reads(day, truth) + Normal.Sample(random, 0, method.Sd(known)))));
                    var kept = await Act<KeepReading.Outcome>(r => new KeepReading(r, _clock).Handle(new() { Check = check, Level = level + 1, Typed = method.Shown(shown), Confirmed = true, Who = who, RequestId = Key() }, _cancel));
                    if (kept is KeepReading.Outcome.Refused)
                        throw Stopped(kept);
                }
            }

            var described = await Act<DescribeCheck.Outcome>(r => new DescribeCheck(r, _clock).Handle(new()
            {
                Check = check,
                Method = _methods[method.Key],
                Matrix = method.Matrix,
                Salinity = method.Matrix == Matrix.Seawater ? "35" : "",
                Temperature = "24",
                Notes = method.NoteOn(day),
                Origins = [.. method.Levels.Select((l, i) => new LevelOrigin
                {
                    Level = i + 1,
                    Origin = method.Origin,
                    OriginDetail = method.OriginDetail,
                    Label = $"{method.Label}-{Day(day)}{(method.Levels.Count > 1 ? "-" + (i + 1).ToString(CultureInfo.InvariantCulture) : "")}",
                    MadeOn = Day(day),
                })],
                Who = who,
                RequestId = Key(),
            }, _cancel));
            if (described is DescribeCheck.Outcome.Refused)
                throw Stopped(described);
        }

        /// <summary>The tanks with what was read and dosed.</summary>
        public async Task Tanks()
        {
            At(0);
            var random = new Xoshiro256StarStar(_seed + 1);
            var tanks = new Dictionary<string, Guid>(StringComparer.Ordinal);
            foreach (var tank in Scenario.Tanks)
            {
                var added = await Act<AddTank.Outcome>(r => new AddTank(r, _clock).Handle(new() { Name = tank.Name, Kind = tank.Kind, Volume = tank.Volume, Salinity = tank.Salinity, Note = tank.Note, Who = "MJ", RequestId = TankKey() }, _cancel));
                tanks[tank.Name] = added is AddTank.Outcome.Added done ? done.Tank : throw Stopped(added);
            }
            // what is read of a tank on one day is entered in one go
            var visits = Scenario.TankReadings.SelectMany(series => series.Days.Select(day => (Day: day, series.Tank, Series: series))).GroupBy(r => (r.Day, r.Tank)).OrderBy(v => v.Key.Day).ThenBy(v => v.Key.Tank, StringComparer.Ordinal);
            foreach (var visit in visits)
            {
                var day = visit.Key.Day;
                At(day + 0.05);
                var entered = await Act<EnterReadings.Outcome>(r => new EnterReadings(r, _clock).Handle(new()
                {
                    Tank = tanks[visit.Key.Tank],
                    Lines = [.. visit.Select(v => Read(v.Series, day, random))],
                    Confirmed = true,
                    Who = day % 3 == 0 ? "TO" : "MJ",
                    RequestId = TankKey(),
                }, _cancel));
                if (entered is not EnterReadings.Outcome.Entered)
                    throw Stopped(entered);
            }
            foreach (var doses in Scenario.Doses)
            {
                foreach (var day in doses.Days)
                {
                    At(day + 0.1);
                    var recorded = await Act<RecordDose.Outcome>(r => new RecordDose(r, _clock).Handle(new()
                    {
                        Tank = tanks[doses.Tank],
                        What = doses.What,
                        Amount = doses.Amount,
                        Parameter = doses.Parameter,
                        IsAutomatic = true,
                        Who = "MJ",
                        RequestId = TankKey(),
                    }, _cancel));
                    if (recorded is RecordDose.Outcome.Refused)
                        throw Stopped(recorded);
                }
            }
            await ClearNitrate();
        }

        private ReadingEntry Read(DemoTankReadings series, int day, Xoshiro256StarStar random)
        {
            var method = Scenario.Methods.Single(m => m.Key == series.Method);
            var level = series.Level.On(day);
            return new ReadingEntry { Method = _methods[series.Method], Typed = method.Shown(method.Rounded(method.Reads(day, level) + Normal.Sample(random, 0, method.Sd(level)))) };
        }

        private async Task ClearNitrate()
        {
            At(Scenario.NitrateCleared);
            var (method, now) = (_methods["nitrate-sea"], _clock.Now);
            var failed = await Act(r => r.Checks.Where(c => c.MethodId == method && c.Verdict == Verdict.ReadsLow && c.StartedAt < now).OrderByDescending(c => c.StartedAt).Select(c => c.Id).FirstAsync(_cancel));
            var cleared = await Act<ClearDoubt.Outcome>(r => new ClearDoubt(r, _clock).Handle(new() { Check = failed, Everything = true, Reason = "lot N-13 read a quarter low; nothing was dosed on these", Who = "TO", RequestId = TankKey() }, _cancel));
            if (cleared is ClearDoubt.Outcome.Refused)
                throw Stopped(cleared);
        }

        private async Task<T> Act<T>(Func<RecordsContext, Task<T>> act)
        {
            _cancel.ThrowIfCancellationRequested();
            await using var records = _store.NewContext();
            return await act(records);
        }

        private static InvalidOperationException Stopped(object outcome)
        {
            var faults = outcome switch
            {
                AddInstrument.Outcome.Refused r => r.Faults,
                AddMethod.Outcome.Refused r => r.Faults,
                OpenLot.Outcome.Refused r => r.Faults,
                StartCheck.Outcome.Refused r => r.Faults,
                KeepReading.Outcome.Refused r => r.Faults,
                DescribeCheck.Outcome.Refused r => r.Faults,
                AddTank.Outcome.Refused r => r.Faults,
                EnterReadings.Outcome.Refused r => r.Faults,
                RecordDose.Outcome.Refused r => r.Faults,
                ClearDoubt.Outcome.Refused r => r.Faults,
                _ => [],
            };
            return new InvalidOperationException($"The demo does not fit the records: {string.Join(" ", faults.Select(f => $"{f.Field}: {f.Sentence}"))}");
        }
    }
}
