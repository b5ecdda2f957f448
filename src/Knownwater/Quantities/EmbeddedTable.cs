using System.Text;

namespace Knownwater.Quantities;

/// <summary>Data tables that travel inside the library: comma-separated, quoted where needed, lines that begin with # left out.</summary>
internal static class EmbeddedTable
{
    /// <summary>All rows of a table, “Quantities.parameters.csv”, each by column name.</summary>
    public static List<Dictionary<string, string>> Read(string file)
    {
        using var stream = typeof(EmbeddedTable).Assembly.GetManifestResourceStream("Knownwater." + file)
            ?? throw new InvalidOperationException($"The table {file} is missing from the library.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        List<string>? names = null;
        var rows = new List<Dictionary<string, string>>();
        while (reader.ReadLine() is { } line)
        {
            if (line.Length == 0 || line[0] == '#')
                continue;
            var cells = Split(line);
            if (names is null)
            {
                names = cells;
                continue;
            }
            if (cells.Count != names.Count)
                throw new InvalidOperationException($"The table {file} has a line of {cells.Count} cells where {names.Count} belong: {line}");
            rows.Add(names.Zip(cells).ToDictionary(pair => pair.First, pair => pair.Second, StringComparer.Ordinal));
        }
        return rows;
    }

    private static List<string> Split(string line)
    {
        var cells = new List<string>();
        var cell = new StringBuilder();
        var quoted = false;
        for (var i = 0; i < line.Length; i++)
        {
            var c = line[i];
            if (quoted && c == '"' && i + 1 < line.Length && line[i + 1] == '"')
            {
                cell.Append('"');
                i++;
            }
            else if (c == '"')
            {
                quoted = !quoted;
            }
            else if (c == ',' && !quoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else
            {
                cell.Append(c);
            }
        }
        cells.Add(cell.ToString());
        return cells;
    }
}
