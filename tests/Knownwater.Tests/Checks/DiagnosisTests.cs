using System.Diagnostics;
using Knownwater.Checks;
using Knownwater.Quantities;

namespace Knownwater.Tests.Checks;

/// <summary>Textbook patterns, each made by its formula from the declared marks (docs/explanation/diagnosis-faults.md); readings differ by fixed small amounts within the usual scatter.</summary>
public class DiagnosisTests
{
    private static readonly double[] Known = [0, 2, 10];
    private static readonly double[] Noise = [0.4, -0.7, 0.3, -0.2, 0.6, -0.5, 0.1, -0.3, 0.5];
    private static readonly CheckCarriers Here = new() { Lot = "lot B", Stock = "stock 1", Preparation = "batch 9", Settings = "as set in May" };
    private static readonly ReportingForm Nitrate = ReportingForm.Parse("mg/L NO3");

    /// <summary>Three readings a level of what the effect makes of the known value, with scatter 0.05 at zero and 1 % more.</summary>
    private static CheckEvidence Check(Func<double, int, double> effect, double noise = 1, double unit = 1, double? age = null)
    {
        var order = 0;
        return new CheckEvidence
        {
            Levels =
            [
                .. Known.Select(c => new LevelEvidence
                {
                    Known = c * unit,
                    Readings = [.. Enumerable.Range(0, 3).Select(i => new Indication(unit * (effect(c, i) + noise * Sd(c) * Noise[order++])))],
                    Tolerance = unit * (0.15 + 0.03 * c),
                    UsualSd = Sd(c) * unit,
                    UsualSdDof = 30,
                    Resolution = 0.01 * unit,
                    StockU = 0.003 * c * unit,
                    PreparationU = 0.003 * c * unit,
                    AgeDays = age,
                }),
            ],
            Carriers = Here,
            FormerValue = 25 * unit,
            Method = new MethodEvidence { SampleMillilitres = 5, ReagentMillilitres = 1, ResidualMillilitres = 0.5 },
            Slips = Slips.For(Parameter.Find("nitrate")!, Nitrate, new WaterState(35, 25)),
        };
    }

    private static double Sd(double c) => double.Hypot(0.05, 0.01 * c);

    /// <summary>An earlier check of the same levels that read as the effect makes it.</summary>
    private static EarlierCheck Before(double days, Func<double, double> effect, string lot = "lot B", string stock = "stock 1", string preparation = "batch 9", string settings = "as set in May") => new()
    {
        DaysBefore = days,
        Levels = [.. Known.Select((c, i) => new EarlierLevel(c, effect(c) - c + 0.3 * Sd(c) * Noise[((int)days + i) % 9], Sd(c) / Math.Sqrt(3)))],
        Carriers = new() { Lot = lot, Stock = stock, Preparation = preparation, Settings = settings },
    };

    private static Cause First(CheckEvidence evidence) => Diagnosis.Of(evidence).Causes[0];

    private static Fault[] Faults(Cause cause) => [.. cause.Faults.Select(f => f.Fault).Order()];

    public static TheoryData<string, Fault> Slipped => new()
    {
        // N for NO3: 14.007/62.004 = 0.2259 (molar masses of IUPAC 2021, abridged); a thousand; density of seawater S 35, 25 °C, 1.02334 (UNESCO EOS-80)
        { "0.2259", Fault.WrongForm },
        { "4.4266", Fault.WrongForm },
        { "1000", Fault.WrongThousand },
        { "0.001", Fault.WrongThousand },
    };

    [Theory, MemberData(nameof(Slipped))]
    public void A_slip_in_form_or_thousand_leads_where_the_readings_are_its_ratio(string ratio, Fault fault)
    {
        var factor = double.Parse(ratio);
        var cause = First(Check((c, _) => factor * c));
        Assert.Equal([fault], Faults(cause));
        Assert.Equal(factor, cause.Slip!.Ratio, 1e-3 * factor);
        Assert.True(cause.Probability > 0.8, $"{cause.Probability}");
    }

