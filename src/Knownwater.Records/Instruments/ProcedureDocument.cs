using System.Collections.Concurrent;
using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Knownwater.Quantities;

namespace Knownwater.Records.Instruments;

/// <summary>A procedure as a JSON document, by <c>docs/reference/procedure.schema.json</c>.</summary>
public static class ProcedureDocument
{
    /// <summary>What a timer says that takes as long as the method’s reading.</summary>
    public const string ReadingTime = "reading time";

    private static readonly string[] Keys = ["name", "source", "residual", "rinse", "steps"];
    private static readonly string[] StepKeys = ["key", "when", "kind", "cue", "act", "done", "timer", "signal", "why", "caution"];
    private static readonly JsonSerializerOptions Written = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
    private static readonly ConcurrentDictionary<string, Procedure> Ours = new(StringComparer.Ordinal);

    /// <summary>When a step applies, as the document says it.</summary>
    public static IReadOnlyDictionary<ProcedureWhen, string> WhenWords { get; } = new Dictionary<ProcedureWhen, string>
    {
        [ProcedureWhen.Start] = "start", [ProcedureWhen.FirstReplicate] = "first replicate", [ProcedureWhen.EachReplicate] = "each replicate", [ProcedureWhen.End] = "end",
    };

    /// <summary>What a step is, as the document says it.</summary>
    public static IReadOnlyDictionary<ProcedureStepKind, string> KindWords { get; } = new Dictionary<ProcedureStepKind, string>
    {
        [ProcedureStepKind.Wait] = "wait", [ProcedureStepKind.Pour] = "pour", [ProcedureStepKind.Nothing] = "nothing", [ProcedureStepKind.Dispense] = "dispense",
        [ProcedureStepKind.Act] = "act", [ProcedureStepKind.Confirm] = "confirm", [ProcedureStepKind.Read] = "read",
    };

