using System.Globalization;

namespace Knownwater.Figures;

/// <summary>What inorganic carbon is made of at one pH.</summary>
/// <param name="Ph">pH on the total scale.</param>
/// <param name="CarbonDioxide">Part that is carbon dioxide, 0 to 1.</param>
/// <param name="Bicarbonate">Part that is bicarbonate.</param>
/// <param name="Carbonate">Part that is carbonate.</param>
public sealed record FigureCarbonShare(double Ph, double CarbonDioxide, double Bicarbonate, double Carbonate);

/// <summary>The carbonate state against pH: three curves that add up to all carbon, and where the water stands.</summary>
public sealed record CarbonateFigure : IFigure
{
    private const double Height = 17, Top = 1.4, Bottom = 14.4, Left = 9, Right = 99;

    /// <summary>Shares along the pH axis, ascending; at least two.</summary>
    public required IReadOnlyList<FigureCarbonShare> Shares
    {
        get;
        init => field = value is { Count: >= 2 } && value.Zip(value.Skip(1)).All(p => p.First.Ph < p.Second.Ph) ? value : throw new ArgumentException("The picture of the carbonate state needs two places or more with rising pH.", nameof(value));
    }

    /// <summary>Where the water stands.</summary>
    public required FigureCarbonShare Here { get; init; }

    /// <summary>Its pH as shown.</summary>
    public required string HereLabel { get; init; }

    /// <summary>The decimal sign of labels.</summary>
    public char DecimalSign { get; init; } = '.';

    /// <inheritdoc/>
    public FigureDrawing Draw()
    {
        double low = Shares[0].Ph, high = Shares[^1].Ph;
        double X(double ph) => Left + (ph - low) / (high - low) * (Right - Left);
        static double Y(double share) => Bottom - share * (Bottom - Top);
        FigureShape Curve(Func<FigureCarbonShare, double> part) => new("path", [.. Shares.Select(s => (X(s.Ph), Y(part(s))))], IsClosed: false);
        var x = Math.Clamp(X(Here.Ph), Left, Right);
        List<FigureElement> drawn =
        [
            new FigureLine("axis", Left, Y(0), Right, Y(0)), new FigureLine("line-tol", Left, Y(1), Right, Y(1)),
            Curve(s => s.CarbonDioxide), Curve(s => s.Bicarbonate), Curve(s => s.Carbonate),
            new FigureLine("line-known", x, Top - 0.6, x, Y(0)),
            new FigurePoint("pt", x, Y(Here.CarbonDioxide), 0.4), new FigurePoint("pt", x, Y(Here.Bicarbonate), 0.4), new FigurePoint("pt", x, Y(Here.Carbonate), 0.4),
            new FigureText("", Left - 1.5, 0, Y(0) + 0.3, TextAnchor.End, "0"), new FigureText("", Left - 1.5, 0, Y(1) + 0.3, TextAnchor.End, "all"),
        ];
        // each curve is named where it is the greatest part and its neighbours are far
        Name("CO\u2082", s => s.CarbonDioxide, Shares.Where(s => s.Ph < low + 0.2 * (high - low)));
        Name("HCO\u2083\u207B", s => s.Bicarbonate, Shares.Where(s => Math.Abs(s.Ph - Here.Ph) > 0.08 * (high - low)));
        Name("CO\u2083\u00B2\u207B", s => s.Carbonate, Shares.Where(s => s.Ph > high - 0.2 * (high - low)));
        for (var ph = Math.Ceiling(low); ph <= high; ph++)
            drawn.Add(new FigureText("", X(ph), 0, Bottom + 1.4, ph == low ? TextAnchor.Start : ph == high ? TextAnchor.End : TextAnchor.Middle, ph.ToString(CultureInfo.InvariantCulture)));
        drawn.Add(new FigureText("strong sans-halo", x, x > 80 ? -0.4 : 0.4, Top - 0.2, x > 80 ? TextAnchor.End : TextAnchor.Start, "pH\u00A0" + HereLabel));
        return new FigureDrawing { HeightEm = Height, Description = Describe(), Elements = drawn };

        void Name(string name, Func<FigureCarbonShare, double> part, IEnumerable<FigureCarbonShare> where)
        {
            if (where.MaxBy(part) is { } place)
                drawn.Add(new FigureText("strong sans-halo", Math.Clamp(X(place.Ph), Left + 6, Right - 8), 0, Math.Max(Top + 1.6, Y(part(place)) + 1.6), TextAnchor.Middle, name));
        }
    }

    /// <inheritdoc/>
    public IReadOnlyList<FigureKeyEntry> Key() => [new(KeySwatch.Zero, FigureTone.Plain, "this water"), new(KeySwatch.Line, FigureTone.Plain, "part of all inorganic carbon")];

    /// <inheritdoc/>
    public FigureTable Table() => new("What inorganic carbon is made of, in percent", ["pH, total scale", "CO\u2082", "HCO\u2083\u207B", "CO\u2083\u00B2\u207B"],
        [.. Shares.Where(s => Math.Abs(2 * s.Ph - Math.Round(2 * s.Ph)) < 1e-9).Append(Here).OrderBy(s => s.Ph).Select(s => new FigureTableRow(Sign(s == Here ? HereLabel : s.Ph.ToString("0.0", CultureInfo.InvariantCulture)), [Percent(s.CarbonDioxide), Percent(s.Bicarbonate), Percent(s.Carbonate)]))]);

    private string Describe() => $"At pH {HereLabel} {Percent(Here.Bicarbonate)}\u202F% of the inorganic carbon is bicarbonate, {Percent(Here.Carbonate)}\u202F% carbonate and {Percent(Here.CarbonDioxide)}\u202F% carbon dioxide; lower pH gives more gas, higher pH more carbonate.";

    private string Percent(double share) => Sign((100 * share).ToString(share < 0.0995 ? "0.0" : "0", CultureInfo.InvariantCulture));

    private string Sign(string number) => number.Replace('.', DecimalSign);
}
