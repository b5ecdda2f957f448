namespace Knownwater.Cli.Tests.Drift;

public class ArlVerbTests
{
    // Lucas and Saccucci 1990; Lucas and Crosier 1982; Champ and Woodall 1987; the last two by R package spc
    [Theory]
    [InlineData("--chart individuals --shift 0", 370.40, 0.005)]
    [InlineData("--chart ewma --lambda 0.5 --width 3.071 --shift 0.5", 88.8, 0.05)]
    [InlineData("--chart cusum --k 0.5 --h 4 --shift 0.25", 74.2, 0.05)]
    [InlineData("--chart run-rules --shift 0", 91.75, 0.005)]
    [InlineData("--chart ewma --lambda 0.2 --width 2.962 --shift 0 --limits time-varying", 494.385651021863, 1e-3)]
    [InlineData("--chart cusum --k 0,5 --h 5 --shift 0", 465.443506, 1e-5)]
    public async Task It_answers_with_the_published_run_length(string arguments, double points, double within)
    {
        var json = (await Called.With(["arl", .. arguments.Split(' '), "--json"])).Json;

        Assert.Equal(["arl", "method"], Called.Keys(json));
        Assert.Equal(points, json.GetProperty("arl").GetDouble(), within);
    }

    [Theory]
    [InlineData("--chart ewma --width 3 --shift 0", "--lambda")]
    [InlineData("--chart cusum --k 0.5 --h 4 --lambda 0.2 --shift 0", "--lambda")]
    [InlineData("--chart ewma --lambda 1.5 --width 3 --shift 0", "1.5")]
    [InlineData("--chart pie --shift 0", "pie")]
    public async Task What_does_not_fit_is_refused_by_name(string arguments, string named) =>
        Assert.Contains(named, (await Called.With(["arl", .. arguments.Split(' ')])).Refused().Error, StringComparison.Ordinal);
}
