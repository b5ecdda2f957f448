using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Parsing;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Knownwater.Cli.Checks;
using Knownwater.Cli.Comparison;
using Knownwater.Cli.Demo;
using Knownwater.Cli.Drift;
using Knownwater.Cli.Preparation;
using Knownwater.Cli.Quantities;
using Knownwater.Cli.Seawater;
using Knownwater.Cli.Serve;
using Knownwater.Cli.Statistics;

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
        root.Add(SeawaterVerb.Create(this));
        root.Add(CarbonateVerb.Create(this));
        root.Add(AmmoniaVerb.Create(this));
        root.Add(JudgeVerb.Create(this));
        root.Add(ReplicatesVerb.Create(this));
        root.Add(SummaryVerb.Create(this));
        root.Add(PrepareVerb.Create(this));
        root.Add(CompareVerb.Create(this));
        root.Add(DriftVerb.Create(this));
        root.Add(ArlVerb.Create(this));
        root.Add(ServeVerb.Create(this));
        root.Add(CertificateVerb.Create(this));
        root.Add(DemoVerb.Create(this));
        if (args.Length == 0)
            args = ["--help"];
        var parsed = root.Parse(args);
        if (parsed.Errors.Count > 0 && parsed.Action is not HelpAction)
            return Complain(Misread(parsed, root));
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

    /// <summary>What cannot be understood in a call, and what would be.</summary>
    private static string Misread(ParseResult parsed, Command root)
    {
        var verb = parsed.CommandResult.Command;
        var verbs = string.Join(", ", root.Subcommands.Select(c => c.Name));
        var isVerb = !ReferenceEquals(verb, root);
        var help = isVerb ? $"knownwater {verb.Name} --help" : "knownwater --help";
        var takes = string.Join(" ", verb.Arguments.Select(a => a.Name));
        var option = parsed.Errors.Select(e => e.SymbolResult).OfType<OptionResult>().FirstOrDefault(o => !o.Implicit);
        return parsed.UnmatchedTokens switch
        {
            [var word, ..] when !isVerb => $"“{word}” is not known here: the verbs are {verbs}, and {help} explains them.",
            [['-', ..] word, ..] => $"“{word}” is not an option of {verb.Name}: {help} lists them.",
            [var word, ..] when takes.Length == 0 => $"“{word}” is one word too many: {verb.Name} takes options alone, and {help} lists them.",
            [var word, ..] => $"“{word}” is one word too many: {verb.Name} takes {takes}, each in quotes where it holds a space.",
            _ when option is { Tokens.Count: 0 } => $"{option.Option.Name} needs a value: {option.Option.Description!.TrimEnd('.')}.",
            _ when option is { Tokens.Count: > 1 } => $"{option.Option.Name} is given more than once ({string.Join(", ", option.Tokens.Select(t => t.Value))}): keep one.",
            _ when !isVerb => $"A verb is missing: give one of {verbs}; {help} explains them.",
            _ when Missing(parsed, verb) is { } missing => $"{verb.Name} needs {missing.Name}: {missing.Description!.TrimEnd('.')}.",
            _ => $"{parsed.Errors[0].Message.TrimEnd('.')}: {help} tells more.",
        };
    }

    /// <summary>The first argument or option that a verb cannot do without and did not get.</summary>
    private static Symbol? Missing(ParseResult parsed, Command verb) =>
        verb.Arguments.FirstOrDefault(argument => argument.Arity.MinimumNumberOfValues > 0 && parsed.GetResult(argument) is null or { Tokens.Count: 0 })
        ?? (Symbol?)verb.Options.FirstOrDefault(option => option.Required && parsed.GetResult(option) is null or { Implicit: true });

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
