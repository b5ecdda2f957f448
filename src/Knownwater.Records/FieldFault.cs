namespace Knownwater.Records;

/// <summary>What is wrong with one field of a form, in a sentence that says what to do.</summary>
/// <param name="Field">Name of the property of the command, <c>Known</c> or <c>Levels[0].Known</c>; empty where it concerns the whole form.</param>
/// <param name="Sentence">The sentence to show beside the field.</param>
/// <param name="Offers">Likely meanings, each good for a button; empty where there is none.</param>
public sealed record FieldFault(string Field, string Sentence, IReadOnlyList<Offer> Offers)
{
    /// <summary>A fault without offers.</summary>
    /// <param name="field">Name of the property of the command.</param>
    /// <param name="sentence">The sentence to show.</param>
    public FieldFault(string field, string sentence)
        : this(field, sentence, [])
    {
    }
}

/// <summary>A likely meaning of what was typed.</summary>
/// <param name="Label">What the button says: “Use 7,90”.</param>
/// <param name="Value">What the field then holds.</param>
public sealed record Offer(string Label, string Value);
