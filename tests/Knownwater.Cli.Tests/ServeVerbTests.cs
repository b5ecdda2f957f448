namespace Knownwater.Cli.Tests;

public class ServeVerbTests
{
    [Fact]
    public async Task Prints_its_address_answers_there_and_ends_well_when_stopped()
    {
        var folder = Directory.CreateTempSubdirectory("knownwater-cli-");
        try
        {
            using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
            await using var output = new Lines();
            await using var error = new StringWriter();
            var served = new CommandLine(output, error).Run(["serve", "--urls", "http://127.0.0.1:0", "--records", Path.Combine(folder.FullName, "records.db")], stop.Token);

            var opened = output.First("Knownwater is open at ");
            Assert.True(await Task.WhenAny(opened, served) == opened, error.ToString());
            var address = new Uri((await opened)["Knownwater is open at ".Length..]);
            Assert.True(address.IsLoopback);
            using var client = new HttpClient();
            Assert.Contains("Knownwater", await client.GetStringAsync(address, TestContext.Current.CancellationToken), StringComparison.Ordinal);

            await stop.CancelAsync();
            Assert.Equal(0, await served);
            Assert.Equal("", error.ToString());
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Theory]
    [InlineData("http://0.0.0.0:5300", "other machines")]
    [InlineData("http://192.0.2.1:5300", "other machines")]
    [InlineData("harbour", "not an address")]
    public async Task Address_that_is_not_this_machine_s_own_is_refused(string address, string says) =>
        Assert.Contains(says, (await Called.With("serve", "--urls", address)).Refused().Error, StringComparison.Ordinal);

    /// <summary>Tells of the first line that begins as asked, as soon as it is written.</summary>
    private sealed class Lines : StringWriter
    {
        private readonly TaskCompletionSource<string> found = new(TaskCreationOptions.RunContinuationsAsynchronously);
        private string? asked;

        public Task<string> First(string beginning)
        {
            asked = beginning;
            Look();
            return found.Task;
        }

        public override async Task WriteLineAsync(string? value)
        {
            await base.WriteLineAsync(value);
            Look();
        }

        private void Look()
        {
            if (asked is not null && ToString().Split('\n').FirstOrDefault(line => line.StartsWith(asked, StringComparison.Ordinal)) is { } line)
                found.TrySetResult(line.TrimEnd());
        }
    }
}
