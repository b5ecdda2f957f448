using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using Knownwater.Records.Instruments;

namespace Knownwater.Cli.Tests.Instruments;

/// <summary>The schema of a procedure says what the program reads, no more and no less.</summary>
public sealed class ProcedureSchemaTests
{
    private static readonly string SchemaText = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "docs", "reference", "procedure.schema.json"));
    private static readonly JsonSchema Schema = JsonSchema.FromText(SchemaText);

    private const string Good = """
        { "name": "By hand", "source": "Ours.", "residual": "0.5 mL", "rinse": "10 mL", "steps": [
          { "key": "fill", "when": "first replicate", "kind": "pour", "cue": "When the pump runs:", "act": "Pour {rinse} of {water}.", "done": "Poured", "timer": "90 s", "signal": true, "why": "Old water.", "caution": "Gloves." },
          { "key": "reading", "when": "each replicate", "kind": "read", "act": "Type it.", "done": "Keep" } ] }
        """;

    private static bool Fits(string json) => Schema.Evaluate(JsonDocument.Parse(json).RootElement).IsValid;

    private static bool IsRead(string json) => ProcedureDocument.Read(json).Procedure is not null;

    [Theory]
    [InlineData(InstrumentKind.Analyser)]
    [InlineData(InstrumentKind.HandKit)]
    public void What_comes_with_the_program_fits_the_schema(InstrumentKind kind) => Assert.True(Fits(ProcedureDocument.Write(Procedure.Shipped(kind)!)));

    // each is refused by the program too
    [Theory]
    [InlineData("", "name", null)]
    [InlineData("", "name", "\" \"")]
    [InlineData("", "residual", null)]
    [InlineData("", "residual", "0.5")]
    [InlineData("", "rinse", null)]
    [InlineData("", "rinse", "\"ten\"")]
    [InlineData("", "steps", null)]
    [InlineData("", "steps", "[]")]
    [InlineData("", "steps", "[3]")]
    [InlineData("", "colour", "\"red\"")]
    [InlineData("steps[0]", "key", null)]
    [InlineData("steps[0]", "key", "\"Fill 1\"")]
    [InlineData("steps[0]", "when", null)]
    [InlineData("steps[0]", "when", "\"now and then\"")]
    [InlineData("steps[0]", "when", "\"end\"")]
    [InlineData("steps[0]", "kind", null)]
    [InlineData("steps[0]", "kind", "\"splash\"")]
    [InlineData("steps[0]", "kind", "\"read\"")]
    [InlineData("steps[0]", "act", null)]
    [InlineData("steps[0]", "done", null)]
    [InlineData("steps[0]", "done", "\" \"")]
    [InlineData("steps[0]", "timer", "\"a while\"")]
    [InlineData("steps[0]", "timer", "\"0 s\"")]
    [InlineData("steps[0]", "timer", "90")]
    [InlineData("steps[0]", "signal", "\"yes\"")]
    [InlineData("steps[0]", "why", "[1]")]
    [InlineData("steps[0]", "colour", "\"red\"")]
    [InlineData("steps[1]", "when", "\"first replicate\"")]
    [InlineData("steps[1]", "kind", "\"act\"")]
    public void What_the_program_refuses_does_not_fit(string where, string key, string? json)
    {
        Assert.True(Fits(Good) && IsRead(Good));
        var procedure = JsonNode.Parse(Good)!.AsObject();
        var part = where.Length == 0 ? procedure : procedure["steps"]![where[6] - '0']!.AsObject();
        if (json is null)
            part.Remove(key);
        else
            part[key] = JsonNode.Parse(json);
        Assert.False(Fits(procedure.ToJsonString()));
        Assert.False(IsRead(procedure.ToJsonString()));
    }

    [Theory]
    [InlineData("source")]
    [InlineData("cue")]
    [InlineData("timer")]
    [InlineData("signal")]
    [InlineData("why")]
    [InlineData("caution")]
    public void What_may_be_left_away_may_be_left_away_in_both(string key)
    {
        var procedure = JsonNode.Parse(Good)!.AsObject();
        Assert.True((key == "source" ? procedure : procedure["steps"]![0]!.AsObject()).Remove(key));
        Assert.True(Fits(procedure.ToJsonString()));
        Assert.True(IsRead(procedure.ToJsonString()));
    }

    [Fact]
    public void Texts_are_held_to_the_same_lengths()
    {
        string With(string key, string value) => Good.Replace($"\"{key}\": \"{(key == "name" ? "By hand" : key == "act" ? "Type it." : "Ours.")}\"", $"\"{key}\": \"{value}\"", StringComparison.Ordinal);
        foreach (var (key, longest) in new[] { ("name", 80), ("act", Procedure.LongestText), ("source", Procedure.LongestText) })
        {
            Assert.True(Fits(With(key, new string('a', longest))) && IsRead(With(key, new string('a', longest))), key);
            Assert.False(Fits(With(key, new string('a', longest + 1))) || IsRead(With(key, new string('a', longest + 1))), key);
        }
    }

    // the program names the keys it knows where it is given one that it does not
    [Fact]
    public void The_schema_has_the_keys_and_words_that_the_program_knows()
    {
        var schema = JsonNode.Parse(SchemaText)!;
        static IEnumerable<string> Known(string document, string field)
        {
            const string Mark = "Known are ";
            var said = Assert.Single(ProcedureDocument.Read(document).Faults, f => f.Field == field).Sentence;
            return said[(said.IndexOf(Mark, StringComparison.Ordinal) + Mark.Length)..].TrimEnd('.').Split(", ").Order(StringComparer.Ordinal);
        }
        static IEnumerable<string> Keys(JsonNode? properties) => properties!.AsObject().Select(p => p.Key).Order(StringComparer.Ordinal);
        static IEnumerable<string> Words(JsonNode? property) => property!["enum"]!.AsArray().Select(w => w!.GetValue<string>()).Order(StringComparer.Ordinal);
        var step = schema["$defs"]!["step"]!["properties"]!;
        Assert.Equal(Known(Good.Replace("\"name\"", "\"strange\": 1, \"name\"", StringComparison.Ordinal), "strange"), Keys(schema["properties"]));
        Assert.Equal(Known(Good.Replace("\"cue\"", "\"strange\": 1, \"cue\"", StringComparison.Ordinal), "steps[0].strange"), Keys(step));
        Assert.Equal(ProcedureDocument.WhenWords.Values.Order(StringComparer.Ordinal), Words(step["when"]));
        Assert.Equal(ProcedureDocument.KindWords.Values.Order(StringComparer.Ordinal), Words(step["kind"]));
        Assert.Equal(Procedure.MostSteps, schema["properties"]!["steps"]!["maxItems"]!.GetValue<int>());
    }

    // the reference page has a row for each
    [Fact]
    public void The_page_of_reference_names_every_key_and_word()
    {
        var page = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "docs", "reference", "procedure.md"));
        var schema = JsonNode.Parse(SchemaText)!;
        var names = schema["properties"]!.AsObject().Concat(schema["$defs"]!["step"]!["properties"]!.AsObject()).Select(p => p.Key)
            .Concat(ProcedureDocument.WhenWords.Values).Concat(ProcedureDocument.KindWords.Values).Concat(Procedure.Blanks.Keys.Select(k => $"{{{k}}}"));
        Assert.All(names, n => Assert.Contains($"`{n}`", page, StringComparison.Ordinal));
    }
}
