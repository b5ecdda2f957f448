using System.Globalization;
using System.Text.RegularExpressions;

namespace Knownwater.Records.Instruments;

/// <summary>The fields of a reading scale as typed.</summary>
internal sealed partial record ScaleFields(ReadingScale Scale, string Steps, string ValuePerDrop, bool TableAllowsForLastDrop)
{
    private const int MostSteps = 30;

    /// <summary>Reads them into a method; fields of another scale are forgotten.</summary>
    public void Read(TypedFields fields, Method method)
    {
        method.Scale = Scale == ReadingScale.Display ? null : Scale;
        (method.Steps, method.StepsTyped) = Scale == ReadingScale.ColourSteps ? (ReadSteps(fields), Steps.Trim()) : ("", "");
        (method.ValuePerDrop, method.ValuePerDropTyped) = Scale == ReadingScale.Drops
            ? (fields.NeededNumber("ValuePerDrop", ValuePerDrop, "the value of a drop", "What one drop is worth is not said. Take it from the table of the kit: the step from one drop to the next.", 0, aboveLeast: true), ValuePerDrop.Trim())
            : (null, "");
        method.TableAllowsForLastDrop = Scale == ReadingScale.Drops && TableAllowsForLastDrop;
    }

    private string ReadSteps(TypedFields fields)
    {
        var text = fields.Needed("Steps", Steps, "The steps of the card are not said. Write the value beside every colour, from the palest to the darkest, as in 0 5 10 25.", 300);
        if (text.Length == 0)
            return "";
        var parts = Apart().Split(text).Where(p => p.Length > 0).ToList();
        if (parts.Exists(p => p.Count(c => c == ',') > 1 && !p.Contains('.', StringComparison.Ordinal)) || parts is [var only] && only.Contains(',', StringComparison.Ordinal))
        {
            // several commas without a space: signs between the steps, or decimal signs; only the person knows
            var meant = string.Join(' ', parts).Replace(',', ' ');
            fields.Fault("Steps", $"In “{text}” a comma may stand between two steps or within one. Write the steps with a space or a semicolon between them.", new Offer($"Use {meant}", meant));
            return "";
        }
        if (parts.Count is < 2 or > MostSteps)
        {
            fields.Fault("Steps", parts.Count < 2 ? $"“{text}” is one step; a card has two or more. Write the value beside every colour." : $"These are {parts.Count} steps; {MostSteps} fit. Leave out those that you never need.");
            return "";
        }
        var steps = new List<double>();
        foreach (var part in parts)
        {
            var before = fields.Faults.Count;
            if (fields.Number("Steps", part, "a step", 0) is { } value)
                steps.Add(value);
            if (fields.Faults.Count > before)
                return "";
        }
        for (var i = 1; i < steps.Count; i++)
        {
            if (steps[i] > steps[i - 1])
                continue;
            var sorted = string.Join(' ', parts.Zip(steps).OrderBy(p => p.Second).DistinctBy(p => p.Second).Select(p => p.First));
            fields.Fault("Steps", $"{parts[i]} follows {parts[i - 1]}, but the steps of a card rise. Write them from the palest to the darkest, each once.", new Offer($"Use {sorted}", sorted));
            return "";
        }
        return string.Join(';', steps.Select(s => s.ToString("R", CultureInfo.InvariantCulture)));
    }

    /// <summary>Spaces, semicolons, slashes and bars, and a comma with a space behind it.</summary>
    [GeneratedRegex(@",\s+|[\s;/|]+", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Apart();
}
