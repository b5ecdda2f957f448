using Knownwater.Checks;
using Knownwater.Quantities;
using NodaTime;

namespace Knownwater.Records.Instruments;

/// <summary>One instrument as a page shows it.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Name">Its name.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="KindWords">Its kind in words.</param>
/// <param name="Note">Notes; may be empty.</param>
/// <param name="Settings">Settings, the newest first.</param>
/// <param name="Methods">Its methods by name.</param>
public sealed record InstrumentView(Guid Id, string Name, InstrumentKind Kind, string KindWords, string Note, IReadOnlyList<SettingView> Settings, IReadOnlyList<MethodView> Methods);

/// <summary>A dated setting.</summary>
/// <param name="Id">Its key.</param>
/// <param name="On">The day.</param>
/// <param name="DayWords">The day in words.</param>
/// <param name="What">What was set.</param>
/// <param name="Old">What it was; may be empty.</param>
/// <param name="New">What it became.</param>
/// <param name="Why">Why; may be empty.</param>
/// <param name="Who">Initials; may be empty.</param>
public sealed record SettingView(Guid Id, LocalDate On, string DayWords, string What, string Old, string New, string Why, string Who);

/// <summary>A method as a page shows it.</summary>
public sealed record MethodView
{
    /// <summary>Its key.</summary>
    public required Guid Id { get; init; }

    /// <summary>Its instrument.</summary>
    public required Guid Instrument { get; init; }

    /// <summary>“Alkalinity, in dKH”.</summary>
    public required string Name { get; init; }

    /// <summary>Key of the listed parameter, or <c>other</c>.</summary>
    public required string ParameterKey { get; init; }

    /// <summary>Name of the parameter.</summary>
    public required string ParameterName { get; init; }

    /// <summary>Reporting form.</summary>
    public required ReportingForm Form { get; init; }

    /// <summary>Matrix it measures.</summary>
    public required Matrix Matrix { get; init; }

    /// <summary>Least salinity as it stands in the field; may be empty.</summary>
    public required string SalinityLow { get; init; }

    /// <summary>Greatest salinity as it stands in the field; may be empty.</summary>
    public required string SalinityHigh { get; init; }

    /// <summary>Sample volume in mL as it stands in the field; may be empty.</summary>
    public required string SampleVolume { get; init; }

    /// <summary>Least value it shows, as it stands in the field; may be empty.</summary>
    public required string RangeLow { get; init; }

    /// <summary>Greatest value it shows, as it stands in the field; may be empty.</summary>
    public required string RangeHigh { get; init; }

    /// <summary>Step of its display as it stands in the field; may be empty.</summary>
    public required string Resolution { get; init; }

    /// <summary>How it is read.</summary>
    public required ReadingScale Scale { get; init; }

    /// <summary>Steps of the colour card as they stand in the field; may be empty.</summary>
    public required string Steps { get; init; }

    /// <summary>Value of a drop as it stands in the field; may be empty.</summary>
    public required string ValuePerDrop { get; init; }

    /// <summary>Whether the kit's table makes up for the last drop.</summary>
    public required bool TableAllowsForLastDrop { get; init; }

    /// <summary>The scale in words: “by colour, steps 0, 5, 10 and 25 mg/L”; empty for a display.</summary>
    public required string ScaleWords { get; init; }

    /// <summary>What may be typed for a kit; empty for a display.</summary>
    public required string ScaleHint { get; init; }

    /// <summary>What may be typed for a kit where that is a short list; else empty.</summary>
    public required IReadOnlyList<Offer> ScaleChoices { get; init; }

    /// <summary>What stands beside a reading as it is typed: the form's unit, or drops.</summary>
    public required string ReadingUnit { get; init; }

    /// <summary>Minutes a reading, as it stands in the field; may be empty.</summary>
    public required string MinutesPerReading { get; init; }

    /// <summary>Its own tolerance as it stands in the field; empty for the default.</summary>
    public required string ToleranceAbsolute { get; init; }

    /// <summary>Percent part of its own tolerance as it stands in the field; empty for the default.</summary>
    public required string TolerancePercent { get; init; }

    /// <summary>The tolerance that a check takes, in words: “± 0.3 dKH + 2 %”.</summary>
    public required string ToleranceWords { get; init; }

    /// <summary>Lots in use, and those out of use after them.</summary>
    public required IReadOnlyList<LotView> Lots { get; init; }

    /// <summary>Its last closed check; null where it was never checked.</summary>
    public required Guid? LastCheck { get; init; }

    /// <summary>Verdict of that check.</summary>
    public required Verdict? LastVerdict { get; init; }

    /// <summary>That check in words: “Reads right, 3 September”; or “never checked”.</summary>
    public required string LastCheckWords { get; init; }
}

/// <summary>A lot as a page shows it.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Name">What is on the bottle.</param>
/// <param name="Reagent">What is in it; may be empty.</param>
/// <param name="OpenedOn">Day it was opened.</param>
/// <param name="ExpiresOn">Last day of use; null where not said.</param>
/// <param name="EmptiedOn">Day it went out of use; null while in use.</param>
/// <param name="Words">That in words: “opened 2 July, good until 31 December”.</param>
/// <param name="Expired">Whether it is in use past its date.</param>
public sealed record LotView(Guid Id, string Name, string Reagent, LocalDate OpenedOn, LocalDate? ExpiresOn, LocalDate? EmptiedOn, string Words, bool Expired)
{
    /// <summary>Whether it is in use.</summary>
    public bool InUse => EmptiedOn is null;
}
