using System.Globalization;
using System.Text.Json;
using Knownwater.Drift;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Cli.Tests.Drift;

public sealed class DriftVerbTests : IDisposable
{
    private static readonly string Example = Path.Combine(AppContext.BaseDirectory, "docs", "examples", "nitrate-drift.csv");

    private readonly string _file = Path.Combine(Path.GetTempPath(), $"drift-{Guid.NewGuid():N}.csv");

    public void Dispose() => File.Delete(_file);

    private async Task<Called> Drift(string table, params string[] more)
    {
        await File.WriteAllTextAsync(_file, table, TestContext.Current.CancellationToken);
        return await Called.With(["drift", _file, .. more]);
    }

    private async Task<JsonElement> Json(string table, params string[] more) => (await Drift(table, [.. more, "--json"])).Json;

    private static string Table(IEnumerable<double> values, string reference = "8", string u = "0", int days = 7) =>
        "time,reference,reference_u,value\n" + string.Concat(values.Select((v, i) => string.Create(CultureInfo.InvariantCulture, $"{days * i},{reference},{u},{v}\n")));

    private static double Number(JsonElement json, params string[] path) => path.Aggregate(json, (at, key) => at.GetProperty(key)).GetDouble();

    [Fact]
    public async Task Json_holds_the_agreed_keys()
    {
        var json = (await Called.With("drift", Example, "--tolerance", "1 mg/L NO3", "--json")).Json;

        Assert.Equal(["n", "checks", "unit", "sentence", "tolerance", "points", "limits", "arl_in_control", "checks_to_know", "trueness", "within_sd", "within_sd_low", "within_sd_high", "between_sd", "between_sd_low", "between_sd_high",
            "change", "probabilities", "events", "lots", "next_check", "next_check_because", "cautions"], Called.Keys(json));
        Assert.Equal(["time", "check", "lot", "deviation", "u", "from_own_stock", "forecast_error", "forecast_sd", "z", "ewma", "ewma_limit", "signals"], Called.Keys(json.GetProperty("points")[0]));
        Assert.Equal(["value", "u", "expanded", "k", "dof", "unit", "low", "high"], Called.Keys(json.GetProperty("trueness")));
        Assert.Equal(["kind", "at", "from", "to", "until", "size", "size_low", "size_high", "unit", "lot", "p"], Called.Keys(json.GetProperty("change")));
        Assert.Equal(["ewma", "individuals", "moving_range", "cusum", "run_rules", "sd"], Called.Keys(json.GetProperty("limits")));
        Assert.Equal(["lot", "checks", "bias", "is_within_tolerance"], Called.Keys(json.GetProperty("lots")[0]));
        Assert.Equal("mg/L NO3", json.GetProperty("unit").GetString());
        Assert.Equal(14, json.GetProperty("points").GetArrayLength());
        Assert.Equal(0, json.GetProperty("cautions").GetArrayLength());
    }

    [Fact]
    public async Task Example_finds_its_lot()
    {
        var called = await Called.With("drift", Example, "--tolerance", "1 mg/L NO3");
        var json = (await Called.With("drift", Example, "--tolerance", "1 mg/L NO3", "--json")).Json;

        Assert.StartsWith("Reads 2.", called.Output, StringComparison.Ordinal);
        Assert.Contains("lower since lot N-13, 2026-05-29.", called.Output, StringComparison.Ordinal);
        Assert.Contains("beyond your tolerance", called.Output, StringComparison.Ordinal);
        var change = json.GetProperty("change");
        Assert.Equal(("step", "N-13", "2026-05-29"), (change.GetProperty("kind").GetString(), change.GetProperty("lot").GetString(), change.GetProperty("at").GetString()));
        Assert.Equal(("2026-05-15", "2026-05-29"), (change.GetProperty("from").GetString(), change.GetProperty("to").GetString()));
        Assert.InRange(Number(change, "p"), 0, 0.001);
        Assert.Equal([true, true, false], json.GetProperty("lots").EnumerateArray().Select(l => l.GetProperty("is_within_tolerance").GetBoolean()));
        Assert.Contains("ewma", json.GetProperty("points")[10].GetProperty("signals").EnumerateArray().Select(s => s.GetString()));
        Assert.Equal(("2026-07-10", "wrong_already"), (json.GetProperty("next_check").GetString(), json.GetProperty("next_check_because").GetProperty("reason").GetString()));
    }

