using Knownwater.Quantities;
using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Checks;

public sealed class StartCheckTests(PostgresCluster cluster)
{
    [Theory, ClassData(typeof(BothStores))]
    public async Task A_quick_verdict_needs_no_more_than_a_value_its_doubt_and_a_number(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var outcome = await bench.Start(new StartCheck.Command { Parameter = "nitrate", Levels = [new LevelEntry { Known = "10", Doubt = "0,2" }], Replicates = "5" });
        var view = (await bench.View(Assert.IsType<StartCheck.Outcome.Started>(outcome).Check))!;
        Assert.Equal("Nitrate", view.Title);
        Assert.Equal(CheckState.Open, view.State);
        Assert.False(view.Kept);
        var level = Assert.Single(view.Levels);
        Assert.Equal(5, level.Planned);
        Assert.Equal(10, level.Plan.Reference.Value);
        Assert.Equal(0.2 / Math.Sqrt(3), level.Plan.Reference.StandardUncertainty, 1e-12);
        Assert.Null(level.Judgement);
        // Reef: 1 mg/L NO3 + 10 %, common practice (parameters.csv).
        Assert.Equal(new Tolerance(1, 10), view.Tolerance);
        Assert.Contains("reef", view.ToleranceSource, StringComparison.Ordinal);
        Assert.Equal("Thursday 3\u00a0September 2026", view.StartedWords.Split(',')[0]);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Every_fault_of_the_form_is_told_at_once_beside_its_field(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var outcome = await bench.Start(Plans.Alkalinity with { Levels = [new LevelEntry { Known = "7,9o", Doubt = "" }], Replicates = "", ToleranceAbsolute = "-1", TolerancePercent = "" });
        var faults = Assert.IsType<StartCheck.Outcome.Refused>(outcome).Faults;
        Assert.Equal(["Levels[0].Doubt", "Levels[0].Known", "Replicates", "ToleranceAbsolute"], faults.Select(f => f.Field).Order(StringComparer.Ordinal));
        var known = faults.Single(f => f.Field == "Levels[0].Known");
        Assert.Contains("letter o", known.Sentence, StringComparison.Ordinal);
        Assert.Equal("7,90", Assert.Single(known.Offers).Value);
        Assert.Empty((await bench.Do<ListChecks, CheckList>(u => u.Handle(new ListChecks.Query(), default))).Items);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_negative_known_value_and_a_unit_of_the_wrong_kind_are_refused(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var negative = await bench.Start(Plans.Alkalinity with { Levels = [new LevelEntry { Known = "-1", Doubt = "0.1" }] });
        Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(negative).Faults, "Levels[0].Known");
        var wrong = await bench.Start(Plans.Alkalinity with { Parameter = "nitrate", Form = "dKH" });
        Assert.Contains("Nitrate", Words.Capital(Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(wrong).Faults, "Form").Sentence), StringComparison.OrdinalIgnoreCase);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Any_analyte_may_be_judged_by_its_formula(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var cadmium = new StartCheck.Command { Parameter = "other", OtherName = "Cadmium", Form = "ug/L Cd", Levels = [new LevelEntry { Known = "5", Doubt = "0.1" }], Replicates = "3", ToleranceAbsolute = "1" };
        var check = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(cadmium)).Check;
        Assert.Equal("Cadmium", (await bench.View(check))!.Title);
        var without = await bench.Start(cadmium with { ToleranceAbsolute = "" });
        Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(without).Faults, "ToleranceAbsolute");
    }

    // Usual tolerances of nitrate, common practice: reef 1 mg/L NO3 + 10 %, fresh water 2 mg/L NO3 + 10 %
    [Theory, ClassData(typeof(BothStores))]
    public async Task Usual_tolerance_is_that_of_the_methods_own_water(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, _) = await bench.Analyser();
        foreach (var (matrix, absolute) in new[] { (Matrix.Seawater, 1.0), (Matrix.FreshWater, 2.0) })
        {
            var added = await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(new AddMethod.Command { Instrument = instrument, Parameter = "nitrate", Matrix = matrix }, TestContext.Current.CancellationToken));
            var method = Assert.IsType<AddMethod.Outcome.Added>(added).Method;
            var started = await bench.Start(new StartCheck.Command { Parameter = "nitrate", Method = method, Levels = [new LevelEntry { Known = "10", Doubt = "0.2" }], Replicates = "3" });
            var view = await bench.View(Assert.IsType<StartCheck.Outcome.Started>(started).Check);
            Assert.Equal(new Tolerance(absolute, 10), view!.Tolerance);
        }
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Water_of_the_other_matrix_than_the_methods_is_refused(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var fresh = await bench.Water(Plans.AlkalinityWater with { Label = "KW-7", Matrix = Matrix.FreshWater, Salinity = "" });
        var outcome = await bench.Start(Plans.Alkalinity with { Method = method, Levels = [new LevelEntry { ReferenceWater = fresh }] });
        Assert.Equal("This water is fresh, the method is for seawater. Choose another water, or another method.",
            Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(outcome).Faults, "Levels[0].ReferenceWater").Sentence);
        var brackish = await bench.Water(Plans.AlkalinityWater with { Label = "KW-8", Salinity = "20" });
        outcome = await bench.Start(Plans.Alkalinity with { Method = method, Levels = [new LevelEntry { ReferenceWater = brackish }] });
        Assert.StartsWith("This water has salinity 20, the method is for 30 to 38.", Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(outcome).Faults, "Levels[0].ReferenceWater").Sentence, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_lot_past_its_date_is_allowed_with_a_reason(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = "A-19", OpenedOn = "2026-05-01", ExpiresOn = "2026-08-31" }, default));
        var command = Plans.Alkalinity with { Method = method };
        var refused = Assert.IsType<StartCheck.Outcome.Refused>(await bench.Start(command));
        Assert.Equal("Past its date: lot A-19, good until 31\u00a0August. Open a fresh one, or say why you use it all the same.", Plans.Only(refused.Faults, "ExpiredLotReason").Sentence);
        var started = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(command with { ExpiredLotReason = "no other at hand" }));
        var view = (await bench.View(started.Check))!;
        Assert.Equal("no other at hand", view.ExpiredLotReason);
        Assert.True(Assert.Single(view.Lots).Expired);
        Assert.True(view.Kept);
        Assert.Equal("Alkalinity on the harbour analyser", view.Title);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task One_reading_is_refused_until_the_method_has_its_own_history_at_that_level(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var single = Plans.Alkalinity with { Method = method, Replicates = "1" };
        Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(await bench.Start(single)).Faults, "Replicates");
        await bench.Alkalinity(Plans.Right, method: method);
        await bench.Alkalinity(["7.9", "8.0", "7.8", "7.9", "8.0"], method: method);
        var started = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(single));
        var prior = (await bench.View(started.Check))!.Levels[0].Plan.Prior!;
        Assert.False(prior.IsTypical);
        Assert.Equal(8, prior.Dof);
        // Two checks of five: s² = 0.02/4 and 0.028/4, pooled over 8 degrees of freedom.
        Assert.Equal(Math.Sqrt((0.02 + 0.028) / 8), prior.Value, 1e-9);
        // At another level the history does not count.
        Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(await bench.Start(single with { Levels = [new LevelEntry { Known = "12", Doubt = "0.1" }] })).Faults, "Replicates");
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_level_beyond_the_range_of_the_method_is_refused(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var outcome = await bench.Start(Plans.Alkalinity with { Method = method, Levels = [new LevelEntry { Known = "16", Doubt = "0.1" }] });
        Assert.Contains("up to 15", Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(outcome).Faults, "Levels[0].Known").Sentence, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_repeated_request_gets_the_first_answer_and_writes_nothing(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var command = Plans.Alkalinity with { RequestId = Guid.NewGuid() };
        var first = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(command));
        var second = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(command with { Replicates = "7" }));
        Assert.Equal(first, second);
        Assert.Equal(1, (await bench.Do<ListChecks, CheckList>(u => u.Handle(new ListChecks.Query(), default))).Total);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Ten_requests_with_one_key_at_once_start_one_check(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var command = Plans.Alkalinity with { RequestId = Guid.NewGuid() };
        var outcomes = await Task.WhenAll(Enumerable.Range(0, 10).Select(_ => Task.Run(() => bench.Start(command))));
        Assert.Single(outcomes.Distinct());
        Assert.Equal(1, (await bench.Do<ListChecks, CheckList>(u => u.Handle(new ListChecks.Query(), default))).Total);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_check_keeps_the_ancestry_of_its_known_water(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var water = await bench.Water(Plans.AlkalinityWater with { DoubtKind = DoubtMeaning.Expanded });
        var levels = new[] { new LevelEntry { ReferenceWater = water }, new LevelEntry { ReferenceWater = water } };
        var started = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(Plans.Alkalinity with { Levels = levels }));
        var view = (await bench.View(started.Check))!;
        var (a, b) = (view.Levels[0].Plan.Reference, view.Levels[1].Plan.Reference);
        Assert.Equal(0.04, a.StandardUncertainty, 1e-15);
        // Both levels hang on one source: the difference of the two known values is exactly certain.
        Assert.Equal(0, (a - b).StandardUncertainty);
        Assert.Contains("26-0417", Assert.Single(a.Contributions).Source.Name, StringComparison.Ordinal);
        Assert.Equal("certificate 26-0417", view.Levels[0].Water!.OriginWords);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Changing_the_number_is_refused_after_the_first_reading_and_says_why(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity();
        Task<ChangePlannedReplicates.Outcome> Change(string n) => bench.Do<ChangePlannedReplicates, ChangePlannedReplicates.Outcome>(u => u.Handle(new ChangePlannedReplicates.Command { Check = check, Replicates = n }, default));
        Assert.IsType<ChangePlannedReplicates.Outcome.Changed>(await Change("3"));
        Assert.Equal(3, (await bench.View(check))!.Levels[0].Planned);
        await bench.Keep(check, "8.6");
        var refused = Assert.IsType<ChangePlannedReplicates.Outcome.Refused>(await Change("9"));
        Assert.StartsWith("The number of readings stands once the first reading is in", Plans.Only(refused.Faults, "Replicates").Sentence, StringComparison.Ordinal);
        Assert.Equal(3, (await bench.View(check))!.Levels[0].Planned);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Planning_recommends_a_number_with_its_reason_or_names_the_limit(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var command = new PlanReplicates.Command { Parameter = "alkalinity", Form = "dKH", Known = "7,90", Doubt = "0,08", ToleranceAbsolute = "0,3", TolerancePercent = "2", MinutesPerReading = "12", Resolution = "0,1", UseTypicalScatter = true };
        var planned = Assert.IsType<PlanReplicates.Outcome.Planned>(await bench.Do<PlanReplicates, PlanReplicates.Outcome>(u => u.Handle(command, default))).Advice;
        Assert.NotNull(planned.Recommended);
        Assert.Contains("nine times in ten", planned.Reason, StringComparison.Ordinal);
        Assert.Contains("typical, not yours", planned.ScatterWords, StringComparison.Ordinal);
        Assert.Equal(0.458, planned.Tolerance, 1e-12);
        Assert.Contains(planned.Choices, c => c.N == planned.Recommended && c.PowerRight >= 0.9 && c.PowerWrong >= 0.9);
        Assert.Equal(planned.Recommended * 12, planned.Choices.Single(c => c.N == planned.Recommended).Minutes);

        var vague = Assert.IsType<PlanReplicates.Outcome.Planned>(await bench.Do<PlanReplicates, PlanReplicates.Outcome>(u => u.Handle(command with { Doubt = "0,9" }, default))).Advice;
        Assert.True(vague.LimitedByReference);
        Assert.Null(vague.Recommended);
        Assert.StartsWith("The known water is the limit", vague.Reason, StringComparison.Ordinal);
    }
}
