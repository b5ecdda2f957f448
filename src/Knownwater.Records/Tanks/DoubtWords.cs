namespace Knownwater.Records.Tanks;

/// <summary>How what is in doubt is counted in words.</summary>
internal static class DoubtWords
{
    /// <summary>“twelve readings and one dose”; empty for none.</summary>
    public static string Count(int readings, int doses)
    {
        var parts = new List<string>();
        if (readings > 0)
            parts.Add(readings == 1 ? "one reading" : $"{Words.Count(readings)} readings");
        if (doses > 0)
            parts.Add(doses == 1 ? "one dose" : $"{Words.Count(doses)} doses");
        return string.Join(" and ", parts);
    }

    /// <summary>“is” or “are”.</summary>
    public static string Are(int readings, int doses) => readings + doses == 1 ? "is" : "are";
}
