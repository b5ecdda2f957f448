using System.Globalization;
using Knownwater.Quantities;

namespace Knownwater.Checks;

/// <summary>Puts a diagnosis into the keeper's words.</summary>
public static class DiagnosisWords
{
    private const string NoBreak = "\u00A0";
    private const string Narrow = "\u202F";

    /// <summary>What is said where no declared fault explains the readings well.</summary>
    public const string NothingExplains = "None of the listed causes explains these readings well.";

    /// <summary>What is said under every ranking.</summary>
    public const string WhatTheNumbersAre = "How often such faults happen is published nowhere. The ranking takes them as about equally likely beforehand and goes by how well each explains the readings.";

    /// <summary>A fault in a few words, to stand in a list or after “or”.</summary>
    /// <param name="fault">The fault.</param>
    /// <returns>“the stock is off”.</returns>
    public static string Name(Fault fault) => fault switch
    {
        Fault.Chance => "chance: nothing is wrong",
        Fault.WrongForm => "the number is in another form",
        Fault.WrongThousand => "the number is off by a thousand",
        Fault.WrongHydrate => "another hydrate was weighed",
        Fault.MassForVolume => "per kilogram was taken for per litre",
        Fault.StockOff => "the stock is off",
        Fault.LotStrength => "this lot of reagent has another strength",
        Fault.ReagentWeakened => "the reagent has weakened since it was opened",
        Fault.DeliveryOff => "pipette, flask or balance were off when the water was prepared",
        Fault.SampleVolume => "the sample volume was wrong",
        Fault.SettingChanged => "a setting, service or repair changed the factor",
        Fault.ReagentBlank => "the reagent of this lot has a blank of its own",
        Fault.DirtyWindow => "the window is dirty or the lamp weak",
        Fault.MatrixContaminated => "the matrix water is contaminated",
        Fault.PureWaterRinse => "the last rinse was pure water",
        Fault.CarryOver => "one rinse too few: the former sample is carried over",
        Fault.WrongMethod => "the method is made for another matrix",
        Fault.Evaporated => "the known water has evaporated",
        Fault.Losses => "the known water has lost what it holds",
        Fault.Saturation => "the curve flattens at the top: too strong a water, or stray light",
        Fault.DriftWithin => "temperature or lamp had not settled",
        Fault.OneOddReading => "a bubble, or one odd reading",
        Fault.WorseScatter => "the readings scatter more than usual",
        _ => "none of these",
    };

    /// <summary>A cause in one sentence.</summary>
    /// <param name="cause">The cause.</param>
    /// <returns>Its faults joined by “or”, the more probable first: “The stock is off, or this lot of reagent has another strength.”</returns>
    public static string Say(Cause cause)
    {
        ArgumentNullException.ThrowIfNull(cause);
        if (cause.IsUnlisted)
            return NothingExplains;
        if (cause.Slip is { } slip)
            return $"{Capital(Name(slip.Kind))}: {slip.Taken} for {slip.Meant}.";
        return Capital(string.Join(", or ", cause.Faults.Select(f => Name(f.Fault)))) + ".";
    }

    /// <summary>How large the effect would be; empty where nothing is to be said.</summary>
    /// <param name="cause">The cause.</param>
    /// <param name="form">Reporting form of the check.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>“It would make the readings about 8 % low.”</returns>
    public static string Size(Cause cause, ReportingForm form, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(cause);
        ArgumentNullException.ThrowIfNull(form);
        if (cause.Slip is { } slip)
            return $"It would make them {NumberWords.Plain(slip.Ratio, 3, sign)} times the known value.";
        var (size, side) = cause switch
        {
            { RelativeSize: { } part } => ($"{NumberWords.Plain(Math.Abs(100 * part), 2, sign)}{Narrow}%", Side(part)),
            { Amount: { } amount } => ($"{NumberWords.Plain(Math.Abs(amount), 2, sign)}{NoBreak}{form.UnitDisplay}", Side(amount)),
            _ => ("", ""),
        };
        if (size.Length == 0)
            return "";
        return cause.Faults[0].Fault switch
        {
            Fault.OneOddReading => $"One reading stands about {size} too {side}.",
            Fault.Losses => $"It would make the lowest water read about {size} {side}.",
            Fault.Saturation => $"It would make the highest water read about {size} {side}.",
            Fault.DriftWithin => $"It would make the readings up to {size} {side}.",
            _ => $"It would make the readings about {size} {side}.",
        };
    }

