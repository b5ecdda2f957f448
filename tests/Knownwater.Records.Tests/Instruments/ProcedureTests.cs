using Knownwater.Records.Instruments;

namespace Knownwater.Records.Tests.Instruments;

public sealed class ProcedureTests
{
    private static Procedure Ours => Procedure.Shipped(InstrumentKind.Analyser)!;

    private static Procedure With(int step, Func<ProcedureStep, ProcedureStep> change) => Ours with { Steps = [.. Ours.Steps.Select((s, i) => i == step ? change(s) : s)] };

    [Theory]
    [InlineData(InstrumentKind.Analyser)]
    [InlineData(InstrumentKind.HandKit)]
    public void What_is_shipped_can_be_followed_and_says_that_it_is_common_practice(InstrumentKind kind)
    {
        var procedure = Procedure.Shipped(kind)!;
        Assert.Empty(procedure.Faults());
        Assert.Contains("Common practice", procedure.Source, StringComparison.Ordinal);
        Assert.Equal(ProcedureDocument.Write(procedure), ProcedureDocument.Write(ProcedureDocument.Read(ProcedureDocument.Write(procedure)).Procedure!));
        Assert.Equal(procedure.Steps, ProcedureDocument.Read(ProcedureDocument.Write(procedure)).Procedure!.Steps);
    }

    [Fact]
    public void A_laboratory_has_none() => Assert.Null(Procedure.Shipped(InstrumentKind.Laboratory));

    [Theory]
    [InlineData("{", "", "line 1")]
    [InlineData("[]", "", "JSON object")]
    [InlineData("""{"name":"A","residual":"0.5 mL","rinse":"10 mL"}""", "steps", "missing")]
    [InlineData("""{"name":"A","residual":"0.5 mg","rinse":"10 mL","steps":[]}""", "residual", "mg")]
    [InlineData("""{"name":"A","residual":"0.5 mL","rinse":"10 mL","steps":[],"colour":"red"}""", "colour", "Known are name, source, residual, rinse, steps")]
    [InlineData("""{"name":"A","residual":"0.5 mL","rinse":"0 mL","steps":[{"key":"r","when":"each replicate","kind":"read","act":"Type it.","done":"Keep"}]}""", "rinse", "above 0")]
    [InlineData("""{"name":"A","residual":"0.5 mL","rinse":"1 mL","steps":[]}""", "steps", "exactly one step")]
    [InlineData("""{"name":"A","residual":"0.5 mL","rinse":"1 mL","steps":[{"key":"r","when":"now and then","kind":"read","act":"Type it.","done":"Keep"}]}""", "steps[0].when", "each replicate")]
    [InlineData("""{"name":"A","residual":"0.5 mL","rinse":"1 mL","steps":[{"key":"r","when":"each replicate","kind":"read","act":"Type it.","done":"Keep","timer":"a while"}]}""", "steps[0].timer", "90 s")]
    public void A_document_that_cannot_be_read_says_where_and_what_would_do(string text, string field, string said)
    {
        var (procedure, faults) = ProcedureDocument.Read(text);
        Assert.Null(procedure);
        Assert.Contains(said, Assert.Single(faults, f => f.Field == field).Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_step_that_cannot_be_followed_says_why()
    {
        string Fault(Procedure procedure, string field) => Assert.Single(procedure.Faults(), f => f.Field == field).Sentence;
        Assert.Contains("not said", Fault(With(2, s => s with { Act = " " }), "Steps[2].Act"), StringComparison.Ordinal);
        Assert.Contains("“Fill 1”", Fault(With(4, s => s with { Key = "Fill 1" }), "Steps[4].Key"), StringComparison.Ordinal);
        Assert.Contains("names two steps", Fault(With(4, s => s with { Key = "bottle" }), "Steps[4].Key"), StringComparison.Ordinal);
        Assert.Contains("{tank} stands for nothing", Fault(With(4, s => s with { Why = "Of {tank}." }), "Steps[4].Why"), StringComparison.Ordinal);
        Assert.Contains("{water} is not known", Fault(With(0, s => s with { Act = "Take {water}." }), "Steps[0].Act"), StringComparison.Ordinal);
        Assert.Contains("in a replicate", Fault(With(4, s => s with { When = ProcedureWhen.End }), "Steps[4].When"), StringComparison.Ordinal);
        Assert.Contains("7201 s", Fault(With(4, s => s with { Seconds = 7201 }), "Steps[4].Timer"), StringComparison.Ordinal);
        Assert.Contains("301 characters", Fault(With(4, s => s with { Cue = new string('a', 301) }), "Steps[4].Cue"), StringComparison.Ordinal);
        Assert.Contains("61 steps", Fault(Ours with { Steps = [.. Ours.Steps, .. Enumerable.Range(0, 43).Select(i => Ours.Steps[0] with { Key = $"more-{i}" })] }, "Steps"), StringComparison.Ordinal);
        Assert.Contains("0 to 1000 mL", Fault(Ours with { ResidualMillilitres = -1 }, "Residual"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("90 s", false, 90)]
    [InlineData("5 min", false, 300)]
    [InlineData("reading time", true, null)]
    [InlineData("reading time, else 90 s", true, 90)]
    public void A_timer_is_a_time_or_that_of_a_reading(string text, bool readingTime, int? seconds) => Assert.Equal((readingTime, seconds), ProcedureDocument.ReadTimer(text));

    [Theory]
    [InlineData("90")]
    [InlineData("-5 s")]
    [InlineData("0 s")]
    [InlineData("reading time or so")]
    [InlineData("s")]
    public void Anything_else_is_none(string text) => Assert.Null(ProcedureDocument.ReadTimer(text));
}
