using System.Globalization;

namespace Knownwater.Tests;

/// <summary>A comma-separated file of published values; quoted cells may hold commas.</summary>
internal static class Table
{
    public static IReadOnlyList<string[]> Rows(string name) =>
        [.. File.ReadLines(Path.Combine(AppContext.BaseDirectory, "data", name)).Skip(1).Where(line => line.Length > 0).Select(Cells)];

    public static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);

    private static string[] Cells(string line)
    {
        var cells = new List<string>();
        var quoted = false;
        var cell = "";
        foreach (var c in line)
        {
            if (c == '"')
                quoted = !quoted;
            else if (c == ',' && !quoted)
                (cells, cell) = ([.. cells, cell], "");
            else
                cell += c;
        }
        return [.. cells, cell];
    }
}