    // NaH2PO4·2H2O 156.008, NaH2PO4 119.976 g/mol: 1.3003; NaH2PO4·H2O 137.991: 1.1502 (molar masses of IUPAC 2021, abridged)
    [Theory, InlineData("NaH2PO4.H2O", 1.1502)]
    public void A_wrong_hydrate_leads_where_the_stock_was_weighed_and_the_ratio_is_that_of_the_molar_masses(string weighed, double ratio)
    {
        var slips = Slips.For(Parameter.Find("phosphate")!, ReportingForm.Parse("mg/L PO4"), weighed: ChemicalFormula.Parse(weighed));
        Assert.Contains(slips, s => s.Kind == Fault.WrongHydrate && Math.Abs(s.Ratio - ratio) < 1e-3);
        var cause = First(Check((c, _) => ratio * c) with { Slips = slips });
        Assert.Equal([Fault.WrongHydrate], Faults(cause));
    }

    [Fact]
    public void Slips_are_molar_mass_ratios_both_ways()
    {
        // conversions by molar mass: NO3/N 4.426644, PO4/P 3.066136, NH3/N 1.215892, NH4/N 1.287856, meq/L in dKH 2.80385, dKH in mg/L CaCO3 17.84796
        Contains("nitrate", "mg/L NO3", 1 / 4.426644);
        Contains("nitrate", "mg/L NO3", 4.426644);
        Contains("phosphate", "mg/L PO4", 1 / 3.066136);
        Contains("ammonia", "mg/L NH3-N", 1.215892);
        Contains("ammonia", "mg/L NH3-N", 1.287856);
        Contains("alkalinity", "dKH", 1 / 2.80385);
        Contains("alkalinity", "dKH", 17.84796);

        static void Contains(string parameter, string form, double ratio) =>
            Assert.Contains(Slips.For(Parameter.Find(parameter)!, ReportingForm.Parse(form)), s => s.Kind == Fault.WrongForm && Math.Abs(s.Ratio / ratio - 1) < 1e-4);
    }

    [Fact]
    public void The_density_of_seawater_is_a_slip_where_its_state_is_known()
    {
        var slips = Slips.For(Parameter.Find("calcium")!, ReportingForm.Parse("mg/L Ca"), new WaterState(35, 25));
        Assert.Contains(slips, s => s.Kind == Fault.MassForVolume && Math.Abs(s.Ratio - 1.02334) < 1e-4);
        var sharp = Check((c, _) => c) with { Slips = slips };
        var evidence = sharp with { Levels = [.. sharp.Levels.Where(l => l.Known > 0).Select(l => l with { Readings = [.. l.Readings.Select((_, i) => new Indication(l.Known * 1.0233 + l.Known * 0.0005 * Noise[i]))], UsualSd = 0.0005 * l.Known, Resolution = 0, StockU = 0, PreparationU = 0.0005 * l.Known })] };
        Assert.Equal([Fault.MassForVolume], Faults(First(evidence)));
    }

    [Fact]
    public void Without_earlier_checks_every_pure_gain_is_one_class()
    {
        var cause = First(Check((c, _) => 0.8 * c, age: 0));
        Assert.Equal([Fault.StockOff, Fault.LotStrength, Fault.ReagentWeakened, Fault.DeliveryOff, Fault.SampleVolume, Fault.SettingChanged], Faults(cause));
        Assert.Equal(-0.2, cause.RelativeSize!.Value, 0.02);
    }

    [Fact]
    public void Without_earlier_checks_every_offset_is_one_class()
    {
        var cause = First(Check((c, _) => c + 0.6, age: 0));
        Assert.Equal([Fault.ReagentBlank, Fault.DirtyWindow, Fault.MatrixContaminated], Faults(cause));
        Assert.Equal(0.6, cause.Amount!.Value, 0.1);
    }

    [Fact]
    public void With_one_level_proportion_and_amount_are_one_class()
    {
        var evidence = Check((c, _) => 0.8 * c, age: 0);
        var cause = First(evidence with { Levels = [evidence.Levels[2]] });
        Assert.Contains(Fault.LotStrength, Faults(cause));
        Assert.Contains(Fault.ReagentBlank, Faults(cause));
    }

    [Theory]
    [InlineData("lot A", "stock 1", "batch 8", "as set in May", new[] { Fault.LotStrength, Fault.DeliveryOff })]
    [InlineData("lot A", "stock 1", "batch 9", "as set in May", new[] { Fault.LotStrength })]
    [InlineData("lot B", "stock 0", "batch 9", "as set in May", new[] { Fault.StockOff })]
    [InlineData("lot B", "stock 1", "batch 9", "as set in March", new[] { Fault.SettingChanged })]
    public void What_changed_when_the_error_began_is_what_it_sits_in(string lot, string stock, string preparation, string settings, Fault[] faults)
    {
        // two checks that read right, with something else; one since the change that was wrong already
        var evidence = Check((c, _) => 0.85 * c, age: 0) with
        {
            Earlier =
            [
                Before(40, c => c, lot, stock, preparation, settings), Before(26, c => c, lot, stock, preparation, settings),
                Before(12, c => 0.85 * c, preparation: preparation == "batch 9" ? "batch 9" : "batch 8b"),
            ],
        };
        var cause = First(evidence);
        Assert.Contains(cause.Faults[0].Fault, faults);
        Assert.All(cause.Reasons.Where(r => r.Kind == ReasonKind.Earlier), r => Assert.True(r.IsFor));
        Assert.Contains(cause.Reasons, r => r.Kind == ReasonKind.Earlier);
    }

