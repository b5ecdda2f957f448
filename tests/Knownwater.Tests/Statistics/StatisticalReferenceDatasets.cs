using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Knownwater.Statistics;

namespace Knownwater.Tests.Statistics;

/// <summary>The NIST Statistical Reference Datasets: data and certified values, read from the files or made by their definition.</summary>
internal static partial class StatisticalReferenceDatasets
{
    public sealed record Univariate(double[] Values, double Mean, double StandardDeviation, double Autocorrelation);

    public sealed record Anova(double[][] Groups, double Between, double Within, double F, double RSquared, double ResidualSd);

    public sealed record Regression(double[] Y, double[][] X, double[] Coefficients, double[] StandardErrors, double ResidualSd, double RSquared, double? F, double[][] Starts);

    public static string Folder { get; set; } = Path.Combine(AppContext.BaseDirectory, "data", "nist-strd");

    public static string[] UnivariateNames => ["PiDigits", "Lottery", "Lew", "Mavro", "Michelso", "NumAcc1", "NumAcc2", "NumAcc3", "NumAcc4"];

    public static string[] AnovaNames => ["SiRstv", "SmLs01", "SmLs02", "SmLs03", "AtmWtAg", "SmLs04", "SmLs05", "SmLs06", "SmLs07", "SmLs08", "SmLs09"];

    public static string[] RegressionNames => ["Norris", "Pontius", "NoInt1", "NoInt2", "Filip", "Longley", "Wampler1", "Wampler2", "Wampler3", "Wampler4", "Wampler5"];

    /// <summary>Log relative error: the number of correct significant digits, at most 15, the number of those certified.</summary>
    public static double Digits(double value, double certified)
    {
        var error = certified == 0 ? Math.Abs(value) : Math.Abs((value - certified) / certified);
        return double.IsNaN(error) ? 0 : Math.Clamp(-Math.Log10(error), 0, 15);
    }

