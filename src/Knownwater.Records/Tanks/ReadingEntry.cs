namespace Knownwater.Records.Tanks;

/// <summary>One line of a form for readings: by a method of the bench, or of a parameter with an instrument that is only named.</summary>
public sealed record ReadingEntry
{
    /// <summary>The method; null where the line names what was measured itself.</summary>
    public Guid? Method { get; init; }

    /// <summary>Key of a listed parameter, or <c>other</c>; read only without a method.</summary>
    public string Parameter { get; init; } = "";

    /// <summary>Name of another analyte; only with <c>other</c>.</summary>
    public string OtherName { get; init; } = "";

    /// <summary>Reporting form as text; empty for the parameter's own.</summary>
    public string Form { get; init; } = "";

    /// <summary>What it was read with; read only without a method, and may be empty.</summary>
    public string Instrument { get; init; } = "";

    /// <summary>The number as typed; <c>&lt;0.02</c> and <c>&gt;50</c> are kept as limits. An empty line is left out.</summary>
    public string Typed { get; init; } = "";
}
