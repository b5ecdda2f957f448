using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Preparation;

/// <summary>Known water: its value with every error source it came from.</summary>
public sealed record PreparedWater
{
    private readonly PreparationModel _model;
    private readonly Estimate[] _inputs;

    internal PreparedWater(PreparationModel model, Estimate[] inputs) => (_model, _inputs) = (model, inputs);

    /// <summary>Concentration by the law of propagation (JCGM 100:2008, 5.1.2 and 5.2.2), with its sources.</summary>
    public required Estimate Concentration { get; init; }

    /// <summary>Form of the concentration.</summary>
    public required ReportingForm Form { get; init; }

    /// <summary>Value after each step, in order; empty for the bottle as it is.</summary>
    public required IReadOnlyList<double> AfterSteps { get; init; }

    /// <summary>Salinity after dilution; that of the matrix for the bottle as it is.</summary>
    public required double Salinity { get; init; }

    /// <summary>Part of the last total that is stock solution by volume, 0 to 1.</summary>
    public required double StockPart { get; init; }

    /// <summary>mL of stock solution used for the first step as taken; null for the bottle as it is.</summary>
    public required double? StockMillilitres { get; init; }

    /// <summary>mL made in the last step; null for the bottle as it is.</summary>
    public required double? MadeMillilitres { get; init; }

    /// <summary>What the stock brings besides its analyte.</summary>
    public required IReadOnlyList<OtherParameter> Others { get; init; }

    /// <summary>The value of the input quantity that first carries each source, by the source's identity.</summary>
    public required IReadOnlyDictionary<Guid, double> InputValues { get; init; }

    /// <summary>Identities of the sources that only another bottle makes smaller: certificate, purity, background.</summary>
    public required IReadOnlySet<Guid> Bought { get; init; }

    /// <summary>Cautions and remarks, one sentence each.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    /// <summary>The same model by Monte Carlo (JCGM 101:2008).</summary>
    /// <param name="seed">Seed; the same seed gives the same result on any number of threads.</param>
    /// <param name="trials">Number of trials; rounded up to whole blocks.</param>
    public MonteCarloResult Simulate(ulong seed, int trials = 1_000_000) => MonteCarlo.Of(_model, _inputs, seed, trials);

    /// <summary>Whether the law of propagation may stand for the distribution by Monte Carlo (JCGM 101:2008, clause 8).</summary>
    /// <param name="seed">Seed.</param>
    /// <param name="trials">Number of trials.</param>
    public Validation Validate(ulong seed, int trials = 1_000_000) => Validation.Of(Concentration, Simulate(seed, trials));
}