    [Fact]
    public void A_weakening_reagent_falls_with_the_age_of_its_lot()
    {
        var cause = First(Check((c, _) => 0.7 * c, age: 0) with
        {
            LotAgeDays = 60,
            Earlier = [Before(70, c => c, lot: "lot A", preparation: "a"), Before(50, c => 0.95 * c, preparation: "b"), Before(30, c => 0.85 * c, preparation: "c"), Before(15, c => 0.775 * c, preparation: "d")],
        });
        Assert.Equal([Fault.ReagentWeakened], Faults(cause));
    }

    [Fact]
    public void A_window_may_have_got_dirty_at_any_time()
    {
        var cause = First(Check((c, _) => c + 0.6, age: 0) with
        {
            Earlier = [Before(50, c => c, preparation: "b"), Before(30, c => c, preparation: "c"), Before(15, c => c + 0.6, preparation: "d")],
        });
        Assert.Equal([Fault.DirtyWindow], Faults(cause));
    }

    [Fact]
    public void A_rinse_with_pure_water_takes_the_share_of_the_residue()
    {
        // 0.5 mL left, 5 mL filled: 0.5/5.5 = 9.09 % (residual rule, no rinse)
        var cause = First(Check((c, _) => c * (1 - 0.5 / 5.5), noise: 0.5, age: 0) with { Earlier = [Before(20, c => c), Before(9, c => c)] });
        Assert.Equal([Fault.PureWaterRinse], Faults(cause));
        Assert.Equal(-0.0909, cause.RelativeSize!.Value, 0.01);
    }

    [Fact]
    public void Carry_over_shows_in_the_first_reading_of_a_level()
    {
        // former 25, then 0, 2, 10; share 1/11 of the former sample in the first reading, its square in the second
        double Former(double c) => c switch { 0 => 25, 2 => 0, _ => 2 };
        var cause = First(Check((c, i) => c + Math.Pow(0.5 / 5.5, i + 1) * (Former(c) - c)));
        Assert.Equal([Fault.CarryOver], Faults(cause));
    }

    [Fact]
    public void Another_matrix_gives_gain_and_offset_together()
    {
        var evidence = Check((c, _) => 0.85 * c + 0.5, age: 0);
        Assert.Equal([Fault.WrongMethod], Faults(First(evidence)));
        var told = First(evidence with { Method = evidence.Method with { MatrixFits = false } });
        Assert.Contains(told.Reasons, r => r is { Kind: ReasonKind.Matrix, IsFor: true });
    }

    [Fact]
    public void Evaporation_grows_with_the_age_of_the_bottle()
    {
        var check = Check((c, _) => 1.12 * c, age: 60);
        var cause = First(check with
        {
            Levels = [.. check.Levels.Select(l => l with { MostEvaporationPercentPerDay = 0.3, MostLossPercentPerDay = 0 })],
            Earlier = [Before(55, c => 1.01 * c), Before(40, c => 1.04 * c), Before(20, c => 1.08 * c)],
        });
        Assert.Equal([Fault.Evaporated], Faults(cause));
    }

    [Fact]
    public void Losses_are_worst_in_the_weakest_water_and_the_blank_has_none()
    {
        var check = Check((c, _) => c == 0 ? 0 : c - 0.6 * Math.Sqrt(c / 2), age: 12);
        var cause = First(check with { Levels = [.. check.Levels.Select(l => l with { MostLossPercentPerDay = 4 })] });
        Assert.Equal([Fault.Losses], Faults(cause));
        Assert.True(cause.RelativeSize < -0.2);
    }

    [Fact]
    public void A_flattened_curve_is_low_at_the_top_alone() =>
        Assert.Equal([Fault.Saturation], Faults(First(Check((c, _) => c - 1.8 * Math.Pow(c / 10, 3), age: 0))));

