using System.Text.Json;

namespace Knownwater.Cli.Tests;

/// <summary>One call of the command with what it printed.</summary>
internal sealed record Called(int Exit, string Output, string Error)
{
    public static async Task<Called> With(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var exit = await new CommandLine(output, error).Run(args, TestContext.Current.CancellationToken);
        return new Called(exit, output.ToString(), error.ToString());
    }

    public JsonElement Json
    {
        get
        {
            using var document = JsonDocument.Parse(Output);
            return document.RootElement.Clone();
        }
    }

    /// <summary>The keys of a JSON object, in order.</summary>
    public static IEnumerable<string> Keys(JsonElement json) => json.EnumerateObject().Select(property => property.Name);

    /// <summary>Refused: exit 2, nothing on the output, one line on the error stream.</summary>
    public Called Refused()
    {
        Assert.Equal(2, Exit);
        Assert.Equal("", Output);
        Assert.Single(Error.TrimEnd().Split('\n'));
        Assert.DoesNotContain("Exception", Error, StringComparison.Ordinal);
        Assert.DoesNotContain("(Parameter", Error, StringComparison.Ordinal);
        return this;
    }
}