    /// <summary>Reads a document.</summary>
    /// <param name="text">The JSON text.</param>
    /// <returns>The procedure, or null with what is wrong: each fault at the place in the document, <c>steps[3].act</c>.</returns>
    public static (Procedure? Procedure, IReadOnlyList<FieldFault> Faults) Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var faults = new List<FieldFault>();
        JsonNode? root;
        try
        {
            root = JsonNode.Parse(text, documentOptions: new JsonDocumentOptions { AllowDuplicateProperties = false });
        }
        catch (JsonException fault)
        {
            return (null, [new FieldFault("", $"This is no JSON document: line {(fault.LineNumber ?? 0) + 1} cannot be read.")]);
        }
        if (root is not JsonObject document)
            return (null, [new FieldFault("", "A procedure is a JSON object with name, residual, rinse and steps.")]);
        Unknown(document, Keys, "", faults);
        var steps = new List<ProcedureStep>();
        if (document["steps"] is JsonArray array)
        {
            for (var i = 0; i < array.Count; i++)
            {
                if (array[i] is JsonObject step)
                    steps.Add(Step(step, $"steps[{i}].", faults));
                else
                    faults.Add(new FieldFault($"steps[{i}]", "A step is an object with key, when, kind, act and done."));
            }
        }
        else
        {
            faults.Add(new FieldFault("steps", "The steps are missing; they are a list."));
        }
        var procedure = new Procedure
        {
            Name = Needed(document, "name", "", faults),
            Source = Text(document, "source", "", faults) ?? "",
            ResidualMillilitres = Volume(document, "residual", faults),
            RinseMillilitres = Volume(document, "rinse", faults),
            Steps = steps,
        };
        if (faults.Count == 0)
            faults.AddRange(procedure.Faults().Select(f => f with { Field = InDocument(f.Field) }));
        return faults.Count == 0 ? (procedure, []) : (null, faults);
    }

    /// <summary>What is wrong with a document, in sentences that name the step by its place and its key: “Step 5 (fill-1), act: …”.</summary>
    /// <param name="text">The JSON text.</param>
    /// <param name="faults">What <see cref="Read"/> found wrong with it.</param>
    /// <returns>The first faults, one after the other, and how many more there are.</returns>
    public static string Said(string text, IReadOnlyList<FieldFault> faults)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(faults);
        const int Most = 4;
        JsonArray? steps;
        try
        {
            steps = (JsonNode.Parse(text) as JsonObject)?["steps"] as JsonArray;
        }
        catch (Exception fault) when (fault is JsonException or ArgumentException)
        {
            steps = null;
        }
        string Key(int place) => steps is not null && place < steps.Count && steps[place] is JsonObject step && step["key"] is JsonValue value && value.TryGetValue<string>(out var key) && key.Trim().Length > 0 ? $" ({key.Trim()})" : "";
        string One(FieldFault fault)
        {
            var parts = fault.Field.Split('.');
            var place = parts[0].StartsWith("steps[", StringComparison.Ordinal) && int.TryParse(parts[0][6..^1], NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : -1;
            return (place, parts.Length) switch
            {
                (>= 0, > 1) => $"Step {place + 1}{Key(place)}, {parts[1]}: {fault.Sentence}",
                (>= 0, _) => $"Step {place + 1}: {fault.Sentence}",
                _ when fault.Field.Length > 0 => $"{Words.Capital(fault.Field)}: {fault.Sentence}",
                _ => fault.Sentence,
            };
        }
        return string.Join(' ', faults.Take(Most).Select(One)) + (faults.Count > Most ? $" And {Words.Count(faults.Count - Most)} more." : "");
    }

    /// <summary>Writes a procedure as a document; reading it gives the same procedure.</summary>
    /// <param name="procedure">The procedure.</param>
    /// <returns>The JSON text, indented.</returns>
    public static string Write(Procedure procedure)
    {
        ArgumentNullException.ThrowIfNull(procedure);
        var document = new JsonObject { ["name"] = procedure.Name };
        if (procedure.Source.Length > 0)
            document["source"] = procedure.Source;
        document["residual"] = Millilitres(procedure.ResidualMillilitres);
        document["rinse"] = Millilitres(procedure.RinseMillilitres);
        document["steps"] = new JsonArray([.. procedure.Steps.Select(Write)]);
        return document.ToJsonString(Written);
    }

    /// <summary>A timer as the document writes it: “90 s”, “reading time”, “reading time, else 90 s”; null for none.</summary>
    internal static string? Timer(ProcedureStep step) => (step.TakesReadingTime, step.Seconds) switch
    {
        (true, null) => ReadingTime,
        (true, { } seconds) => string.Create(CultureInfo.InvariantCulture, $"{ReadingTime}, else {seconds} s"),
        (false, { } seconds) => string.Create(CultureInfo.InvariantCulture, $"{seconds} s"),
        _ => null,
    };

    /// <summary>Reads a timer; null where it is none.</summary>
    internal static (bool ReadingTime, int? Seconds)? ReadTimer(string text)
    {
        var rest = text.Trim();
        var reading = rest.StartsWith(ReadingTime, StringComparison.OrdinalIgnoreCase);
        if (reading)
        {
            rest = rest[ReadingTime.Length..].TrimStart();
            if (rest.Length == 0)
                return (true, null);
            if (!rest.StartsWith(", else ", StringComparison.OrdinalIgnoreCase))
                return null;
            rest = rest[7..].Trim();
        }
        var factor = rest.EndsWith(" min", StringComparison.Ordinal) ? 60 : rest.EndsWith(" s", StringComparison.Ordinal) ? 1 : 0;
        return factor > 0 && int.TryParse(rest[..rest.LastIndexOf(' ')], NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number is >= 1 and <= Procedure.LongestTimer
            ? (reading, number * factor) : null;
    }

    internal static Procedure Shipped(string name) => Ours.GetOrAdd(name, static n =>
    {
        using var stream = typeof(ProcedureDocument).Assembly.GetManifestResourceStream($"Knownwater.Records.Instruments.{n}.json")
            ?? throw new InvalidOperationException($"The program lacks its procedure {n}.");
        using var reader = new StreamReader(stream);
        var (procedure, faults) = Read(reader.ReadToEnd());
        return procedure ?? throw new InvalidOperationException($"The program’s procedure {n} cannot be read: {string.Join(" ", faults.Select(f => $"{f.Field}: {f.Sentence}"))}");
    });

    private static ProcedureStep Step(JsonObject step, string at, List<FieldFault> faults)
    {
        Unknown(step, StepKeys, at, faults);
        (bool ReadingTime, int? Seconds)? timer = null;
        if (Text(step, "timer", at, faults) is { } text && (timer = ReadTimer(text)) is null)
            faults.Add(new FieldFault(at + "timer", $"“{text}” is no timer. Write it as “90 s”, “5 min” or “{ReadingTime}”."));
        var signal = false;
        if (step["signal"] is { } given && !(given is JsonValue value && value.TryGetValue(out signal)))
            faults.Add(new FieldFault(at + "signal", "Whether it signals is true or false."));
        return new ProcedureStep
        {
            Key = Needed(step, "key", at, faults),
            When = Word(step, "when", at, WhenWords, faults),
            Kind = Word(step, "kind", at, KindWords, faults),
            Cue = Text(step, "cue", at, faults),
            Act = Needed(step, "act", at, faults),
            Done = Needed(step, "done", at, faults),
            TakesReadingTime = timer?.ReadingTime ?? false,
            Seconds = timer?.Seconds,
            Signal = signal,
            Why = Text(step, "why", at, faults),
            Caution = Text(step, "caution", at, faults),
        };
    }

    private static JsonObject Write(ProcedureStep step)
    {
        var written = new JsonObject { ["key"] = step.Key, ["when"] = WhenWords[step.When], ["kind"] = KindWords[step.Kind] };
        void Add(string key, string? text)
        {
            if (!string.IsNullOrEmpty(text))
                written[key] = text;
        }
        Add("cue", step.Cue);
        written["act"] = step.Act;
        written["done"] = step.Done;
        Add("timer", Timer(step));
        if (step.Signal)
            written["signal"] = true;
        Add("why", step.Why);
        Add("caution", step.Caution);
        return written;
    }

    private static void Unknown(JsonObject part, string[] known, string at, List<FieldFault> faults) =>
        faults.AddRange(part.Select(p => p.Key).Except(known, StringComparer.Ordinal).Select(k => new FieldFault(at + k, $"“{k}” is not known here. Known are {string.Join(", ", known)}.")));

    private static string? Text(JsonObject part, string key, string at, List<FieldFault> faults)
    {
        if (part[key] is not { } node)
            return null;
        if (node is JsonValue value && value.TryGetValue<string>(out var text))
            return text.Trim() is { Length: > 0 } trimmed ? trimmed : null;
        faults.Add(new FieldFault(at + key, $"{key} is a text in quotation marks."));
        return null;
    }

    private static string Needed(JsonObject part, string key, string at, List<FieldFault> faults)
    {
        var before = faults.Count;
        if (Text(part, key, at, faults) is { } text)
            return text;
        if (faults.Count == before)
            faults.Add(new FieldFault(at + key, $"{key} is missing."));
        return "";
    }

    private static T Word<T>(JsonObject part, string key, string at, IReadOnlyDictionary<T, string> words, List<FieldFault> faults)
        where T : struct, Enum
    {
        var text = Needed(part, key, at, faults);
        foreach (var (word, written) in words)
        {
            if (written == text)
                return word;
        }
        if (text.Length > 0)
            faults.Add(new FieldFault(at + key, $"“{text}” is not known here. Known are {string.Join(", ", words.Values)}."));
        return default;
    }

    private static double Volume(JsonObject document, string key, List<FieldFault> faults)
    {
        var text = Needed(document, key, "", faults);
        if (text.Length == 0)
            return 0;
        try
        {
            return QuantityText.ReadVolumeMillilitres(text, DecimalSign.Point);
        }
        catch (QuantityFormatException fault)
        {
            faults.Add(new FieldFault(key, fault.Message));
            return 0;
        }
    }

    private static string Millilitres(double value) => string.Create(CultureInfo.InvariantCulture, $"{value:R} mL");

    private static string InDocument(string field) => string.Join('.', field.Split('.').Select(p => char.ToLowerInvariant(p[0]) + p[1..]));
}