    [Fact]
    public void A_drift_runs_through_all_readings()
    {
        var order = 0;
        Assert.Equal([Fault.DriftWithin], Faults(First(Check((c, _) => c * (1 - 0.4 * order++ / 8.0)))));
    }

    [Fact]
    public void One_reading_that_stands_off_is_a_bubble() =>
        Assert.Equal([Fault.OneOddReading], Faults(First(Check((c, i) => c + (c == 2 && i == 1 ? 1.5 : 0)))));

    [Fact]
    public void Scatter_without_order_is_worse_scatter() =>
        Assert.Equal([Fault.WorseScatter], Faults(First(Check((c, _) => c, noise: 9))));

    [Fact]
    public void Where_nothing_is_wrong_chance_leads_all_single_faults() =>
        Assert.Equal([Fault.Chance], Faults(First(Check((c, _) => c, age: 0) with { Earlier = [Before(30, c => c, lot: "lot A", preparation: "a"), Before(15, c => c, preparation: "b")] })));

    [Fact]
    public void Bottles_interchanged_are_explained_by_none_of_these()
    {
        var result = Diagnosis.Of(Check((c, _) => c switch { 0 => 2, 2 => 10, _ => 0.0 }));
        Assert.True(result.NothingExplains, string.Join("; ", result.Causes.Take(3).Select(c => $"{c.Faults[0].Fault} {c.Probability}")));
    }

    [Theory, InlineData(1000), InlineData(0.001), InlineData(0.3571)]
    public void Scaling_all_amounts_changes_nothing(double unit)
    {
        foreach (var effect in (Func<double, double>[])[c => 0.85 * c, c => c + 0.5, c => 0.2259 * c])
        {
            var (plain, scaled) = (Diagnosis.Of(Check((c, _) => effect(c))), Diagnosis.Of(Check((c, _) => effect(c), unit: unit)));
            Assert.Equal(plain.Causes.Count, scaled.Causes.Count);
            foreach (var (a, b) in plain.Causes.Zip(scaled.Causes))
                Assert.Equal(a.Probability, b.Probability, 1e-6);
            Assert.Equal(plain.BestTest?.Kind, scaled.BestTest?.Kind);
        }
    }

    [Fact]
    public void Probabilities_sum_to_one_and_so_do_the_outcomes_of_a_test()
    {
        var result = Diagnosis.Of(Check((c, _) => 0.9 * c + 0.2));
        Assert.Equal(1, result.Causes.Sum(c => c.Probability), 1e-12);
        // every declared fault but the hydrate: no salt was weighed
        Assert.Equal(Enum.GetValues<Fault>().Except([Fault.WrongHydrate]), result.Causes.SelectMany(c => c.Faults).Select(f => f.Fault).Order());
        Assert.All(result.Causes, c => Assert.Equal(c.Probability, c.Faults.Sum(f => f.Probability), 1e-12));
        Assert.All(result.Tests, t => Assert.Equal(1, t.IfFound.Probability + t.IfNot.Probability, 1e-12));
        Assert.All(result.Tests, t => Assert.InRange(t.ExpectedBits, 0, result.EntropyBits));
        Assert.Equal(result.Tests.OrderByDescending(t => t.BitsPerMinute).Select(t => t.Kind), result.Tests.Select(t => t.Kind));
    }

    [Fact]
    public void Right_readings_added_at_other_levels_speak_for_no_cause_of_gain()
    {
        // a level that all gains and none of the offsets leave where it is tells nothing between two gains
        var two = Check((c, _) => 0.85 * c, age: 0) with { };
        double Odds(CheckEvidence e)
        {
            var causes = Diagnosis.Of(e).Causes.SelectMany(c => c.Faults).ToDictionary(f => f.Fault, f => f.Probability);
            return causes[Fault.StockOff] / causes[Fault.DeliveryOff];
        }
        Assert.Equal(1, Odds(two), 1e-9);
        Assert.Equal(1, Odds(two with { Levels = [.. two.Levels.Skip(1)] }), 1e-9);
        // a flag that concerns neither leaves their odds alone
        Assert.Equal(1, Odds(two with { LotIsPastUse = true, Method = two.Method with { MatrixFits = true } }), 1e-9);
    }

