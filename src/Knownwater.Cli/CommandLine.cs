using System.CommandLine;
using System.CommandLine.Help;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Knownwater.Cli.Checks;
using Knownwater.Cli.Demo;
using Knownwater.Cli.Quantities;

namespace Knownwater.Cli;

/// <summary>The <c>knownwater</c> command: verbs, their common options, and how errors leave it.</summary>
/// <param name="output">Where answers go.</param>
/// <param name="error">Where errors go, one sentence each.</param>
public sealed class CommandLine(TextWriter output, TextWriter error)
{
    private static readonly JsonSerializerOptions Written = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping, WriteIndented = true };

    /// <summary>Bad input.</summary>
    public const int BadInput = 2;

    /// <summary>A failure that is not the caller's.</summary>
    public const int Failure = 1;

    internal Option<bool> Json { get; } = new("--json") { Description = "Print one JSON object instead of text.", Recursive = true };

    internal Option<string?> Records { get; } = new("--records") { Description = "The store: a file, or a PostgreSQL connection. Default: your own file; or the environment variable KNOWNWATER_RECORDS.", Recursive = true };

    /// <summary>Whether a person watches: progress is drawn on a terminal only.</summary>
    internal bool ShowsProgress => ReferenceEquals(output, Console.Out) && !Console.IsOutputRedirected;

    /// <summary>Runs the command.</summary>
    /// <param name="args">Its arguments.</param>
    /// <param name="cancel">Stops long work.</param>
    /// <returns>0, or 2 for bad input, 1 for a failure.</returns>
    public async Task<int> Run(string[] args, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(args);
        var root = new Command("knownwater", "Is the analyser reading right today? Known water tells.") { new HelpOption(), new VersionOption(), Json, Records };
        root.Add(ConvertVerb.Create(this));
        root.Add(JudgeVerb.Create(this));
        root.Add(ReplicatesVerb.Create(this));
        root.Add(ServeVerb.Create(this));
        root.Add(DemoVerb.Create(this));
        if (args.Length == 0)
            args = ["--help"];
        var parsed = root.Parse(args);
        if (parsed.Errors.Count > 0 && parsed.Action is not HelpAction)
        {
            return Complain((parsed.UnmatchedTokens is [var unknown, ..]
                ? $"“{unknown}” is not known here. Verbs are {string.Join(", ", root.Subcommands.Select(c => c.Name))}."
                : OneSentence(parsed.Errors[0].Message)) + " See knownwater --help.");
        }
        try
        {
            return await parsed.InvokeAsync(new InvocationConfiguration { Output = output, Error = error, EnableDefaultExceptionHandler = false }, cancel);
        }
        catch (Exception fault) when (fault is ArgumentException or FormatException or Knownwater.Quantities.MissingWaterStateException or OverflowException)
        {
            return Complain(fault.Message);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or InvalidOperationException or Knownwater.Records.Storage.RecordsStoreException)
        {
            error.WriteLine(OneSentence(fault.Message));
            return Failure;
        }
    }

    /// <summary>Writes a JSON object, full precision, or the text.</summary>
    internal int Answer(ParseResult parsed, JsonObject json, Action<TextWriter> text)
    {
        if (parsed.GetValue(Json))
            output.WriteLine(json.ToJsonString(Written));
        else
            text(output);
        return 0;
    }

    private int Complain(string message)
    {
        error.WriteLine(OneSentence(message));
        return BadInput;
    }

    /// <summary>The message on one line, without the parameter name that .NET appends.</summary>
    private static string OneSentence(string message)
    {
        var line = message.ReplaceLineEndings(" ");
        var appended = line.LastIndexOf(" (Parameter '", StringComparison.Ordinal);
        if (appended > 0)
            line = line[..appended];
        return line.EndsWith('.') || line.EndsWith('?') ? line : line + ".";
    }
}
