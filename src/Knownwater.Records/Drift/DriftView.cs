using Knownwater.Figures;
using Knownwater.Records.Checks;
using NodaTime;

namespace Knownwater.Records.Drift;

/// <summary>The course of a method as a page shows it.</summary>
public sealed record DriftView
{
    /// <summary>The method.</summary>
    public required Guid Method { get; init; }

    /// <summary>“Nitrate on the harbour analyser”.</summary>
    public required string Title { get; init; }

    /// <summary>“18 checks since 7 January”.</summary>
    public required string ChecksWords { get; init; }

    /// <summary>What is so, in a sentence.</summary>
    public required string Sentence { get; init; }

    /// <summary>How much, and how sure; may be empty.</summary>
    public required string Detail { get; init; }

    /// <summary>Which way it has moved: High, Low, or Plain.</summary>
    public required FigureTone Tone { get; init; }

    /// <summary>The picture; null where there is no check yet.</summary>
    public required DriftFigure? Figure { get; init; }

    /// <summary>“in mg/L NO₃ at about 10 mg/L”.</summary>
    public required string UnitWords { get; init; }

    /// <summary>What to do, in order; may be empty.</summary>
    public required IReadOnlyList<string> WhatToDo { get; init; }

    /// <summary>When to check again, and why.</summary>
    public required string Next { get; init; }

    /// <summary>The day by which to check again; null where there is no check yet.</summary>
    public required LocalDate? NextOn { get; init; }

    /// <summary>Lots with how far off each reads, the newest first.</summary>
    public required IReadOnlyList<DriftLotLine> Lots { get; init; }

    /// <summary>Dated events with the step at each.</summary>
    public required IReadOnlyList<DriftEventLine> Events { get; init; }

    /// <summary>The parts of the scatter and the alarm in numbers.</summary>
    public required IReadOnlyList<NumberLine> Numbers { get; init; }

    /// <summary>The alarms that were raised, of the newest check first.</summary>
    public required IReadOnlyList<DriftAlarmLine> Alarms { get; init; }

    /// <summary>The days that the picture shows; null for all.</summary>
    public required (LocalDate From, LocalDate To)? Span { get; init; }

    /// <summary>The days of the first check and of the last; null where there is none.</summary>
    public required (LocalDate From, LocalDate To)? All { get; init; }

    /// <summary>Other spans to look at, each with the words of its link.</summary>
    public required IReadOnlyList<(string Words, LocalDate? From, LocalDate? To)> Spans { get; init; }
}

/// <summary>A lot in the course of a method.</summary>
/// <param name="Name">“N-13”.</param>
/// <param name="OffWords">“−2.5 ± 0.4”.</param>
/// <param name="ChecksWords">“three checks”.</param>
/// <param name="Within">Whether its whole interval lies within tolerance; null where it lies across.</param>
public sealed record DriftLotLine(string Name, string OffWords, string ChecksWords, bool? Within);

/// <summary>An event in the course of a method.</summary>
/// <param name="DayWords">“31 July”.</param>
/// <param name="Words">“lot N-13”.</param>
/// <param name="StepWords">“−2.5 ± 0.4”.</param>
/// <param name="Says">“a step”, or “may be chance”.</param>
public sealed record DriftEventLine(string DayWords, string Words, string StepWords, string Says);

/// <summary>A method in the list of courses.</summary>
/// <param name="Method">The method.</param>
/// <param name="Title">“Nitrate on the harbour analyser”.</param>
/// <param name="Sentence">What is so.</param>
/// <param name="Detail">How much.</param>
/// <param name="ChecksWords">“18 checks since 7 January”.</param>
/// <param name="Tone">Which way it has moved.</param>
public sealed record DriftLine(Guid Method, string Title, string Sentence, string Detail, string ChecksWords, FigureTone Tone);

/// <summary>An alarm that was raised.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Method">The method.</param>
/// <param name="Check">The check that raised it.</param>
/// <param name="DayWords">The day of that check: “17 March”.</param>
/// <param name="IsHigh">Whether the check fell above what was foretold; else below.</param>
/// <param name="StateWords">“open since 18 March”, “explained by lot N-13 on 31 July 2026”, “closed on 20 March by MJ: entered as P”.</param>
/// <param name="IsOpen">Whether it waits for somebody to say what it was.</param>
public sealed record DriftAlarmLine(Guid Id, Guid Method, Guid Check, string DayWords, bool IsHigh, string StateWords, bool IsOpen)
{
    /// <summary>“above”, “below” what was foretold.</summary>
    public string SideWords => IsHigh ? "above" : "below";
}
