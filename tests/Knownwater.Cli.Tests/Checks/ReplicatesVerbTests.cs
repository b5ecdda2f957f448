using System.Text.Json;

namespace Knownwater.Cli.Tests.Checks;

public class ReplicatesVerbTests
{
    [Fact]
    public async Task Json_holds_the_agreed_keys()
    {
        var json = (await Called.With("replicates", "--tolerance", "0.3 dKH + 2%", "--at", "7.9 dKH", "--sd", "0.15", "--reference-u", "0.04", "--json")).Json;

        Assert.Equal(["n", "power_right", "power_wrong", "limited_by_reference", "limited_by_resolution", "sentence"], Called.Keys(json));
        Assert.InRange(json.GetProperty("n").GetInt32(), 2, 10);
        Assert.InRange(json.GetProperty("power_right").GetDouble(), 0.9, 1);
        Assert.InRange(json.GetProperty("power_wrong").GetDouble(), 0.9, 1);
        Assert.False(json.GetProperty("limited_by_reference").GetBoolean());
    }

    [Fact]
    public async Task No_number_where_the_known_water_is_the_limit()
    {
        var json = (await Called.With("replicates", "--tolerance", "5%", "--at", "7.9 dKH", "--sd", "0.15 dKH", "--reference-u", "0.3 dKH", "--json")).Json;

        Assert.Equal(JsonValueKind.Null, json.GetProperty("n").ValueKind);
        Assert.True(json.GetProperty("limited_by_reference").GetBoolean());
    }

    [Fact]
    public async Task Power_out_of_range_is_refused() =>
        Assert.Contains("0.5 and 1", (await Called.With("replicates", "--tolerance", "5%", "--at", "7.9 dKH", "--sd", "0.1", "--power", "90")).Refused().Error, StringComparison.Ordinal);
}
