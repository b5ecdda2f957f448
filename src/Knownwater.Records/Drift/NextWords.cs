using Knownwater.Drift;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using NodaTime;

namespace Knownwater.Records.Drift;

/// <summary>When to check a method again and why, in words: the same under Due, in the calendar and on the page of its course.</summary>
internal sealed class NextWords(NextCheckReason reason, double day, double chance, DriftEventKind? sinceKind, string since, bool priorDriven, BenchSetting bench)
{
    private readonly string _chance = chance > 0.995 ? $"more than 99{Words.Narrow}%" : chance < 0.005 ? $"less than 1{Words.Narrow}%" : $"{NumberWords.Plain(Math.Round(100 * chance), 2, bench.Sign)}{Words.Narrow}%";
    private readonly string _day = Words.Day(MethodCourse.On(day, bench), bench.Today);

    public NextCheckReason Reason => reason;

    public LocalDate On => MethodCourse.On(day, bench);

    /// <summary>Whether it is a new lot that makes the check due.</summary>
    public bool IsLot => sinceKind == DriftEventKind.LotOpened;

    /// <summary>Whether it is due at once, whatever the day.</summary>
    public bool IsAtOnce => reason is NextCheckReason.EventSince or NextCheckReason.WrongAlready;

    /// <summary>“Check by 2 November: by then …”, “Check now: …”.</summary>
    public string Whole => $"{(IsAtOnce ? "Check now" : $"Check by {_day}")}: {Because("by then")}{Driven}";

    /// <summary>The same as a reason that stands by itself: “By 2 November the chance …”.</summary>
    public string ReasonWords => Words.Capital(Because($"by {_day}")) + Driven;

    /// <summary>“lot A-20 was opened on 4 September”, “alkalinity factor from 1.00 to 1.02 was set on 3 May”; empty where nothing came since.</summary>
    public string SinceWords => since.Length == 0 ? "" : $"{since} {(IsLot ? "was opened" : sinceKind == DriftEventKind.SettingChanged ? "was set" : "came")} on {_day}";

    private string Because(string then) => reason switch
    {
        NextCheckReason.EventSince => $"{SinceWords}, after the last check.",
        NextCheckReason.WrongAlready => $"the chance that it reads wrong by more than your tolerance is {_chance} already.",
        NextCheckReason.MayHaveDrifted => $"{then} the chance that it reads wrong by more than your tolerance reaches {_chance}.",
        _ => $"{(then == "by then" ? "that is the longest time without a check" : $"on {_day} the longest time without a check is over")}. The chance that it reads wrong by more than your tolerance is {_chance} then.",
    };

    private string Driven => priorDriven ? " Until eight checks this follows from what is common more than from this method." : "";
}