    /// <summary>A reason in one sentence.</summary>
    /// <param name="reason">The reason.</param>
    /// <param name="cause">The cause that it belongs to.</param>
    /// <param name="form">Reporting form of the check.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>“The levels fit: −0.16 mg/L at 2, −0.81 mg/L at 10.”</returns>
    public static string Say(Reason reason, Cause cause, ReportingForm form, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(reason);
        ArgumentNullException.ThrowIfNull(cause);
        ArgumentNullException.ThrowIfNull(form);
        var figures = reason.Figures;
        var lead = cause.Faults[0].Fault;
        switch (reason.Kind)
        {
            case ReasonKind.Levels:
                var levels = string.Join(", ", Enumerable.Range(0, figures.Count / 2).Select(i => $"{Signed(figures[2 * i + 1], sign)}{NoBreak}{form.UnitDisplay} at {NumberWords.Plain(figures[2 * i], 4, sign)}"));
                return $"{(reason.IsFor ? "The levels fit" : "The levels do not fit well")}: {levels}.";
            case ReasonKind.Order:
                var scatter = $"The readings scatter {NumberWords.Plain(figures[0], 2, sign)} times the usual";
                var odd = $"reading {(figures[2] + 1).ToString(CultureInfo.InvariantCulture)} of level {(figures[1] + 1).ToString(CultureInfo.InvariantCulture)} stands {Signed(figures[3], sign)}{NoBreak}{form.UnitDisplay} from the mean of its level";
                return lead switch
                {
                    Fault.OneOddReading => $"{(reason.IsFor ? "It fits that " : "No reading stands off enough; at most, ")}{odd}.",
                    Fault.WorseScatter or Fault.Unlisted => $"{scatter}.",
                    Fault.DriftWithin or Fault.CarryOver => reason.IsFor ? $"The order of the readings fits: {odd}." : "The order of the readings does not fit.",
                    _ when reason.IsFor => $"{scatter}, and their order tells nothing more.",
                    _ => $"It leaves open why the readings differ as they do: {odd}.",
                };
            case ReasonKind.Earlier:
                return Earlier(reason.IsFor, (int)figures[0], (int)figures[1], lead);
            case ReasonKind.Size:
                return $"The readings are {NumberWords.Plain(figures[1], 3, sign)} times the known value; this slip would make them {NumberWords.Plain(figures[0], 3, sign)} times.";
            case ReasonKind.Matrix:
                return reason.IsFor ? "By the records the water lies outside the method’s window." : "By the records the water lies inside the method’s window.";
            default:
                return lead switch
                {
                    Fault.StockOff => "The stock is past its date.",
                    Fault.Evaporated or Fault.Losses => "The known water is older than its kind keeps.",
                    _ => "The lot is past its date.",
                };
        }
    }

    /// <summary>A test in the imperative.</summary>
    /// <param name="test">The test.</param>
    /// <returns>“Read the same water with a new lot of reagent.”</returns>
    public static string Say(TestKind test) => test switch
    {
        TestKind.ReadLabels => "Read labels, forms, units and weights again, and which method was run.",
        TestKind.Repeat => "Repeat on the same water, with two rinses of it before each reading.",
        TestKind.WaitAndRepeat => "Wait until water, reagents and instrument have the temperature of the room, then repeat.",
        TestKind.WeighSample => "Weigh what is given as sample volume, ten times.",
        TestKind.LookUpSettings => "Look up the factor and offset set in the instrument.",
        TestKind.CleanAndBlank => "Clean window and cell, then read a blank.",
        TestKind.OtherBlank => "Read a blank of other nutrient-free water.",
        TestKind.FreshWater => "Prepare fresh known water from the same stock with other glassware, and read it.",
        TestKind.SecondStock => "Read water from a second, independent stock.",
        TestKind.NewLot => "Read the same water with a new lot of reagent.",
        _ => "Thin the highest water to half with its matrix water, and read it.",
    };

