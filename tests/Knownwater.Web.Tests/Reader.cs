using System.Net;
using System.Text.RegularExpressions;

namespace Knownwater.Web.Tests;

/// <summary>Reads pages and sends their forms as a browser without script does.</summary>
public sealed class Reader(HttpClient client)
{
    public HttpClient Client => client;

    public async Task<Sheet> Get(string address)
    {
        using var answer = await client.GetAsync(new Uri(address, UriKind.RelativeOrAbsolute), TestContext.Current.CancellationToken);
        return await Sheet.Of(answer);
    }

    /// <summary>Fills the form whose address ends so, presses a button, and reads the next page.</summary>
    /// <param name="sheet">The page with the form.</param>
    /// <param name="action">The end of the form's address.</param>
    /// <param name="press">Value of the pressed button's <c>act</c>; empty for a button without one.</param>
    /// <param name="fields">What is typed; all other fields are sent as they stand.</param>
    public async Task<Sheet> Send(Sheet sheet, string action, string press = "", params (string Name, string Value)[] fields)
    {
        var form = sheet.Form(action);
        foreach (var (name, value) in fields)
            form.Set(name, value);
        if (press.Length > 0)
            form.Set(press.Contains('=', StringComparison.Ordinal) ? "use" : "act", press);
        using var content = new FormUrlEncodedContent(form.Fields);
        using var answer = await client.PostAsync(new Uri(form.Action, UriKind.Relative), content, TestContext.Current.CancellationToken);
        return await Sheet.Of(answer);
    }
}

/// <summary>One page as received.</summary>
public sealed partial record Sheet(HttpStatusCode Status, string Address, string Html, IReadOnlyDictionary<string, string> Headers)
{
    /// <summary>The text a reader sees, spaces joined.</summary>
    public string Text => Spaces().Replace(WebUtility.HtmlDecode(Tags().Replace(HeadAndSymbols().Replace(Html, " "), " ")), " ").Trim();

    public IEnumerable<string> Links => Hrefs().Matches(Html).Select(m => WebUtility.HtmlDecode(m.Groups[1].Value));

    public static async Task<Sheet> Of(HttpResponseMessage answer) => new(
        answer.StatusCode,
        answer.RequestMessage!.RequestUri!.PathAndQuery,
        await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
        answer.Headers.Concat(answer.Content.Headers).ToDictionary(h => h.Key, h => string.Join(", ", h.Value), StringComparer.OrdinalIgnoreCase));

    public FilledForm Form(string action)
    {
        var form = Forms().Matches(Html).FirstOrDefault(m => Attribute(m.Groups[1].Value, "action")?.EndsWith(action, StringComparison.Ordinal) == true)
            ?? throw new InvalidOperationException($"{Address} has no form for {action}. It reads: {Text}");
        var filled = new FilledForm(Attribute(form.Groups[1].Value, "action")!);
        foreach (Match field in Controls().Matches(form.Groups[2].Value))
        {
            var (tag, attributes, inner) = (field.Groups[1].Value, field.Groups[2].Value, field.Groups[3].Value);
            if (Attribute(attributes, "name") is not { } name)
                continue;
            if (tag == "textarea")
            {
                filled.Add(name, WebUtility.HtmlDecode(inner));
            }
            else if (tag == "select")
            {
                var options = Options().Matches(inner).Select(o => o.Groups[1].Value).ToList();
                var chosen = options.FirstOrDefault(o => Has(o, "selected")) ?? options.FirstOrDefault();
                if (chosen is not null)
                    filled.Add(name, Attribute(chosen, "value") ?? "");
            }
            else if (Attribute(attributes, "type") is not ("radio" or "checkbox") || Has(attributes, "checked"))
            {
                filled.Add(name, Attribute(attributes, "value") ?? "");
            }
        }

        return filled;
    }

    /// <summary>The value that stands in a field of the page.</summary>
    public string Field(string name)
    {
        var input = Inputs().Matches(Html).Select(m => m.Groups[1].Value).FirstOrDefault(a => Attribute(a, "name") == name)
            ?? throw new InvalidOperationException($"{Address} has no field {name}.");
        return Attribute(input, "value") ?? "";
    }

    /// <summary>The value of the choice that reads so.</summary>
    public string Choice(string name, string words) =>
        Controls().Matches(Html).Where(m => m.Groups[1].Value == "select" && Attribute(m.Groups[2].Value, "name") == name)
            .SelectMany(m => Regex.Matches(m.Groups[3].Value, "<option\\s([^>]*)>([^<]*)</option>", RegexOptions.None, TimeSpan.FromSeconds(1)))
            .Where(o => WebUtility.HtmlDecode(o.Groups[2].Value).Trim() == words).Select(o => Attribute(o.Groups[1].Value, "value")).FirstOrDefault()
            ?? throw new InvalidOperationException($"{Address} offers no {words} in {name}.");

    /// <summary>The attributes of the field as text.</summary>
    public string FieldMarkup(string name) =>
        Inputs().Matches(Html).Select(m => m.Groups[1].Value).First(a => Attribute(a, "name") == name);

    private static string? Attribute(string attributes, string name) =>
        Regex.Match(attributes, $"(?:^|\\s){name}=\"([^\"]*)\"", RegexOptions.None, TimeSpan.FromSeconds(1)) is { Success: true } m ? WebUtility.HtmlDecode(m.Groups[1].Value) : null;

    private static bool Has(string attributes, string name) => Regex.IsMatch(attributes, $"(?:^|\\s){name}(?:\\s|=|$)", RegexOptions.None, TimeSpan.FromSeconds(1));

    [GeneratedRegex("<form\\s([^>]*)>(.*?)</form>", RegexOptions.Singleline, 2000)]
    private static partial Regex Forms();

    [GeneratedRegex("<(input|select|textarea)\\s([^>]*)>(?:(.*?)</\\1>)?", RegexOptions.Singleline, 2000)]
    private static partial Regex Controls();

    [GeneratedRegex("<input\\s([^>]*)>", RegexOptions.Singleline, 2000)]
    private static partial Regex Inputs();

    [GeneratedRegex("<option\\s([^>]*)>", RegexOptions.Singleline, 2000)]
    private static partial Regex Options();

    [GeneratedRegex("<a\\s[^>]*href=\"([^\"]*)\"", RegexOptions.Singleline, 2000)]
    private static partial Regex Hrefs();

    [GeneratedRegex("<head>.*?</head>|<svg class=\"defs\".*?</svg>", RegexOptions.Singleline, 2000)]
    private static partial Regex HeadAndSymbols();

    [GeneratedRegex("<[^>]*>", RegexOptions.Singleline, 2000)]
    private static partial Regex Tags();

    [GeneratedRegex("[\\s]+", RegexOptions.None, 2000)]
    private static partial Regex Spaces();
}

/// <summary>A form as it stands in the page.</summary>
public sealed class FilledForm(string action)
{
    private readonly List<KeyValuePair<string, string>> fields = [];

    public string Action { get; } = action;

    public IReadOnlyList<KeyValuePair<string, string>> Fields => fields;

    public void Add(string name, string value) => fields.Add(new(name, value));

    public void Set(string name, string value)
    {
        fields.RemoveAll(f => f.Key == name);
        Add(name, value);
    }
}
