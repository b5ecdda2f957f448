using CsCheck;
using Knownwater.Checks;
using Knownwater.Quantities;

namespace Knownwater.Tests.Checks;

public sealed class RunningOrderTests
{
    private static readonly Guid A = new("00000000-0000-0000-0000-00000000000a");
    private static readonly Guid B = new("00000000-0000-0000-0000-00000000000b");

    private static readonly string[] Analytes = ["n", "p", "k", ""];

    private static RunningItem Item(string analyte, Guid instrument, Matrix matrix, double? keeps = null, params string[] brings) =>
        new() { Analyte = analyte, Instrument = instrument, Matrix = matrix, KeepsDays = keeps, Brings = brings };

    [Fact]
    public void The_matrix_changes_once_and_what_keeps_least_goes_first()
    {
        RunningItem[] items =
        [
            Item("nitrate", A, Matrix.Seawater, 7), Item("hardness", A, Matrix.FreshWater, 30), Item("phosphate", A, Matrix.Seawater, 3), Item("ammonia", A, Matrix.FreshWater, 1),
        ];
        var order = RunningOrder.Of(items);
        Assert.Equal([3, 1, 2, 0], order);
        Assert.Equal(1, RunningOrder.MatrixChanges(items, order));
        Assert.Equal(3, RunningOrder.MatrixChanges(items, [0, 1, 2, 3]));
    }

    [Fact]
    public void A_water_that_brings_much_of_another_analyte_comes_after_its_check()
    {
        // the phosphate standard in nitric acid keeps less, but its residue would be read as nitrate
        RunningItem[] items = [Item("phosphate", A, Matrix.Seawater, 3, "nitrate"), Item("nitrate", A, Matrix.Seawater, 7)];
        Assert.Equal([1, 0], RunningOrder.Of(items));
        // where each spoils the other, age decides
        RunningItem[] both = [Item("phosphate", A, Matrix.Seawater, 7, "nitrate"), Item("nitrate", A, Matrix.Seawater, 3, "phosphate")];
        Assert.Equal([1, 0], RunningOrder.Of(both));
    }

    [Fact]
    public void Ages_that_are_no_ages_are_refused()
    {
        Assert.Contains("-1", Assert.Throws<ArgumentException>(() => RunningOrder.Of([Item("nitrate", A, Matrix.Seawater, -1)])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => RunningOrder.Of([Item("nitrate", A, Matrix.Seawater, double.NaN)]));
        Assert.Empty(RunningOrder.Of([]));
    }

    [Fact]
    public void Every_check_runs_once_and_no_order_changes_the_matrix_less()
    {
        var one = Gen.Select(Gen.Bool.Select(b => b ? A : B), Gen.Bool.Select(b => b ? Matrix.Seawater : Matrix.FreshWater), Gen.Double[0, 30], Gen.Int[0, 2].Select(i => Analytes[i]), Gen.Int[0, 3].Select(i => Analytes[i]))
            .Select((instrument, matrix, keeps, analyte, brings) => Item(analyte, instrument, matrix, keeps, brings.Length > 0 && brings != analyte ? [brings] : []));
        one.Array[0, 7].Sample(items =>
        {
            var order = RunningOrder.Of(items);
            Assert.Equal(Enumerable.Range(0, items.Length), order.Order());
            // each instrument needs one change less than it has matrices, and that is what is counted
            Assert.Equal(items.GroupBy(i => i.Instrument).Sum(g => g.Select(i => i.Matrix).Distinct().Count() - 1), RunningOrder.MatrixChanges(items, order));
        });
    }
}