    /// <summary>The name of what would be found, for the two outcomes of a test.</summary>
    /// <param name="test">The test.</param>
    /// <param name="found">Whether it finds something.</param>
    /// <returns>“If the deviation is gone”, “If it stays”.</returns>
    public static string Outcome(TestKind test, bool found) => (test, found) switch
    {
        (TestKind.ReadLabels or TestKind.LookUpSettings, true) => "If something is wrong there",
        (TestKind.ReadLabels or TestKind.LookUpSettings, false) => "If all is as it should be",
        (TestKind.WeighSample, true) => "If the volume is off",
        (TestKind.WeighSample, false) => "If the volume is right",
        (TestKind.CleanAndBlank or TestKind.OtherBlank, true) => "If the blank now reads right",
        (TestKind.CleanAndBlank or TestKind.OtherBlank, false) => "If the blank reads as before",
        (TestKind.ThinnedHigh, true) => "If it now reads right",
        (TestKind.ThinnedHigh, false) => "If it still reads wrong",
        (_, true) => "If the deviation is gone",
        _ => "If it stays",
    };

    /// <summary>A test, its cost and what its outcomes would mean.</summary>
    /// <param name="test">The test.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>Sentences: what to do and how long it takes; then one for each outcome.</returns>
    public static IReadOnlyList<string> Say(DecidingTest test, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(test);
        return [$"{Say(test.Kind)} It takes about {VerdictWords.Duration(test.Minutes)}.", Meaning(test.IfFound, true), Meaning(test.IfNot, false)];

        string Meaning(TestOutcome outcome, bool found) =>
            $"{Outcome(test.Kind, found)}, most likely {string.Join("; then ", outcome.Leading.Take(2).Select(f => $"{Name(f.Fault)} ({Percent(f.Probability, sign)})"))}.";
    }

    /// <summary>A probability in percent: whole from 1 to 99 %, “under 1 %” and “over 99 %” beyond.</summary>
    /// <param name="probability">The probability, 0 to 1.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>“62 %”.</returns>
    public static string Percent(double probability, DecimalSign sign) => probability switch
    {
        < 0.01 => $"under 1{Narrow}%",
        > 0.99 => $"over 99{Narrow}%",
        _ => NumberWords.Fixed(100 * probability, 0, sign) + Narrow + "%",
    };

    private static string Earlier(bool isFor, int checks, int with, Fault fault)
    {
        var carrier = fault switch
        {
            Fault.StockOff or Fault.WrongHydrate => "this stock",
            Fault.LotStrength or Fault.ReagentWeakened or Fault.ReagentBlank => "this lot",
            Fault.DeliveryOff or Fault.MatrixContaminated or Fault.Evaporated or Fault.Losses => "this preparation",
            Fault.SettingChanged or Fault.DirtyWindow or Fault.Saturation => "the instrument as it is set now",
            _ => null,
        };
        var all = checks == 1 ? "The earlier check" : $"The {VerdictWords.Count(checks)} earlier checks";
        var verb = isFor ? checks == 1 ? "fits" : "fit" : checks == 1 ? "does not fit" : "do not fit";
        if (carrier is null)
            return $"{all} {verb} with a fault of today alone.";
        var these = with switch
        {
            0 => "none of them was",
            1 when checks == 1 => "it was",
            _ when with == checks => "all of them were",
            1 => "one of them was",
            _ => $"{VerdictWords.Count(with)} of them were",
        };
        if (with == 0 && checks == 1)
            these = "it was not";
        return $"{all} {verb}: {these} made with {carrier}.";
    }

    private static string Signed(double value, DecimalSign sign) => (value > 0 ? "+" : "") + NumberWords.Plain(value, 2, sign);

    private static string Side(double value) => value < 0 ? "low" : "high";

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}
