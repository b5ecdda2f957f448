using System.Buffers.Text;
using System.Security.Cryptography;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Tests.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tests.Benches;

public sealed class DeviceTests(PostgresCluster cluster)
{
    private static async Task<PairDevice.Outcome.Paired> Pair(TestBench bench, string name = "Wet phone", bool overHttps = false) =>
        Assert.IsType<PairDevice.Outcome.Paired>(await bench.Do<PairDevice, PairDevice.Outcome>(u => u.Handle(new PairDevice.Command { Name = name, OverHttps = overHttps, Who = "MJ" }, default)));

    private static Task<Guid?> Recognise(TestBench bench, string? pass, bool overHttps = false) => bench.Do<RecogniseDevice, Guid?>(u => u.Handle(pass, overHttps, default));

    private static Task<IReadOnlyList<DeviceView>> List(TestBench bench) => bench.Do<ListDevices, IReadOnlyList<DeviceView>>(u => u.Handle(default));

    private static Task<RemoveDevice.Outcome> Remove(TestBench bench, Guid device, Guid? request = null) =>
        bench.Do<RemoveDevice, RemoveDevice.Outcome>(u => u.Handle(new RemoveDevice.Command { Device = device, RequestId = request }, default));

    private static Task<Undo.Outcome> TakeBack(TestBench bench, Guid entry) => bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = entry }, default));

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_paired_device_is_known_by_its_pass_and_by_no_other(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (first, second) = (await Pair(bench), await Pair(bench, ""));
        Assert.Equal(first.Device, await Recognise(bench, first.Pass));
        Assert.Equal(second.Device, await Recognise(bench, second.Pass));

        Assert.Null(await Recognise(bench, null));
        Assert.Null(await Recognise(bench, ""));
        Assert.Null(await Recognise(bench, "nonsense"));
        Assert.Null(await Recognise(bench, $"{first.Device:N}."));
        Assert.Null(await Recognise(bench, $"{first.Device:N}{second.Pass[32..]}"));
        Assert.Null(await Recognise(bench, $"{Guid.CreateVersion7():N}{first.Pass[32..]}"));
        Assert.Null(await Recognise(bench, first.Pass + "A"));
        Assert.Null(await Recognise(bench, first.Pass[..^1] + (first.Pass[^1] == 'A' ? 'E' : 'A')));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Only_the_hash_of_a_long_secret_is_kept(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var paired = await Pair(bench);
        var typed = paired.Pass[33..];
        var secret = Base64Url.DecodeFromChars(typed);
        Assert.Equal(256, secret.Length * 8);
        await using var records = bench.Store.NewContext();
        var row = await records.PairedDevices.SingleAsync(TestContext.Current.CancellationToken);
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(secret)), row.SecretHash);
        var history = await records.History.Select(h => h.Changes + h.Sentence).ToListAsync(TestContext.Current.CancellationToken);
        var answers = await records.HandledRequests.Select(r => r.Outcome).ToListAsync(TestContext.Current.CancellationToken);
        Assert.All(history.Concat(answers), text =>
        {
            Assert.DoesNotContain(typed, text, StringComparison.Ordinal);
            Assert.DoesNotContain(Convert.ToHexString(secret), text, StringComparison.OrdinalIgnoreCase);
        });
        Assert.NotEqual(typed, (await Pair(bench)).Pass[33..]);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_was_paired_over_http_is_not_known_over_https_nor_the_other_way_round(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (open, closed) = (await Pair(bench, overHttps: false), await Pair(bench, overHttps: true));
        Assert.Null(await Recognise(bench, open.Pass, overHttps: true));
        Assert.Null(await Recognise(bench, closed.Pass, overHttps: false));
        Assert.Equal(closed.Device, await Recognise(bench, closed.Pass, overHttps: true));
        Assert.Equal([true, false], (await List(bench)).Select(d => d.OverHttps).OrderDescending());
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Taken_away_it_is_unknown_at_once_and_known_again_when_that_is_undone(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var paired = await Pair(bench);
        var request = Guid.CreateVersion7();
        var removed = Assert.IsType<RemoveDevice.Outcome.Removed>(await Remove(bench, paired.Device, request));
        Assert.Equal(removed, await Remove(bench, paired.Device, request));
        Assert.Null(await Recognise(bench, paired.Pass));
        Assert.Empty(await List(bench));
        Assert.IsType<RemoveDevice.Outcome.Missing>(await Remove(bench, paired.Device));

        Assert.IsType<Undo.Outcome.Undone>(await TakeBack(bench, removed.HistoryEntry));
        Assert.Equal(paired.Device, await Recognise(bench, paired.Pass));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Undoing_the_pairing_takes_the_device_away_too_also_after_it_was_seen(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var paired = await Pair(bench);
        bench.Time.Advance(TimeSpan.FromHours(3));
        Assert.NotNull(await Recognise(bench, paired.Pass));
        var line = (await bench.Do<ListHistory, HistoryList>(u => u.Handle(new ListHistory.Query(), default))).Items.Single();
        Assert.Equal(("Wet phone paired over plain http.", "phone", "MJ"), (line.Sentence, line.SubjectKind, line.Who));
        Assert.IsType<Undo.Outcome.Undone>(await TakeBack(bench, line.Id));
        Assert.Null(await Recognise(bench, paired.Pass));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task It_is_noted_in_which_hour_it_was_last_seen_and_no_finer(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var paired = await Pair(bench);
        Assert.Equal("in this hour", (await List(bench)).Single().SeenWords);
        bench.Time.Advance(TimeSpan.FromMinutes(95)); // 09:15
        Assert.NotNull(await Recognise(bench, paired.Pass));
        await using (var records = bench.Store.NewContext())
            Assert.Equal(NodaTime.Instant.FromUtc(2026, 9, 3, 9, 0), (await records.PairedDevices.SingleAsync(TestContext.Current.CancellationToken)).LastSeenHour);
        bench.Time.Advance(TimeSpan.FromDays(2));
        Assert.StartsWith("3\u00A0September, in the hour from ", (await List(bench)).Single().SeenWords, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Names_are_kept_apart_and_a_long_one_is_refused(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        foreach (var name in new[] { "", "Phone", "Phone 2", " Kelp " })
            await Pair(bench, name);
        Assert.Equal(["Kelp", "Phone", "Phone 2", "Phone 2 2"], (await List(bench)).Select(d => d.Name).Order(StringComparer.Ordinal));
        var refused = await bench.Do<PairDevice, PairDevice.Outcome>(u => u.Handle(new PairDevice.Command { Name = new string('x', 41), OverHttps = true }, default));
        Plans.Only(Assert.IsType<PairDevice.Outcome.Refused>(refused).Faults, "Name");
        Assert.Single(PairDevice.FaultsOf(new string('x', 41)));
        Assert.Empty(PairDevice.FaultsOf("Kelp"));
    }
}