    [Fact]
    public void Earlier_checks_that_read_right_on_the_same_stock_speak_against_it_and_the_more_the_heavier()
    {
        double StockOff(int n) => Diagnosis.Of(Check((c, _) => 0.85 * c, age: 0) with { Earlier = [.. Enumerable.Range(1, n).Select(i => Before(14 * i, c => c, preparation: $"p{i}", lot: $"l{i}"))] })
            .Causes.SelectMany(c => c.Faults).Single(f => f.Fault == Fault.StockOff).Probability;
        Assert.True(StockOff(0) > 5 * StockOff(1), $"{StockOff(0)} {StockOff(1)}");
        Assert.True(StockOff(1) >= StockOff(3));
    }

    [Fact]
    public void The_deciding_test_for_one_pure_gain_parts_its_members()
    {
        var result = Diagnosis.Of(Check((c, _) => 0.8 * c, age: 0));
        var second = Assert.Single(result.Tests, t => t.Kind == TestKind.SecondStock);
        Assert.Contains(second.IfFound.Leading, f => f.Fault == Fault.StockOff);
        Assert.DoesNotContain(second.IfNot.Leading, f => f.Fault == Fault.StockOff);
        // binary entropy of a test that halves the question is one bit: none can tell more
        Assert.All(result.Tests, t => Assert.InRange(t.ExpectedBits, 0, 1));
    }

    [Theory, InlineData(Fault.WrongForm, TestKind.ReadLabels), InlineData(Fault.StockOff, TestKind.SecondStock), InlineData(Fault.Losses, TestKind.FreshWater), InlineData(Fault.LotStrength, TestKind.NewLot), InlineData(Fault.OneOddReading, TestKind.Repeat), InlineData(Fault.DriftWithin, TestKind.WaitAndRepeat)]
    public void Each_fault_is_confirmed_by_the_test_declared_for_it(Fault fault, TestKind test) =>
        Assert.All(Diagnosis.Of(Check((c, _) => 0.9 * c)).Causes.Where(c => c.Faults[0].Fault == fault), c => Assert.Equal(test, c.ConfirmedBy));

    [Fact]
    public void Titration_takes_a_wrong_sample_volume_in_full()
    {
        double Share(bool titration)
        {
            var e = Check((c, _) => 0.75 * c, age: 0);
            return Diagnosis.Of(e with { Method = e.Method with { IsTitration = titration } }).Causes.SelectMany(c => c.Faults).Single(f => f.Fault == Fault.SampleVolume).Probability;
        }
        // 5 mL sample with 1 mL reagent: a sixth of the error shows, so that 25 % low would take an impossible volume
        Assert.True(Share(true) > 10 * Share(false));
    }

    private static EarlierCheck WithoutLot(EarlierCheck check) => check with { Carriers = check.Carriers with { Lot = null } };

    [Fact]
    public void A_missing_entry_of_the_lot_leaves_it_open_where_the_lot_began()
    {
        // 15 % low today and 12 days ago; right before that, on the same stock and settings. The lot’s entries are missing there, or name another
        var evidence = Check((c, _) => 0.85 * c, age: 0) with
        {
            Earlier = [Before(12, c => 0.85 * c, preparation: "batch 8"), WithoutLot(Before(26, c => c, preparation: "batch 7")), Before(40, c => c, lot: "lot A", preparation: "batch 6")],
        };
        var recorded = evidence with { Earlier = [evidence.Earlier[0], evidence.Earlier[1] with { Carriers = evidence.Earlier[1].Carriers with { Lot = "lot A" } }, evidence.Earlier[2]] };
        Assert.Contains(Fault.LotStrength, Faults(First(recorded)));
        Assert.Contains(Fault.LotStrength, Faults(First(evidence)));
        Assert.True(First(evidence).Probability < First(recorded).Probability);
        // opened 20 days ago: the check of 26 days ago had another lot, whatever was written down
        var (dated, whole) = (First(evidence with { LotAgeDays = 20 }), First(recorded with { LotAgeDays = 20 }));
        Assert.Equal(whole.Probability, dated.Probability, 1e-12);
    }

    [Fact]
    public void An_entry_missing_between_two_checks_on_the_same_lot_counts_as_that_lot()
    {
        var evidence = Check((c, _) => 0.85 * c, age: 0) with { Earlier = [WithoutLot(Before(12, c => 0.85 * c, preparation: "batch 8")), Before(26, c => 0.85 * c, preparation: "batch 7"), Before(40, c => c, lot: "lot A", preparation: "batch 6")] };
        var recorded = evidence with { Earlier = [Before(12, c => 0.85 * c, preparation: "batch 8"), evidence.Earlier[1], evidence.Earlier[2]] };
        Assert.Equal(First(recorded).Probability, First(evidence).Probability, 1e-12);
        Assert.Equal(Faults(First(recorded)), Faults(First(evidence)));
    }