    [Fact]
    public async Task Figures_are_those_of_the_library_for_the_same_history()
    {
        var tolerance = new Tolerance(0.3, 5);
        var json = (await Called.With("drift", Example, "--tolerance", "0.3 mg/L NO3 + 5%", "--resolution", "0.1", "--risk", "20%", "--false-alarms-per-year", "2", "--checks-per-year", "52", "--json")).Json;

        var history = Built(tolerance, 0.1);
        var (model, change) = (DriftModel.Fit(history), ChangePoint.Find(history));
        var step = Assert.Single(change.Events, e => e.IsClear);
        var now = model.Beside(change);
        var next = NextCheck.After(history.StartingAnew(change), 0.2);
        var chart = AlarmChart.For(2, 52, model.Forecasts);
        var alarms = chart.Read(model.Forecasts).ToDictionary(a => a.Check);
        var scale = tolerance.At(model.MiddleLevel);

        for (var i = 0; i < 14; i++)
        {
            var point = json.GetProperty("points")[i];
            var here = tolerance.At(history.Checks[i].Levels[0].Known);
            Near(history.Checks[i].Levels[0].Bias.Value, point.GetProperty("deviation"));
            Near(now.Trueness[i].StandardUncertainty * here, point.GetProperty("u"));
            Near(model.Stability[i].Deviation!.Value * here, point.GetProperty("from_own_stock"));
            Near(model.Forecasts[i].Error * here, point.GetProperty("forecast_error"));
            if (model.Forecasts[i].Score is { } score)
            {
                Near(score, point.GetProperty("z"));
                Near(alarms[i].Average, point.GetProperty("ewma"));
                Near(alarms[i].Limit, point.GetProperty("ewma_limit"));
            }
            else
                Assert.Equal((JsonValueKind.Null, JsonValueKind.Null), (point.GetProperty("z").ValueKind, point.GetProperty("ewma").ValueKind));
        }
        Near(chart.InControlRunLength, json.GetProperty("arl_in_control"));
        Near(chart.Chart.Lambda, json.GetProperty("limits").GetProperty("ewma").GetProperty("weight"));
        Near(now.CombinedBias.Value * scale, json.GetProperty("trueness").GetProperty("value"));
        Near(now.CombinedBias.StandardUncertainty * scale, json.GetProperty("trueness").GetProperty("u"));
        Near(now.Components.WithinAt(model.MiddleLevel).Value, json.GetProperty("within_sd"));
        Near(now.Components.BetweenAt(model.MiddleLevel).Value, json.GetProperty("between_sd"));
        Near(step.Step * scale, json.GetProperty("change").GetProperty("size"));
        Near(step.CorrectedP, json.GetProperty("change").GetProperty("p"));
        Near(change.SteadyProbability, json.GetProperty("probabilities").GetProperty("steady"));
        for (var i = 0; i < 3; i++)
            Near(change.Lots[i].Bias.Value * scale, json.GetProperty("lots")[i].GetProperty("bias").GetProperty("value"));
        Near(next.Probability, json.GetProperty("next_check_because").GetProperty("probability_wrong"));
        Assert.Equal(DateOnly.FromDateTime(DateTime.UnixEpoch).AddDays((int)next.Day).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), json.GetProperty("next_check").GetString());