    public static Univariate ReadUnivariate(string name)
    {
        if (name == "PiDigits")
        {
            using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(Folder, "PiDigits.json")));
            var text = document.RootElement.GetProperty("digits").GetString()!;
            return new Univariate([.. text.Where(char.IsDigit).Select(c => (double)(c - '0'))], 4.5348, 2.86733906028871, -0.00355099287237972);
        }
        if (name == "NumAcc4")
            return new Univariate(Alternating(10000000.2, 10000000.1, 10000000.3, 1001), 10000000.2, 0.1, -0.999);
        var lines = File.ReadAllLines(Path.Combine(Folder, name + ".dat"));
        var values = lines.SkipWhile(l => !l.StartsWith("Data: Y", StringComparison.Ordinal)).Skip(2).Where(l => l.Trim().Length > 0).Select(Number);
        double Certified(string what) => Number(CertifiedMoment().Match(lines.First(l => l.StartsWith("Sample " + what, StringComparison.Ordinal))).Groups["value"].Value);
        return new Univariate([.. values], Certified("Mean"), Certified("Standard"), Certified("Auto"));
    }

    public static Anova ReadAnova(string name)
    {
        var file = name is "SmLs06" ? "SmLs03" : name is "SmLs08" ? "SmLs02" : name is "SmLs09" ? "SmLs03" : name;
        var lines = File.ReadAllLines(Path.Combine(Folder, file + "t.dat"));
        var between = Certificate(lines, "Between");
        var rows = Numeric(lines.SkipWhile(l => l.TrimEnd() != "Data:").Skip(1)).Skip(1).ToArray();   // the first row numbers the treatments
        double[][] groups = file == name
            ? [.. Enumerable.Range(0, rows[0].Length).Select(j => rows.Select(r => r[j]).ToArray())]
            : Generated(name == "SmLs06" ? 1e6m : 1e12m, rows.Length);
        // SmLs04 to 09 are SmLs01 to 03 with 10⁶ and 10¹² added: the certified values are the same
        return new Anova(groups, between[1], Certificate(lines, "Within")[1], between[2],
            Number(Array.Find(lines, l => l.Contains("R-Squared", StringComparison.Ordinal))!.Split(' ')[^1]),
            Number(lines[Array.FindIndex(lines, l => l.Trim() == "Certified Residual") + 1].Trim().Split(' ')[^1]));
    }

    /// <summary>The groups of Simon and Lesage: a first value in the middle, then alternating 0.1 below and above it.</summary>
    public static double[][] Generated(decimal added, int replicates) =>
        [.. ((decimal[])[0.4m, 0.3m, 0.5m, 0.3m, 0.5m, 0.3m, 0.5m, 0.3m, 0.5m]).Select(middle =>
            Alternating(Value(added + middle), Value(added + middle - 0.1m), Value(added + middle + 0.1m), replicates))];

    public static Regression ReadRegression(string name)
    {
        var lines = File.ReadAllLines(Path.Combine(Folder, name + ".dat"));
        var parameters = lines.Select(l => Parameter().Match(l)).Where(m => m.Success).Select(m => m.Groups["values"].Value.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Number).ToArray()).ToArray();
        var rows = Numeric(lines.SkipWhile(l => !DataHeader().IsMatch(l)).Skip(1)).ToArray();
        var regression = Array.Find(lines, l => l.StartsWith("Regression ", StringComparison.Ordinal));
        var f = regression?.Split(' ', StringSplitOptions.RemoveEmptyEntries)[^1];
        return new Regression(
            [.. rows.Select(r => r[0])], [.. rows.Select(r => r[1..])],
            [.. parameters.Select(p => p[^2])], [.. parameters.Select(p => p[^1])],
            Number(Array.Find(lines, l => ResidualSd().IsMatch(l))!.Trim().Split(' ')[^1]),
            Array.Find(lines, l => l.Contains("R-Squared", StringComparison.Ordinal)) is { } r2 ? Number(r2.Trim().Split(' ')[^1]) : double.NaN,
            f is null or "Infinity" ? null : Number(f),
            [.. Enumerable.Range(0, parameters[0].Length - 2).Select(s => parameters.Select(p => p[s]).ToArray())]);
    }

    /// <summary>The model of a linear regression set, fitted.</summary>
    public static LeastSquaresFit Fit(string name, Regression set)
    {
        if (name == "Longley")
        {
            var design = new double[set.Y.Length, set.X[0].Length + 1];
            foreach (var (i, row) in set.X.Index())
            {
                design[i, 0] = 1;
                for (var j = 0; j < row.Length; j++)
                    design[i, j + 1] = row[j];
            }
            return LeastSquares.Fit(design, set.Y);
        }
        var throughOrigin = name.StartsWith("NoInt", StringComparison.Ordinal);
        return PolynomialFit.Of([.. set.X.Select(x => x[0])], set.Y, set.Coefficients.Length - (throughOrigin ? 0 : 1), throughOrigin).Fit;
    }

    /// <summary>The fewest digits among several numbers.</summary>
    public static double Worst(IEnumerable<double> values, IEnumerable<double> certified) => values.Zip(certified, Digits).Min();

    private static double[] Alternating(double first, double low, double high, int n) => [first, .. Enumerable.Range(0, n - 1).Select(i => i % 2 == 0 ? low : high)];

    private static double Value(decimal number) => Number(number.ToString(CultureInfo.InvariantCulture));

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static IEnumerable<double[]> Numeric(IEnumerable<string> lines) =>
        lines.Select(l => l.Split((char[])[' ', '\t'], StringSplitOptions.RemoveEmptyEntries)).Where(w => w.Length > 0 && double.TryParse(w[0], CultureInfo.InvariantCulture, out _)).Select(w => w.Select(Number).ToArray());

    private static double[] Certificate(string[] lines, string row) =>
        [.. Array.Find(lines, l => l.StartsWith(row, StringComparison.Ordinal))!.Split(' ', StringSplitOptions.RemoveEmptyEntries).Skip(3).Select(Number)];

    [GeneratedRegex(@":\s*(?<value>-?[\d.]+(E[-+]?\d+)?)(\s*\(exact\))?\s*$", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex CertifiedMoment();

    [GeneratedRegex(@"^\s+[Bb]\d+\s+=?(?<values>(\s*-?[\d.]+(E[-+]?\d+)?){2,4})\s*$", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Parameter();

    [GeneratedRegex(@"^Data:\s+y\s", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex DataHeader();

    [GeneratedRegex(@"^\s*(Residual )?Standard Deviation[:\s]+[\d.]", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex ResidualSd();
}