    [Theory, InlineData(1), InlineData(1000)]
    public void A_thousandfold_reading_may_scatter_as_usual_or_a_thousandfold(double scatter)
    {
        var order = 0;
        var cause = First(Check((c, _) => 1000 * c + (scatter - 1) * Sd(c) * Noise[order++]));
        Assert.Equal([Fault.WrongThousand], Faults(cause));
        Assert.True(cause.Probability > 0.8, $"{cause.Probability}");
    }

    [Fact]
    public void Carry_over_is_possible_where_nobody_noted_the_former_sample()
    {
        // by hand: 0.5 mL left and 5 mL filled, former 25: 25/11 after no rinse at the blank, then 25/121, 25/1331
        var evidence = Check((c, i) => c == 0 ? 25 / Math.Pow(11, i + 1) : c == 2 ? 2 - 2 / Math.Pow(11, i + 1) : 10 - 8 / Math.Pow(11, i + 1), noise: 0.3) with { FormerValue = null };
        Assert.Equal([Fault.CarryOver], Faults(First(evidence)));
    }

    [Fact]
    public void Bad_input_is_refused_with_its_value_and_limit()
    {
        var good = Check((c, _) => c);
        Refused(good with { Levels = [] }, "no level");
        Refused(good with { Levels = [good.Levels[0] with { Readings = [] }] }, "no readings");
        Refused(good with { Levels = [good.Levels[0] with { Tolerance = 0 }] }, "tolerance is 0");
        Refused(good with { Levels = [good.Levels[0] with { Known = -1 }] }, "known value is -1");
        Refused(good with { Levels = [good.Levels[0] with { Readings = [new(double.NaN)] }] }, "reading is NaN");
        Refused(good with { Levels = [good.Levels[0] with { UsualSd = 0 }] }, "usual scatter is 0");
        Refused(good with { Method = new() { SampleMillilitres = -5 } }, "sample volume is -5");
        Refused(good with { Earlier = [Before(0, c => c)] }, "time since an earlier check is 0");
        Refused(good with { Levels = [good.Levels[0] with { Readings = [.. Enumerable.Repeat(new Indication(1), 121)] }] }, "121 readings");
        Assert.Throws<ArgumentNullException>(() => Diagnosis.Of(null!));
        Assert.ThrowsAny<ArgumentException>(() => new Slip(Fault.StockOff, 2, "a", "b"));
        Assert.ThrowsAny<ArgumentException>(() => new Slip(Fault.WrongForm, 1, "a", "b"));

        static void Refused(CheckEvidence evidence, string because) =>
            Assert.Contains(because, Assert.ThrowsAny<ArgumentException>(() => Diagnosis.Of(evidence)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Odd_input_still_gives_an_answer()
    {
        var blank = new LevelEvidence { Known = 0, Readings = [new(0)], Tolerance = 0.1 };
        Assert.Equal(1, Diagnosis.Of(new CheckEvidence { Levels = [blank] }).Causes.Sum(c => c.Probability), 1e-9);
        var censored = new LevelEvidence { Known = 5, Readings = [new(0.02, Censoring.Below), new(50, Censoring.Above)], Tolerance = 0.1, UsualSd = 1e-9 };
        var causes = Diagnosis.Of(new CheckEvidence { Levels = [censored] }).Causes;
        Assert.All(causes, c => Assert.True(double.IsFinite(c.Probability)));
        Assert.Equal(1, causes.Sum(c => c.Probability), 1e-9);
    }

    [Fact]
    public void It_is_fast_and_gives_the_same_answer_twice()
    {
        var evidence = Check((c, _) => 0.85 * c, age: 20) with { Earlier = [.. Enumerable.Range(1, 12).Select(i => Before(14 * i, c => c, preparation: $"p{i / 2}", lot: $"l{i / 4}"))] };
        var first = Diagnosis.Of(evidence);
        var clock = Stopwatch.StartNew();
        var second = Diagnosis.Of(evidence);
        Assert.Equal(first.Causes.Select(c => c.Probability), second.Causes.Select(c => c.Probability));
        // 12 earlier checks of three levels; a machine ten times as slow as one of 2020 still passes
        Assert.True(clock.ElapsedMilliseconds < 1000, $"{clock.ElapsedMilliseconds} ms");
    }
}
