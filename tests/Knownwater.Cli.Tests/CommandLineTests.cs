namespace Knownwater.Cli.Tests;

public class CommandLineTests
{
    public static readonly TheoryData<string> Verbs = ["convert", "judge", "replicates", "drift", "serve", "certificate", "demo"];

    [Theory, MemberData(nameof(Verbs))]
    public async Task Every_verb_explains_itself(string verb)
    {
        var called = await Called.With(verb, "--help");

        Assert.Equal(0, called.Exit);
        Assert.Equal("", called.Error);
        Assert.Contains("--json", called.Output, StringComparison.Ordinal);
    }

    [Theory, InlineData("--help"), InlineData()]
    public async Task Help_names_every_verb(params string[] args)
    {
        var called = await Called.With(args);

        Assert.Equal(0, called.Exit);
        foreach (var verb in Verbs)
            Assert.Contains(verb, called.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Version_is_an_answer()
    {
        var called = await Called.With("--version");

        Assert.Equal(0, called.Exit);
        Assert.Matches(@"^\d+\.\d+\.\d+", called.Output);
    }

    [Theory]
    [InlineData("“jugde” is not known here", "jugde")]
    [InlineData("“jugde” is not known here", "jugde", "--json")]
    [InlineData("convert, seawater, carbonate, ammonia, judge, replicates, summary, prepare, compare, drift, arl, serve, certificate, demo", "jugde")]
    [InlineData("“--jsn” is not an option of convert", "--jsn", "convert", "8 dKH", "meq/L")]
    [InlineData("A verb is missing", "--json")]
    [InlineData("--records needs a value", "--records")]
    [InlineData("“--wan” is not an option of serve", "serve", "--wan")]
    [InlineData("“now” is one word too many: serve takes options alone", "serve", "now")]
    [InlineData("convert needs QUANTITY", "convert")]
    [InlineData("convert needs FORM", "convert", "5 mg/L NO3")]
    [InlineData("“NO3-N” is one word too many: convert takes QUANTITY FORM, each in quotes", "convert", "5", "mg/L", "NO3-N")]
    [InlineData("replicates needs --tolerance", "replicates", "--at", "8 dKH", "--sd", "0.1")]
    [InlineData("--sd is given more than once (0.1, 0.2)", "replicates", "--at", "8 dKH", "--sd", "0.1", "--sd", "0.2", "--tolerance", "5%")]
    [InlineData("--tolerance is given more than once", "judge", "--tolerance", "5%", "--tolerance", "4%", "8")]
    [InlineData("--at needs a value", "replicates", "--at")]
    public async Task Call_that_cannot_be_understood_is_refused_with_one_sentence(string says, params string[] args) =>
        Assert.Contains(says, (await Called.With(args)).Refused().Error, StringComparison.Ordinal);

    [Fact]
    public async Task Store_that_cannot_be_opened_is_a_failure_and_not_bad_input()
    {
        var folder = Directory.CreateTempSubdirectory("knownwater-cli-");
        try
        {
            var text = Path.Combine(folder.FullName, "letter.txt");
            await File.WriteAllTextAsync(text, new string('a', 5000), TestContext.Current.CancellationToken);

            var called = await Called.With("demo", "--load", "--records", text);

            Assert.Equal(1, called.Exit);
            Assert.Equal("", called.Output);
            Assert.Contains("letter.txt", Assert.Single(called.Error.TrimEnd().Split('\n')), StringComparison.Ordinal);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Theory, MemberData(nameof(Verbs))]
    public async Task No_two_options_differ_by_case_alone(string verb)
    {
        var help = (await Called.With(verb, "--help")).Output;
        var options = System.Text.RegularExpressions.Regex.Matches(help, @"(?<![\w-])--?[A-Za-z][\w-]*", System.Text.RegularExpressions.RegexOptions.None, TimeSpan.FromSeconds(1))
            .Select(match => match.Value).Distinct(StringComparer.Ordinal).ToList();

        Assert.NotEmpty(options);
        Assert.Equal(options.Count, options.Distinct(StringComparer.OrdinalIgnoreCase).Count());
    }
}
