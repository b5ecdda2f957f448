using Knownwater.Quantities;

namespace Knownwater.Cli;

/// <summary>A table of named columns from a text file: separated by comma, semicolon or tab.</summary>
/// <remarks>
/// The first line names the columns and tells the separator. Where a comma separates, the decimal sign is the point; else comma and point are both
/// understood, as long as the file uses one of them.
/// </remarks>
internal sealed class CsvTable
{
    private readonly string _name;
    private readonly string[] _columns;
    private readonly List<(int Line, string[] Cells)> _rows;
    private readonly DecimalSign? _sign;

    private CsvTable(string name, string[] columns, List<(int Line, string[] Cells)> rows, DecimalSign? sign)
    {
        _name = name;
        _columns = columns;
        _rows = rows;
        _sign = sign;
    }

    /// <summary>Reads a table.</summary>
    /// <param name="file">Path of the file; - reads standard input.</param>
    /// <exception cref="ArgumentException">There is no such file, it is empty, or a line has another number of cells than the first.</exception>
    public static CsvTable Read(string file)
    {
        var name = file == "-" ? "standard input" : $"“{file}”";
        var text = file == "-" ? Console.In.ReadToEnd() : File.Exists(file) ? File.ReadAllText(file)
            : throw new ArgumentException($"There is no file {name}. Give the path of a table, or - for standard input.");
        var lines = text.ReplaceLineEndings("\n").Split('\n').Select((line, i) => (Number: i + 1, Text: line)).Where(line => line.Text.Trim().Length > 0).ToList();
        if (lines.Count == 0)
            throw new ArgumentException($"There is nothing in {name}. Its first line names the columns, each further one holds a row.");
        var separator = ((char[])[';', '\t', ',']).FirstOrDefault(lines[0].Text.Contains, '\0');
        var columns = Cells(lines[0].Text, separator);
        var rows = lines.Skip(1).Select(line => (line.Number, Cells(line.Text, separator))).ToList();
        foreach (var (line, cells) in rows)
        {
            if (cells.Length != columns.Length)
                throw new ArgumentException($"Line {line} of {name} has {cells.Length} cells, but its first line names {columns.Length} columns. Mend that line.");
        }
        var everything = rows.SelectMany(row => row.Item2).ToList();
        var (comma, point) = (separator != ',' && everything.Exists(c => c.Contains(',')), everything.Exists(c => c.Contains('.')));
        return new CsvTable(name, columns, rows, comma && point ? null : comma ? DecimalSign.Comma : DecimalSign.Point);
    }

    /// <summary>The names of the columns, as the first line has them.</summary>
    public IReadOnlyList<string> Columns => _columns;

    /// <summary>The decimal sign of the table; null where it has commas and points in its cells.</summary>
    public DecimalSign? Sign => _sign;

    /// <summary>Whether a column is there.</summary>
    public bool Has(string column) => Find(column) >= 0;

    /// <summary>The texts of a column.</summary>
    /// <exception cref="ArgumentException">There is no such column, or it has no rows.</exception>
    public string[] Texts(string column)
    {
        var index = Find(column);
        if (index < 0)
            throw new ArgumentException($"There is no column “{column}” in {_name}; its first line names {string.Join(", ", _columns.Select(c => c.Length == 0 ? "an empty one" : c))}.");
        return _rows.Count > 0 ? [.. _rows.Select(row => row.Cells[index])]
            : throw new ArgumentException($"There is no row in {_name}; below the names of the columns at least one is needed.");
    }

    /// <summary>The numbers of a column.</summary>
    /// <exception cref="ArgumentException">There is no such column, it has no rows, or a cell is no plain number; the message names the first and counts the others.</exception>
    public double[] Numbers(string column) => [.. Read(column, mayBeEmpty: false).Select(number => number!.Value)];

    /// <summary>The numbers of a column whose cells may be empty.</summary>
    /// <returns>Null for an empty cell, and for each row where there is no such column.</returns>
    /// <exception cref="ArgumentException">A cell that is not empty is no plain number.</exception>
    public double?[] NumbersIfAny(string column) => Has(column) ? Read(column, mayBeEmpty: true) : new double?[_rows.Count];

    /// <summary>The texts of a column; empty for each row where there is no such column.</summary>
    public string[] TextsIfAny(string column) => Has(column) ? Texts(column) : [.. _rows.Select(_ => "")];

    /// <summary>“Line 4 of “checks.csv””: where a row stands.</summary>
    public string Where(int row) => $"Line {_rows[row].Line} of {_name}";

    private double?[] Read(string column, bool mayBeEmpty)
    {
        var readings = Texts(column).Select(text => mayBeEmpty && text.Length == 0 ? (NumberReading?)null : NumberText.Read(text, _sign)).ToArray();
        var faults = readings.Index().Where(r => r.Item is { } read && (!read.Ok || read.Censoring != Censoring.None)).ToList();
        if (faults.Count == 0)
            return [.. readings.Select(r => r?.Value)];
        var (row, first) = faults[0];
        var others = faults.Count == 1 ? "" : $" (and {faults.Count - 1} more like it)";
        throw new ArgumentException($"{Where(row)}, column {column}{others}: {first!.Error ?? $"“{first.Typed}” is a limit, but a plain number is needed here."}");
    }

    private int Find(string column) => Array.FindIndex(_columns, c => c.Equals(column, StringComparison.OrdinalIgnoreCase));

    private static string[] Cells(string line, char separator)
    {
        var cells = new List<string>();
        var cell = new System.Text.StringBuilder();
        var quoted = false;
        foreach (var c in line)
        {
            if (c == '"')
                quoted = !quoted;
            else if (c == separator && !quoted && separator != '\0')
            {
                cells.Add(cell.ToString().Trim());
                cell.Clear();
            }
            else
                cell.Append(c);
        }
        cells.Add(cell.ToString().Trim('\uFEFF', ' ', '\t'));
        cells[0] = cells[0].TrimStart('\uFEFF').Trim();
        return [.. cells];
    }
}
