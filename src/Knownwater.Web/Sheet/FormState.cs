using Knownwater.Records;

namespace Knownwater.Web.Sheet;

/// <summary>What a form holds: every field as it was typed, and what is wrong with it.</summary>
/// <remarks>Fields carry the names of the command's properties, so that a fault finds its field.</remarks>
public sealed class FormState
{
    private readonly Dictionary<string, string> values = new(StringComparer.Ordinal);

    /// <summary>An empty form.</summary>
    public FormState()
    {
    }

    /// <summary>A form with its fields filled.</summary>
    /// <param name="fields">Names and values.</param>
    public FormState(IEnumerable<KeyValuePair<string, string>> fields)
    {
        ArgumentNullException.ThrowIfNull(fields);
        foreach (var (name, value) in fields)
            values[name] = value;
    }

    /// <summary>What was posted, with the offer taken where one was pressed.</summary>
    /// <param name="form">The posted fields.</param>
    public FormState(IFormCollection form)
    {
        ArgumentNullException.ThrowIfNull(form);
        foreach (var (name, value) in form)
            values[name] = value.Count > 1 ? string.Join('\n', value.ToArray()) : value.ToString();
        var offer = this["use"];
        if (offer.IndexOf('=', StringComparison.Ordinal) is > 0 and var cut)
        {
            values[offer[..cut]] = offer[(cut + 1)..];
            OfferTaken = true;
        }
    }

    /// <summary>Whether the button of an offer was pressed.</summary>
    public bool OfferTaken { get; }

    /// <summary>What is wrong, in the order of the form.</summary>
    public IReadOnlyList<FieldFault> Faults { get; set; } = [];

    /// <summary>The value of a field as typed; empty where there is none.</summary>
    /// <param name="name">The field.</param>
    public string this[string name]
    {
        get => values.GetValueOrDefault(name, "");
        set => values[name] = value;
    }

    /// <summary>The key of this act, which makes a repeated post harmless.</summary>
    public Guid? RequestId => Guid.TryParse(this["request"], out var id) ? id : null;

    /// <summary>Whether a box is ticked.</summary>
    /// <param name="name">The box.</param>
    public bool Ticked(string name) => this[name].Length > 0;

    /// <summary>A key chosen in a list; null where none is.</summary>
    /// <param name="name">The list.</param>
    public Guid? Key(string name) => Guid.TryParse(this[name], out var id) ? id : null;

    /// <summary>The keys ticked in a list.</summary>
    /// <param name="name">The list.</param>
    public IReadOnlyList<Guid> Keys(string name) =>
        [.. this[name].Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(k => Guid.TryParse(k, out var id) ? id : Guid.Empty).Where(id => id != Guid.Empty)];

    /// <summary>A word of an enumeration; the first one where nothing fits.</summary>
    /// <typeparam name="T">The enumeration.</typeparam>
    /// <param name="name">The field.</param>
    public T Word<T>(string name)
        where T : struct, Enum => Enum.TryParse<T>(this[name], out var word) && Enum.IsDefined(word) ? word : default;

    /// <summary>The same, or null where nothing fits.</summary>
    /// <typeparam name="T">The enumeration.</typeparam>
    /// <param name="name">The field.</param>
    public T? WordOrNone<T>(string name)
        where T : struct, Enum => Enum.TryParse<T>(this[name], out var word) && Enum.IsDefined(word) ? word : null;

    /// <summary>What is wrong with a field; null where nothing is.</summary>
    /// <param name="name">The field.</param>
    public FieldFault? Fault(string name) => Faults.FirstOrDefault(f => f.Field == name);

    /// <summary>Whether the field is the first with a fault, where the hand goes next.</summary>
    /// <param name="name">The field.</param>
    public bool IsFirst(string name) => Faults.Count > 0 && Faults[0].Field == name;

    /// <summary>The id of a field in the page.</summary>
    /// <param name="name">The field.</param>
    public static string Id(string name) => "f-" + name.Replace('[', '-').Replace("].", "-", StringComparison.Ordinal).Replace("]", "", StringComparison.Ordinal);
}
