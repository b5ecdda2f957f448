using System.Globalization;
using System.Text.Json;

namespace Knownwater.Tests;

/// <summary>Published values as they lie in tests/data.</summary>
internal static class CheckData
{
    private static string Full(string name) => Path.Combine(AppContext.BaseDirectory, "data", name.Replace('/', Path.DirectorySeparatorChar));

    /// <summary>Rows of a comma-separated file by column name.</summary>
    public static IReadOnlyList<Row> Rows(string name)
    {
        var lines = File.ReadAllLines(Full(name));
        var header = lines[0].Split(',');
        return [.. lines.Skip(1).Where(l => l.Length > 0).Select(l => new Row(header, l.Split(',')))];
    }

    public static JsonElement Json(string name)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(Full(name)));
        return document.RootElement.Clone();
    }

    public static double[] Numbers(this JsonElement list) => [.. list.EnumerateArray().Select(e => e.GetDouble())];

    public static double Number(this JsonElement owner, string name) => owner.GetProperty(name).GetDouble();

    /// <summary>The single column under "Data:" of a NIST StRD file.</summary>
    public static double[] Column(string name) =>
        [.. File.ReadLines(Full(name)).SkipWhile(l => !l.StartsWith("Data: Y", StringComparison.Ordinal)).Skip(2)
            .Where(l => l.Trim().Length > 0).Select(l => double.Parse(l, CultureInfo.InvariantCulture))];

    internal sealed class Row(string[] header, string[] cells)
    {
        public string Text(string column) => cells[Array.IndexOf(header, column)];

        public double this[string column] => double.Parse(Text(column), CultureInfo.InvariantCulture);
    }
}
