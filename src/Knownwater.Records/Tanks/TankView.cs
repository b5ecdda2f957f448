using Knownwater.Quantities;
using NodaTime;

namespace Knownwater.Records.Tanks;

/// <summary>One tank as a page shows it.</summary>
public sealed record TankView
{
    /// <summary>Its key.</summary>
    public required Guid Id { get; init; }

    /// <summary>Its name.</summary>
    public required string Name { get; init; }

    /// <summary>What lives in it.</summary>
    public required TankKind Kind { get; init; }

    /// <summary>Seawater or fresh water.</summary>
    public required Matrix Matrix { get; init; }

    /// <summary>“Reef, 280 L, salinity 35”.</summary>
    public required string Words { get; init; }

    /// <summary>Volume as it stands in the field; may be empty.</summary>
    public required string Volume { get; init; }

    /// <summary>Unit of that volume.</summary>
    public required TankVolumeUnit Unit { get; init; }

    /// <summary>Salinity as it stands in the field; may be empty.</summary>
    public required string Salinity { get; init; }

    /// <summary>Notes; may be empty.</summary>
    public required string Note { get; init; }

    /// <summary>The last reading of each method and of each parameter by a named instrument, the newest first.</summary>
    public required IReadOnlyList<TankReadingView> Latest { get; init; }

    /// <summary>The last doses, the newest first.</summary>
    public required IReadOnlyList<DoseView> Doses { get; init; }

    /// <summary>Number of readings.</summary>
    public required int ReadingCount { get; init; }

    /// <summary>Number of doses.</summary>
    public required int DoseCount { get; init; }

    /// <summary>The present minute as it stands in a field of day and hour.</summary>
    public required string NowTyped { get; init; }

    /// <summary>Last act on the tank in a sentence, for the undo line; null where nothing can be undone.</summary>
    public required string? LastAct { get; init; }

    /// <summary>The history entry of that act.</summary>
    public required Guid? LastActEntry { get; init; }
}

/// <summary>A tank in one line of a list.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Name">Its name.</param>
/// <param name="Words">“Reef, 280 L, salinity 35”.</param>
/// <param name="LastWords">“last read 3 September, 09:40”, or “not read yet”.</param>
public sealed record TankLine(Guid Id, string Name, string Words, string LastWords);

/// <summary>One reading of a tank.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Tank">The tank.</param>
/// <param name="TankName">Name of the tank.</param>
/// <param name="Method">The method; null where it was read by an instrument that is only named.</param>
/// <param name="Parameter">Name of the parameter.</param>
/// <param name="Form">Its reporting form.</param>
/// <param name="Instrument">Name of the instrument; may be empty.</param>
/// <param name="Typed">As typed.</param>
/// <param name="Words">“8.2 dKH”.</param>
/// <param name="At">When it was read.</param>
/// <param name="AtTyped">That hour as it stands in a field.</param>
/// <param name="WhenWords">That hour in words.</param>
/// <param name="Who">Initials; may be empty.</param>
/// <param name="Note">Notes; may be empty.</param>
public sealed record TankReadingView(
    Guid Id, Guid Tank, string TankName, Guid? Method, string Parameter, ReportingForm Form, string Instrument, string Typed, string Words, Instant At, string AtTyped, string WhenWords, string Who, string Note)
{
    /// <summary>What stands beside the number as it is typed: the form's unit, or drops.</summary>
    public string ReadingUnit { get; init; } = Form.Display;

    /// <summary>What may be typed for a kit, in a sentence; empty where the method has a display.</summary>
    public string ScaleHint { get; init; } = "";

    /// <summary>All that may be typed for a kit where that is a short list; else empty.</summary>
    public IReadOnlyList<Offer> ScaleChoices { get; init; } = [];

    /// <summary>“± 0.36 dKH”: the 95 % doubt of one reading of any day, as the checks of its method have it; empty where fewer than three count, and for a limit.</summary>
    public string GiveOrTake { get; init; } = "";

    /// <summary>What a failed check says of it; null where none concerns it.</summary>
    public DoubtMark? Doubt { get; init; }
}

/// <summary>One dose.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Tank">The tank.</param>
/// <param name="TankName">Name of the tank.</param>
/// <param name="What">What was dosed.</param>
/// <param name="Amount">Amount with its unit as typed.</param>
/// <param name="ParameterKey">Key of the parameter it moves; may be empty.</param>
/// <param name="Parameter">Name of that parameter; may be empty.</param>
/// <param name="Kind">What it was for.</param>
/// <param name="KindWords">That in a word.</param>
/// <param name="IsAutomatic">Whether a machine gave it.</param>
/// <param name="At">When it was given.</param>
/// <param name="AtTyped">That hour as it stands in a field.</param>
/// <param name="WhenWords">That hour in words.</param>
/// <param name="Who">Initials; may be empty.</param>
/// <param name="Note">Notes; may be empty.</param>
public sealed record DoseView(
    Guid Id, Guid Tank, string TankName, string What, string Amount, string ParameterKey, string Parameter, DoseKind Kind, string KindWords, bool IsAutomatic, Instant At, string AtTyped, string WhenWords, string Who, string Note)
{
    /// <summary>What a failed check says of it; null where none concerns it.</summary>
    public DoubtMark? Doubt { get; init; }
}
