namespace Knownwater.Checks;

/// <summary>A test that parts faults.</summary>
public enum TestKind
{
    /// <summary>Read labels, forms, units, weights and the method that was run again.</summary>
    ReadLabels = 0,

    /// <summary>Repeat on the same water, with two rinses of it before each reading.</summary>
    Repeat,

    /// <summary>Wait until water, reagents and instrument have the temperature of the room, then repeat.</summary>
    WaitAndRepeat,

    /// <summary>Weigh what is given as sample volume.</summary>
    WeighSample,

    /// <summary>Look up the factor and offset set in the instrument.</summary>
    LookUpSettings,

    /// <summary>Clean window and cell, then read a blank.</summary>
    CleanAndBlank,

    /// <summary>Read a blank of other nutrient-free water.</summary>
    OtherBlank,

    /// <summary>Prepare fresh known water from the same stock with other glassware, and read it.</summary>
    FreshWater,

    /// <summary>Read water from a second, independent stock.</summary>
    SecondStock,

    /// <summary>Read the same water with a new lot of reagent.</summary>
    NewLot,

    /// <summary>Thin the highest water to half with its matrix water, and read it.</summary>
    ThinnedHigh,
}

/// <summary>A test, what it costs, and what its outcomes would mean.</summary>
public sealed record DecidingTest
{
    /// <summary>The test.</summary>
    public required TestKind Kind { get; init; }

    /// <summary>What it costs, in minutes; above zero.</summary>
    public required double Minutes { get; init; }

    /// <summary>By how much it lowers the entropy over the faults in expectation, in bits; zero or above.</summary>
    public required double ExpectedBits { get; init; }

    /// <summary>Expected bits a minute: tests are ranked by it.</summary>
    public double BitsPerMinute => ExpectedBits / Minutes;

    /// <summary>If it finds something, or the deviation is gone.</summary>
    public required TestOutcome IfFound { get; init; }

    /// <summary>If it finds nothing, and the deviation stays.</summary>
    public required TestOutcome IfNot { get; init; }
}

/// <summary>One outcome of a test.</summary>
/// <param name="Probability">How probable it is now, 0 to 1.</param>
/// <param name="Leading">The faults that would then lead, with the probability they would have; at most three.</param>
public sealed record TestOutcome(double Probability, IReadOnlyList<FaultShare> Leading);
