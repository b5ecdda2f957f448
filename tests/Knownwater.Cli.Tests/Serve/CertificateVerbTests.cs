using System.Globalization;
using Knownwater.Web.Serve;

namespace Knownwater.Cli.Tests.Serve;

public sealed class CertificateVerbTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("knownwater-cli-");

    private string Records => Path.Combine(_folder.FullName, "records.db");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task Makes_an_authority_beside_the_records_and_says_what_comes_next()
    {
        var called = await Called.With("certificate", "--records", Records);

        Assert.Equal((0, ""), (called.Exit, called.Error));
        using var authority = LocalAuthority.Open(Path.Combine(_folder.FullName, "https"))!;
        Assert.Contains("An authority was made", called.Output, StringComparison.Ordinal);
        Assert.Contains(authority.Fingerprint, called.Output, StringComparison.Ordinal);
        foreach (var next in new[] { "knownwater serve --lan", "/trust", "Compare the fingerprint" })
            Assert.Contains(next, called.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("PRIVATE", called.Output, StringComparison.Ordinal);
        Assert.False(File.Exists(Records), "The verb needs no records, and makes none.");
    }

    [Fact]
    public async Task Json_names_the_files_and_the_days_and_a_second_call_changes_nothing()
    {
        var first = (await Called.With("certificate", "--records", Records, "--json")).Json;
        Assert.Equal(["folder", "authority", "server"], Called.Keys(first));
        Assert.Equal(["name", "made_now", "file", "sha256", "not_before", "not_after"], Called.Keys(first.GetProperty("authority")));
        Assert.Equal(["made_now", "names", "addresses", "not_after"], Called.Keys(first.GetProperty("server")));
        Assert.True(first.GetProperty("authority").GetProperty("made_now").GetBoolean());
        Assert.True(File.Exists(first.GetProperty("authority").GetProperty("file").GetString()));
        var machine = MachineNames.Read();
        Assert.Equal(machine.Names.Order(StringComparer.Ordinal), first.GetProperty("server").GetProperty("names").EnumerateArray().Select(n => n.GetString()!));
        Assert.Equal(machine.Addresses.Select(a => a.ToString()).Order(StringComparer.Ordinal), first.GetProperty("server").GetProperty("addresses").EnumerateArray().Select(n => n.GetString()!));
        DateTimeOffset At(string of, string key) => DateTimeOffset.Parse(first.GetProperty(of).GetProperty(key).GetString()!, CultureInfo.InvariantCulture);
        Assert.InRange(At("authority", "not_after") - DateTimeOffset.UtcNow, TimeSpan.FromDays(3650), TimeSpan.FromDays(3653));
        Assert.InRange(At("server", "not_after") - DateTimeOffset.UtcNow, TimeSpan.FromDays(396), TimeSpan.FromDays(397));

        var second = (await Called.With("certificate", "--records", Records, "--json")).Json;
        Assert.False(second.GetProperty("authority").GetProperty("made_now").GetBoolean());
        Assert.False(second.GetProperty("server").GetProperty("made_now").GetBoolean());
        Assert.Equal(first.GetProperty("authority").GetProperty("sha256").GetString(), second.GetProperty("authority").GetProperty("sha256").GetString());
    }

    [Fact]
    public async Task An_authority_that_has_run_out_is_replaced_and_the_phones_are_thought_of()
    {
        var folder = Path.Combine(_folder.FullName, "https");
        using (var old = LocalAuthority.Make(folder, MachineNames.Read(), DateTimeOffset.UtcNow.AddYears(-11)))
            Assert.False(old.IsGood(DateTimeOffset.UtcNow));

        var served = await Called.With("serve", "--lan", "--records", Records);
        if (MachineNames.Read().Addresses.Count > 0)
        {
            Assert.Equal((1, ""), (served.Exit, served.Output));
            Assert.Contains("Make a new one with knownwater certificate", served.Error, StringComparison.Ordinal);
        }

        Assert.Contains("every phone must trust this one anew", (await Called.With("certificate", "--records", Records)).Output, StringComparison.Ordinal);
        using var fresh = LocalAuthority.Open(folder)!;
        Assert.True(fresh.IsGood(DateTimeOffset.UtcNow));
    }

    [Fact]
    public async Task A_spoilt_authority_is_a_failure_that_says_what_to_do()
    {
        Directory.CreateDirectory(Path.Combine(_folder.FullName, "https"));
        await File.WriteAllTextAsync(Path.Combine(_folder.FullName, "https", "authority.pem"), "half", TestContext.Current.CancellationToken);

        var called = await Called.With("certificate", "--records", Records);

        Assert.Equal((1, ""), (called.Exit, called.Output));
        Assert.Contains("delete the folder", Assert.Single(called.Error.TrimEnd().Split('\n')), StringComparison.Ordinal);
    }
}