        static void Near(double expected, JsonElement found) => Assert.Equal(expected, found.GetDouble(), 1e-9 * Math.Max(1, Math.Abs(expected)));
    }

    /// <summary>The history of the example, put together by hand: two stocks, a fresh preparation each time.</summary>
    private static DriftHistory Built(Tolerance tolerance, double resolution)
    {
        Dictionary<string, ErrorSource> stocks = [];
        List<DriftCheck> checks = [];
        List<DriftEvent> events = [];
        foreach (var cells in File.ReadLines(Example).Skip(1).Select(line => line.Split(',')))
        {
            double At(int column) => double.Parse(cells[column], CultureInfo.InvariantCulture);
            var day = DateOnly.ParseExact(cells[0], "yyyy-MM-dd", CultureInfo.InvariantCulture).DayNumber - DateOnly.FromDateTime(DateTime.UnixEpoch).DayNumber;
            var stock = stocks.TryGetValue(cells[8], out var known) ? known : stocks[cells[8]] = ErrorSource.Normal(cells[8], 1);
            var (u, fresh) = (At(2), At(9));
            var water = Estimate.FromRows(At(1), [(stock, Math.Sqrt(u * u - fresh * fresh)), (ErrorSource.Normal(cells[7], fresh), fresh)]);
            if (checks.Count > 0 && checks[^1].Lots[0] != cells[6])
                events.Add(new DriftEvent(day, DriftEventKind.LotOpened, $"lot {cells[6]}") { Lots = [cells[6]] });
            checks.Add(new DriftCheck
            {
                Day = day,
                Levels = [new DriftLevel { Known = At(1), Bias = At(3) - water, Replicates = (int)At(4), Sd = At(5), Resolution = resolution }],
                Lots = [cells[6]],
                Stock = cells[8],
                Preparation = cells[7],
            });
        }
        return new DriftHistory(tolerance, checks, events);
    }

    // by hand: the errors of two stocks, u = 1 each, outweigh all else, so that u = 1/√2; one stock leaves 1; half of the variance of four fresh preparations beside one stock leaves √(½ + ½/4)
    [Theory]
    [InlineData("A;0 A;0 B;0 B;0", 0.70711)]
    [InlineData("A;0 A;0 A;0 A;0", 1)]
    [InlineData(";0 ;0 ;0 ;0", 1)]
    [InlineData("A;0.70711 A;0.70711 A;0.70711 A;0.70711", 0.79057)]
    public async Task Trueness_is_no_better_than_what_the_waters_share(string rows, double u)
    {
        var table = "time;reference;reference_u;value;n;sd;stock_id;preparation_u\n" + string.Concat(rows.Split(' ').Select((row, i) => $"{i};8;1;8.00{i % 2};10;0.001;{row}\n"));
        Assert.Equal(u, Number(await Json(table, "--tolerance", "0.01"), "trueness", "u"), 1e-3);
    }

    [Fact]
    public async Task A_water_that_comes_back_shares_its_whole_error_and_a_new_one_none()
    {
        static string Rows(params string[] ids) => "time,reference,reference_u,value,n,sd,reference_id\n" + string.Concat(ids.Select((id, i) => $"{i},8,1,8.00{i % 2},10,0.001,{id}\n"));
        Assert.Equal(1, Number(await Json(Rows("a", "a", "a", "a"), "--tolerance", "0.01"), "trueness", "u"), 1e-3);
        Assert.Equal(0.5, Number(await Json(Rows("a", "b", "c", "d"), "--tolerance", "0.01"), "trueness", "u"), 1e-3);
    }

    [Fact]
    public async Task Waters_without_a_name_are_said_to_count_as_one_stock()
    {
        var cautions = (await Json(Table([8.1, 8.0, 8.2], u: "0.1"), "--tolerance", "0.5")).GetProperty("cautions").EnumerateArray().Select(c => c.GetString()!);
        Assert.Contains(cautions, c => c.StartsWith("Rows name no stock_id and no reference_id.", StringComparison.Ordinal));
        var exact = (await Json(Table([8.1, 8.0, 8.2]), "--tolerance", "0.5")).GetProperty("cautions").EnumerateArray().Select(c => c.GetString()!);
        Assert.DoesNotContain(exact, c => c.Contains("stock_id", StringComparison.Ordinal));
    }

    // by hand: neighbours are 0.2, 0.1 and 0.4 apart, whose median by √2·0.67449 is 0.20967
    [Fact]
    public async Task Without_a_tolerance_three_times_the_scatter_stands_for_it()
    {
        var json = await Json(Table([8.1, 8.3, 8.2, 8.6]));

        Assert.Equal(3 * 0.2 / 0.9538726, Number(json, "tolerance", "value"), 1e-6);
        Assert.False(json.GetProperty("tolerance").GetProperty("given").GetBoolean());
        Assert.Equal(81, Number(json, "next_check"));
        Assert.Equal("longest_time", json.GetProperty("next_check_because").GetProperty("reason").GetString());
        Assert.Equal(JsonValueKind.Null, json.GetProperty("next_check_because").GetProperty("probability_wrong").ValueKind);
        Assert.Equal(JsonValueKind.Null, json.GetProperty("checks_to_know").ValueKind);
        Assert.DoesNotContain("your tolerance", (await Drift(Table([8.1, 8.3, 8.2, 8.6]))).Output, StringComparison.Ordinal);
        // what scatters more within a check counts, and never less than the rounding of the last digit
        Assert.Equal(1.5, Number(await Json("time,reference,reference_u,value,n,sd\n0,8,0,8.1,3,0.5\n7,8,0,8.2,3,0.5\n"), "tolerance", "value"), 1e-12);
        Assert.Equal(0.3 / Math.Sqrt(12), Number(await Json(Table([8.1, 8.1, 8.1])), "tolerance", "value"), 1e-12);
    }

    // by hand: mean 950.175; where nothing says how far off it may be, that is no reason to see more scatter
    [Fact]
    public async Task Without_a_tolerance_a_method_may_be_far_off()
    {
        var json = await Json(Table([1000, 1001, 999.5, 1000.2], reference: "50"));

        Assert.Equal(950.175, Number(json, "trueness", "value"), 1e-6);
        Assert.InRange(Number(json, "within_sd"), 0.3, 1.5);
        Assert.Equal("steady", json.GetProperty("change").GetProperty("kind").GetString());
    }

    // NIST/SEMATECH e-Handbook 6.3.2.3: the mean has risen by the 13th group; 6.3.2.4: in control
    [Fact]
    public async Task Published_series_are_read_as_published()
    {
        using var document = JsonDocument.Parse(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "data", "control-charts", "control_charts_nist_handbook.json"), TestContext.Current.CancellationToken));
        double[] Data(string name) => [.. document.RootElement.GetProperty(name).GetProperty("data").EnumerateArray().Select(v => v.GetDouble())];

        var risen = await Json(Table(Data("cusum_tabular"), reference: "325", days: 1));
        Assert.Equal("step", risen.GetProperty("change").GetProperty("kind").GetString());
        Assert.Equal((11, 12), (Number(risen, "change", "from"), Number(risen, "change", "to")));
        Assert.Contains("ewma", risen.GetProperty("points")[12].GetProperty("signals").EnumerateArray().Select(s => s.GetString()));

        var steady = await Json(Table(Data("ewma"), reference: "50", days: 1));
        Assert.Equal("steady", steady.GetProperty("change").GetProperty("kind").GetString());
        Assert.All(["at", "from", "to", "size"], key => Assert.Equal(JsonValueKind.Null, steady.GetProperty("change").GetProperty(key).ValueKind));
        Assert.All(steady.GetProperty("points").EnumerateArray(), p => Assert.DoesNotContain("ewma", p.GetProperty("signals").EnumerateArray().Select(s => s.GetString())));
        Assert.Equal(2, Number(steady.GetProperty("points")[0], "deviation"));
    }

    [Fact]
    public async Task The_average_follows_its_own_weight_and_limit()
    {
        var json = await Json(Table([8.1, 8.0, 8.2, 7.9, 8.1, 8.0, 8.1, 7.8]), "--tolerance", "0.5");

        var (weight, width, average, counted) = (Number(json, "limits", "ewma", "weight"), Number(json, "limits", "ewma", "width"), 0.0, 0);
        Assert.Equal(width * Math.Sqrt(weight / (2 - weight)), Number(json, "limits", "ewma", "high"), 1e-12);
        foreach (var point in json.GetProperty("points").EnumerateArray().Skip(2))
        {
            average = (1 - weight) * average + weight * Number(point, "z");
            Assert.Equal(average, Number(point, "ewma"), 1e-12);
            Assert.Equal(width * Math.Sqrt(weight / (2 - weight) * (1 - Math.Pow(1 - weight, 2 * ++counted))), Number(point, "ewma_limit"), 1e-12);
        }
    }

    [Fact]
    public async Task A_check_names_the_charts_that_it_signals_on()
    {
        double[] quiet = [8.1, 7.9, 8.0, 8.1, 7.9, 8.05, 7.95, 8.0, 8.1, 7.9];
        static IEnumerable<string?> Signals(JsonElement json, int at) => json.GetProperty("points")[at].GetProperty("signals").EnumerateArray().Select(s => s.GetString());

        var jump = Signals(await Json(Table([.. quiet, 9.5]), "--tolerance", "0.3"), 10).ToList();
        Assert.Contains("individuals", jump);
        Assert.Contains("moving_range", jump);
        var risen = await Json(Table([.. quiet, .. Enumerable.Repeat(8.12, 9)]), "--tolerance", "0.3");
        Assert.Contains("eight_on_one_side", Signals(risen, 18));
        Assert.DoesNotContain("eight_on_one_side", Signals(risen, 15));
        var scatter = await Json("time,reference,reference_u,value,n,sd\n" + string.Concat(Enumerable.Range(0, 8).Select(i => $"{i},8,0,8.{i % 2},4,{(i == 5 ? "2" : "0.1")}\n")), "--tolerance", "0.5");
        Assert.Equal([5], Enumerable.Range(0, 8).Where(i => Signals(scatter, i).Contains("sd")));
    }

    [Theory]
    [InlineData("2026-01-01 2026-01-15 2026-01-29", "2026-03-30")]
    [InlineData("20260101 20260115 20260129", "2026-03-30")]
    [InlineData("2026-01-01T09:30 2026-01-15T09:30 2026-01-29T10:15", "2026-03-30T10:15:00")]
    [InlineData("2026-01-01 2026-01-15T09:30 2026-01-29", "2026-03-30T00:00:00")]
    [InlineData("2026-01-01T09:30Z 2026-01-15T09:30Z 2026-01-29T10:15:30Z", "2026-03-30T10:15:30Z")]
    [InlineData("2026-01-01T09:30+01:00 2026-01-15T09:30+01:00 2026-01-29T10:15:30.5+01:00", "2026-03-30T10:15:30+01:00")]
    public async Task Times_come_back_in_the_form_they_came_in(string times, string next)
    {
        var typed = times.Split(' ');
        var json = await Json("time,reference,reference_u,value\n" + string.Concat(typed.Select(t => $"{t},8,0,8.1\n")));

        Assert.Equal(typed, json.GetProperty("points").EnumerateArray().Select(p => p.GetProperty("time").GetString()));
        Assert.Equal(next, json.GetProperty("next_check").GetString());
    }

    [Fact]
    public async Task Rows_stand_in_any_order()
    {
        string[] lines = [.. await File.ReadAllLinesAsync(Example, TestContext.Current.CancellationToken)];
        var ordered = await Json(string.Join('\n', lines));
        var turned = await Json(string.Join('\n', [lines[0], .. lines.Skip(1).Reverse()]));

        Assert.Equal(ordered.GetProperty("points").EnumerateArray().Select(p => p.GetProperty("time").GetString()), turned.GetProperty("points").EnumerateArray().Select(p => p.GetProperty("time").GetString()));
        Assert.Equal(Number(ordered, "trueness", "value"), Number(turned, "trueness", "value"), 1e-12);
        Assert.Equal(Number(ordered, "change", "p"), Number(turned, "change", "p"), 1e-12);
    }

    [Fact]
    public async Task Rows_of_one_time_at_other_levels_are_one_check()
    {
        var json = await Json("time,reference,reference_u,value\n0,2,0,2.1\n0,10,0,10.3\n7,2,0,2.0\n7,10,0,10.1\n14,2,0,2.1\n14,10,0,10.4\n14,10,0,10.2\n", "--tolerance", "0.2 + 5%");

        Assert.Equal([1, 1, 2, 2, 3, 3, 4], json.GetProperty("points").EnumerateArray().Select(p => p.GetProperty("check").GetInt32()));
        Assert.Equal(Number(json.GetProperty("points")[4], "z"), Number(json.GetProperty("points")[5], "z"));
        Assert.Equal((7, 4), (json.GetProperty("n").GetInt32(), json.GetProperty("checks").GetInt32()));
    }

    [Fact]
    public async Task Two_lots_on_one_day_keep_their_order()
    {
        var table = "time,reference,reference_u,value,lot\n" + string.Concat(Enumerable.Range(0, 12).Select(i => $"2026-01-{(i < 6 ? i + 1 : i):00},8,0,{(i < 6 ? "8.0" : "7.0")}{i % 3},{(i < 6 ? "K-1" : i == 6 ? "K-2" : "")}\n"));
        var json = await Json(table, "--tolerance", "0.3");

        Assert.Equal(("K-2", "2026-01-06", "2026-01-06", "2026-01-06"), (json.GetProperty("change").GetProperty("lot").GetString(), json.GetProperty("change").GetProperty("at").GetString(), json.GetProperty("change").GetProperty("from").GetString(), json.GetProperty("change").GetProperty("to").GetString()));
        Assert.Equal([6, 6], json.GetProperty("lots").EnumerateArray().Select(l => l.GetProperty("checks").GetInt32()));
        Assert.Equal(-1, Number(json, "change", "size"), 0.05);
    }

    [Fact]
    public async Task A_lot_that_came_and_went_is_told_with_its_end()
    {
        double[] values = [8.01, 7.98, 8.02, 8.0, 7.2, 7.22, 7.19, 8.01, 7.99, 8.0, 8.02];
        var table = "time,reference,reference_u,value,lot\n" + string.Concat(values.Select((v, i) => string.Create(CultureInfo.InvariantCulture, $"{7 * i},8,0,{v},{(i < 4 ? "K-1" : i < 7 ? "K-2" : "K-3")}\n")));
        var json = await Json(table, "--tolerance", "0.3");

        Assert.Equal((28, 49), (Number(json, "change", "at"), Number(json, "change", "until")));
        Assert.Matches(@"^Lot K-2 read 0\.(79|80)\d*\u00A0±\u00A00\.\d+ lower; the lot after it does not\.$", json.GetProperty("sentence").GetString());
    }

    [Fact]
    public async Task A_drift_is_told_in_thirty_days()
    {
        var change = (await Json(Table(Enumerable.Range(0, 24).Select(i => 8 + 0.007 * Math.Max(0, 7 * i - 50) + 0.02 * (i % 3))), "--tolerance", "0.3 dKH")).GetProperty("change");

        Assert.Equal(("drift", "dKH in 30 days"), (change.GetProperty("kind").GetString(), change.GetProperty("unit").GetString()));
        Assert.Equal(0.21, Number(change, "size"), 0.02);
        Assert.InRange(50, Number(change, "from"), Number(change, "to"));
    }

    [Theory]
    [InlineData(1, "One check so far")]
    [InlineData(2, "Two checks so far")]
    public async Task Below_three_checks_no_course_shows(int checks, string says)
    {
        var json = await Json(Table(Enumerable.Repeat(8.1, checks)), "--tolerance", "0.5");

        Assert.StartsWith(says, json.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.All(["at", "from", "to", "size", "p"], key => Assert.Equal(JsonValueKind.Null, json.GetProperty("change").GetProperty(key).ValueKind));
        Assert.Equal(JsonValueKind.Null, json.GetProperty("probabilities").ValueKind);
        Assert.Equal(0.1, Number(json, "trueness", "value"), 1e-12);
        Assert.Equal(0, (await Drift(Table(Enumerable.Repeat(8.1, checks)))).Exit);
    }

    [Fact]
    public async Task Of_very_many_checks_the_newest_sixty_make_the_course()
    {
        var json = await Json(Table(Enumerable.Range(0, 12000).Select(i => 8 + 0.01 * (i % 7))), "--tolerance", "0.3");

        var points = json.GetProperty("points");
        Assert.Equal((12000, 12000), (points.GetArrayLength(), json.GetProperty("checks").GetInt32()));
        Assert.Equal(JsonValueKind.Null, points[11939].GetProperty("u").ValueKind);
        Assert.Equal(JsonValueKind.Number, points[11939].GetProperty("deviation").ValueKind);
        Assert.Equal(JsonValueKind.Number, points[11940].GetProperty("u").ValueKind);
        Assert.Contains("The newest 60 of 12000 checks are read as a course. Older ones are listed with their deviation alone.", json.GetProperty("cautions").EnumerateArray().Select(c => c.GetString()));
    }

    [Theory]
    [InlineData("0.5", "", 0.5)]
    [InlineData("0.5 dKH", "dKH", 0.5)]
    [InlineData("5%", "", 0.4)]
    [InlineData("0.1 dKH + 5%", "dKH", 0.5)]
    [InlineData("1 meq/L", "dKH", 2.8, "--unit", "dKH")]
    public async Task A_tolerance_may_be_plain_or_carry_the_unit(string tolerance, string unit, double here, params string[] more)
    {
        var json = await Json(Table([8.1, 8.0, 8.2]), ["--tolerance", tolerance, .. more]);

        Assert.Equal(here, Number(json, "tolerance", "value"), 0.01);
        Assert.Equal(unit, json.GetProperty("unit").GetString());
        Assert.True(json.GetProperty("tolerance").GetProperty("given").GetBoolean());
    }

    [Fact]
    public async Task Columns_that_say_nothing_are_named()
    {
        var cautions = (await Json("time,reference,reference_u,value,stock,note\n0,8,0,8.1,A,\n7,8,0,8.2,A,late\n")).GetProperty("cautions").EnumerateArray().Select(c => c.GetString());
        Assert.Contains("Not used: the columns “stock”, “note”.", cautions);
    }

    [Theory]
    [InlineData("time,reference,value\n0,8,8.1\n", "“reference_u”")]
    [InlineData("time,reference,reference_u,value\n", "no row")]
    [InlineData("time,reference,reference_u,value\n0,8,0,8.1\nlate,8,0,8.1\n", "Line 3 of")]
    [InlineData("time,reference,reference_u,value\n0,8,0,8.1\n2026-02-01,8,0,8.1\n", "“2026-02-01” is a date, but a number of days stands above it")]
    [InlineData("time,reference,reference_u,value\n2026-02-01T10:00Z,8,0,8.1\n2026-02-02,8,0,8.1\n", "“2026-02-02” is a date, but a time with an offset from UTC stands above it")]
    [InlineData("time,reference,reference_u,value\n2026-02-30,8,0,8.1\n", "“2026-02-30” is no time")]
    [InlineData("time,reference,reference_u,value\n0,8,0,8.1\n1,8,0,<0.02\n", "Line 3 of")]
    [InlineData("time,reference,reference_u,value\n0,8,0,\n", "column value")]
    [InlineData("time,reference,reference_u,value\n0,8,-1,8\n", "the standard uncertainty is -1")]
    [InlineData("time,reference,reference_u,value\n0,-8,0,8\n", "the known value is -8")]
    [InlineData("time,reference,reference_u,value,n\n0,8,0,8,0\n", "0 is no number of readings")]
    [InlineData("time,reference,reference_u,value,n\n0,8,0,8,2.5\n", "2.5 is no number of readings")]
    [InlineData("time,reference,reference_u,value,sd\n0,8,0,8,0.1\n", "n says one reading")]
    [InlineData("time,reference,reference_u,value,n,sd\n0,8,0,8,3,-0.1\n", "the standard deviation is -0.1")]
    [InlineData("time,reference,reference_u,value,preparation_u\n0,8,0.1,8,0.2\n", "0.2 is no part of reference_u, which is 0.1")]
    [InlineData("time,reference,reference_u,value\n0,0,0,0.1\n", "tolerance at 0 is zero", "--tolerance", "5%")]
    [InlineData("time,reference,reference_u,value\n0,8,0,8\n", "--risk is 90%", "--risk", "90%")]
    [InlineData("time,reference,reference_u,value\n0,8,0,8\n", "--checks-per-year is 0, but it is a number from 1 to 100", "--checks-per-year", "0")]
    [InlineData("time,reference,reference_u,value\n0,8,0,8\n", "--false-alarms-per-year is 50, but it is a number from 0.1 to 12", "--false-alarms-per-year", "50")]
    [InlineData("time,reference,reference_u,value\n1767225600,8,0,8\n", "Write days, not seconds")]
    [InlineData("time,reference,reference_u,value\n9999-12-31,8,0,8\n", "“9999-12-31” lies more than 2900000 days off")]
    [InlineData("time,reference,reference_u,value\n0,8,0,8\n", "--resolution", "--resolution", "-1")]
    [InlineData("time,reference,reference_u,value\n0,8,0,8\n", "stones", "--unit", "stones")]
    [InlineData("time,reference,reference_u,value\n0,8,0,8\n", "is not a tolerance", "--tolerance", "5% +")]
    public async Task Bad_input_is_refused_with_what_would_help(string table, string says, params string[] more) =>
        Assert.Contains(says, (await Drift(table, more)).Refused().Error, StringComparison.Ordinal);

    [Fact]
    public async Task Empty_cells_and_the_sd_of_one_reading_are_not_known()
    {
        var json = await Json("Time;Reference;Reference_u;Value;n;sd;lot\n0;8,0;0,1;8,1;;;\n7;8,0;0,1;8,2;3;0,1;K-1\n14;8,0;0,1;8,1;1;0;\n", "--tolerance", "0.5");

        Assert.Equal([null, "K-1", "K-1"], json.GetProperty("points").EnumerateArray().Select(p => p.GetProperty("lot").GetString()));
        Assert.Equal([3], json.GetProperty("limits").GetProperty("sd").GetProperty("checks").EnumerateArray().Select(c => c.GetProperty("readings").GetInt32()));
        Assert.Equal("K-1", Assert.Single(json.GetProperty("events").EnumerateArray()).GetProperty("lot").GetString());
    }
}
