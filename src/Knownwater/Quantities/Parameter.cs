using System.Collections.Frozen;
using System.Globalization;

namespace Knownwater.Quantities;

/// <summary>What is measured in water: a listed parameter with its forms, default tolerances and typical scatter, or any other analyte.</summary>
/// <remarks>
/// Tolerances, typical standard deviations and typical levels are common practice, in <see cref="DefaultForm"/>, to be edited by the
/// owner; <see cref="Source"/> says so. A typical standard deviation is a photometric instrument's, "typical, not yours".
/// Two parameters are equal when key and default form are.
/// </remarks>
public sealed class Parameter : IEquatable<Parameter>
{
    private static readonly Lazy<IReadOnlyList<Parameter>> Listed = new(() => [.. EmbeddedTable.Read("Quantities.parameters.csv").Select(row => new Parameter(row))]);

    private static readonly Lazy<FrozenDictionary<string, Parameter>> ByKey = new(() => Listed.Value.ToFrozenDictionary(each => each.Key, StringComparer.OrdinalIgnoreCase));

    private readonly Dictionary<MainUse, Tolerance> _tolerances = [];
    private readonly Dictionary<MainUse, IReadOnlyList<double>> _levels = [];
    private readonly Dictionary<Matrix, TypicalSd> _scatter = [];

    private Parameter(Dictionary<string, string> row)
    {
        Key = row["key"];
        Name = row["name"];
        Forms = [.. row["forms"].Split(';').Select(ReportingForm.Parse)];
        Source = row["tolerance_source"];
        foreach (var (use, column) in (ReadOnlySpan<(MainUse, string)>)[(MainUse.Reef, "reef"), (MainUse.FishOnlyMarine, "fish_only"), (MainUse.FreshWater, "fresh")])
        {
            if (Parts(row["tolerance_" + column]) is var (absolute, percent))
                _tolerances[use] = new Tolerance(absolute, percent);
            _levels[use] = [.. row["levels_" + column].Split(';', StringSplitOptions.RemoveEmptyEntries).Select(Number)];
        }
        foreach (var (matrix, column) in (ReadOnlySpan<(Matrix, string)>)[(Matrix.Seawater, "marine"), (Matrix.FreshWater, "fresh")])
        {
            if (Parts(row["typical_sd_" + column]) is var (absolute, percent))
                _scatter[matrix] = new TypicalSd(absolute, percent / 100, row["sd_source"]);
        }
        MainUses = [.. _tolerances.Keys];
    }

    private Parameter(string key, string name, ReportingForm form)
    {
        Key = key;
        Name = name;
        Forms = [form];
        MainUses = [];
        Source = "not listed: give your own tolerance";
    }

    /// <summary>All listed parameters, the ones asked for most often first.</summary>
    public static IReadOnlyList<Parameter> All => Listed.Value;

    /// <summary>The name it goes by in records and commands: "nitrate", "general-hardness"; of an analyte that is not listed "other:" and its species or name.</summary>
    public string Key { get; }

    /// <summary>The name for people: "Nitrate".</summary>
    public string Name { get; }

    /// <summary>The form that tolerances, scatter and levels are given in.</summary>
    public ReportingForm DefaultForm => Forms[0];

    /// <summary>The usual forms, the default one first; at least one.</summary>
    public IReadOnlyList<ReportingForm> Forms { get; }

    /// <summary>The main uses that have a default tolerance; empty for an analyte that is not listed.</summary>
    public IReadOnlyList<MainUse> MainUses { get; }

    /// <summary>Where the default tolerance comes from, and why it is what it is.</summary>
    public string Source { get; }

    /// <summary>Whether it is one of <see cref="All"/>.</summary>
    public bool IsListed => !Key.StartsWith("other:", StringComparison.Ordinal);

    /// <summary>Whether a reading below zero can be true; false for all concentrations.</summary>
    public bool CanBeNegative => DefaultForm.Kind == FormKind.Temperature;

    /// <summary>Finds a listed parameter.</summary>
    /// <param name="key">Its key, in any case; null finds nothing.</param>
    /// <returns>The parameter, or null where none has that key.</returns>
    public static Parameter? Find(string? key) => key is null ? null : ByKey.Value.GetValueOrDefault(key.Trim());

    /// <summary>Any analyte that is not listed, by its formula in the form: no default tolerance, no typical scatter.</summary>
    /// <param name="name">The name for people; not empty.</param>
    /// <param name="form">Its form, such as mg/L Cd.</param>
    /// <returns>The parameter.</returns>
    /// <exception cref="ArgumentException">The name is empty.</exception>
    public static Parameter Other(string name, ReportingForm form)
    {
        if (string.IsNullOrWhiteSpace(name))
            throw new ArgumentException("The parameter has no name. Name it as you would on a list, such as Cadmium.", nameof(name));
        ArgumentNullException.ThrowIfNull(form);
        var trimmed = name.Trim();
        return new Parameter($"other:{form.Species ?? trimmed}", trimmed, form);
    }

    /// <summary>The tolerance offered for a main use, in <see cref="DefaultForm"/>.</summary>
    /// <param name="use">What the bench mainly looks after.</param>
    /// <returns>The tolerance, or null where the parameter is not used there or not listed.</returns>
    public Tolerance? DefaultTolerance(MainUse use) => _tolerances.GetValueOrDefault(use);

    /// <summary>The standard deviation that photometric readings typically have, in <see cref="DefaultForm"/>.</summary>
    /// <param name="matrix">Seawater or fresh water.</param>
    /// <returns>The standard deviation by level, or null for an analyte that is not listed.</returns>
    public TypicalSd? TypicalSd(Matrix matrix) => _scatter.GetValueOrDefault(matrix);

    /// <summary>Levels worth a check, lowest first, in <see cref="DefaultForm"/>.</summary>
    /// <param name="use">What the bench mainly looks after.</param>
    /// <returns>Three levels, or none where the parameter is not used there.</returns>
    public IReadOnlyList<double> TypicalLevels(MainUse use) => _levels.GetValueOrDefault(use, []);

    /// <inheritdoc/>
    public bool Equals(Parameter? other) => other is not null && string.Equals(Key, other.Key, StringComparison.Ordinal) && DefaultForm.Equals(other.DefaultForm);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as Parameter);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Key, DefaultForm);

    /// <summary>The name for people, as <see cref="Name"/>.</summary>
    /// <returns>The name.</returns>
    public override string ToString() => Name;

    /// <summary>"0.5 mg/L NO3 + 3%" as its two numbers; null for n/a.</summary>
    private static (double Absolute, double Percent)? Parts(string text)
    {
        if (text is "n/a")
            return null;
        var parts = text.Split(" + ");
        return (Number(parts[0].Split(' ')[0]), parts.Length > 1 ? Number(parts[1].TrimEnd('%')) : 0);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
