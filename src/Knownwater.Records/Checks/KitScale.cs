using System.Globalization;
using System.Text.RegularExpressions;
using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Instruments;

namespace Knownwater.Records.Checks;

/// <summary>The reading scale of a hand kit: what may be typed, what it means, how it is told.</summary>
internal abstract partial class KitScale
{
    /// <summary>The scale of a method; null where it has a display.</summary>
    public static KitScale? Of(Method method) => Of(method.Scale, method.Steps, method.ValuePerDrop, method.TableAllowsForLastDrop);

    /// <summary>The scale that a check was started with; null where it has a display.</summary>
    public static KitScale? Of(Check check) => Of(check.Scale, check.Steps, check.ValuePerDrop, check.TableAllowsForLastDrop);

    private static KitScale? Of(ReadingScale? scale, string steps, double? drop, bool allows) => scale switch
    {
        ReadingScale.ColourSteps => new Colours(new ColourCard([.. steps.Split(';').Select(s => double.Parse(s, CultureInfo.InvariantCulture))])),
        ReadingScale.Drops => new Drops(new DropCount(drop!.Value, allows)),
        _ => null,
    };

    /// <summary>What makes the step of a display.</summary>
    public const string DisplayStep = "step of the display";

    /// <summary>What makes its step, “step of the card”.</summary>
    public abstract string StepName { get; }

    /// <summary>Width of a step at a value.</summary>
    public abstract double ResolutionAt(double value);

    /// <summary>The scale in words: “by colour, steps 0, 5, 10 and 25 mg/L”.</summary>
    public abstract string Words(ReportingForm form, DecimalSign sign);

    /// <summary>What may be typed, in a sentence.</summary>
    public abstract string Hint(ReportingForm form, DecimalSign sign);

    /// <summary>What stands beside the number as it is typed: the form's unit, or drops.</summary>
    public virtual string Unit(ReportingForm form) => form.Display;

    /// <summary>What a reading leaves open, in a sentence or two.</summary>
    /// <param name="step">Width of the step that a check counts.</param>
    /// <param name="form">Form of the step.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    public abstract string LeftOpen(double step, ReportingForm form, DecimalSign sign);

    /// <summary>All that may be typed, where that is a short list: each step and what lies between.</summary>
    public virtual IReadOnlyList<Offer> Choices(DecimalSign sign) => [];

    /// <summary>A reading as it was seen: “like 10”, “between 5 and 10”, “12 drops”.</summary>
    public abstract string Seen(double value, Censoring censoring, DecimalSign sign);

    /// <summary>Reads what was typed; null with a fault that offers what is near.</summary>
    public abstract KitReading? Read(TypedFields fields, string field, string typed, DecimalSign sign);

    /// <summary>A question about a number that was hardly meant as counted; null where there is none.</summary>
    public virtual (string Sentence, Offer Offer)? Doubt(string typed, KitReading reading, double known, double tolerance, ReportingForm form, DecimalSign sign) => null;

    private static string Plain(double value, DecimalSign sign) => NumberWords.Plain(value, 6, sign);

    private static Offer Use(string text) => new($"Use {text}", text);

    private sealed partial class Colours(ColourCard card) : KitScale
    {
        public override string StepName => "step of the colour card";

        public override double ResolutionAt(double value) => card.ResolutionAt(value);

        public override string Words(ReportingForm form, DecimalSign sign) => $"by colour, steps {List(sign)}{Records.Words.NoBreak}{form.UnitDisplay}";

        public override string Hint(ReportingForm form, DecimalSign sign) =>
            $"Steps of the card: {List(sign)}. Between two colours, write both, as in {Pair(card.Steps.Count > 2 ? 1 : 0, sign)}. Darker than the last is >{(card.Steps[0] > 0 ? ", no colour is <" : "")}.";

        public override string LeftOpen(double step, ReportingForm form, DecimalSign sign) =>
            $"Each reading lies between two colours: the card leaves up to {Plain(step / 2, sign)}{Records.Words.NoBreak}{form.UnitDisplay} open to either side of it. That is part of the doubt, and more readings do not make it smaller; a card with closer steps does.";

        public override string Seen(double value, Censoring censoring, DecimalSign sign) => censoring switch
        {
            Censoring.Below => $"paler than {Plain(card.Steps[0], sign)}",
            Censoring.Above => $"darker than {Plain(card.Steps[^1], sign)}",
            _ => card.IndexOf(value) >= 0 || card.Neighbours(value) is not ({ } below, { } above)
                ? $"like {Plain(value, sign)}"
                : $"between {Plain(card.Steps[below], sign)} and {Plain(card.Steps[above], sign)}",
        };

        public override KitReading? Read(TypedFields fields, string field, string typed, DecimalSign sign)
        {
            var text = typed.Trim();
            if (text is "<" || Pale().IsMatch(text))
                return Paler(fields, field, sign);
            if (text is ">" || Dark().IsMatch(text))
                return card.DarkerThanLast();
            if (Two().Match(text) is { Success: true } two)
            {
                var from = fields.Number(field, two.Groups["a"].Value, "a step of the card", 0);
                var to = from is null ? null : fields.Number(field, two.Groups["b"].Value, "a step of the card", 0);
                return from is { } a && to is { } b ? Between(fields, field, Math.Min(a, b), Math.Max(a, b), sign) : null;
            }
            if (fields.Read(field, Like().Replace(text, "")) is not { } read)
                return null;
            var at = card.IndexOf(read.Value);
            switch (read.Censoring)
            {
                case Censoring.Below when at == 0:
                    return Paler(fields, field, sign);
                case Censoring.Above when at == card.Steps.Count - 1:
                    return card.DarkerThanLast();
                case not Censoring.None:
                    fields.Fault(field, $"“{text}” leaves open more than the card does. Say which colour it is like, or between which two it lies.", Near(read.Value, sign));
                    return null;
                default:
                    if (at >= 0)
                        return card.Like(at);
                    fields.Fault(field, NotOnCard(Plain(read.Value, sign), read.Value, sign), Near(read.Value, sign));
                    return null;
            }
        }

        public override IReadOnlyList<Offer> Choices(DecimalSign sign)
        {
            var choices = new List<Offer>();
            if (card.Steps[0] > 0)
                choices.Add(new Offer(Seen(card.Steps[0], Censoring.Below, sign), "<"));
            for (var i = 0; i < card.Steps.Count; i++)
            {
                choices.Add(new Offer(Seen(card.Steps[i], Censoring.None, sign), Plain(card.Steps[i], sign)));
                if (i < card.Steps.Count - 1)
                    choices.Add(new Offer(Seen(card.Between(i).Value, Censoring.None, sign), Pair(i, sign)));
            }
            choices.Add(new Offer(Seen(card.Steps[^1], Censoring.Above, sign), ">"));
            return choices;
        }

        private KitReading? Paler(TypedFields fields, string field, DecimalSign sign)
        {
            if (card.Steps[0] > 0)
                return card.PalerThanFirst();
            fields.Fault(field, $"The first step of this card is {Plain(card.Steps[0], sign)}, and nothing is paler. No colour is like that step.", Use(Plain(card.Steps[0], sign)));
            return null;
        }

        private KitReading? Between(TypedFields fields, string field, double from, double to, DecimalSign sign)
        {
            foreach (var end in (double[])[from, to])
            {
                if (card.IndexOf(end) >= 0)
                    continue;
                fields.Fault(field, NotOnCard(Plain(end, sign), end, sign), Near((from + to) / 2, sign));
                return null;
            }
            int a = card.IndexOf(from), b = card.IndexOf(to);
            if (a == b)
                return card.Like(a);
            if (b == a + 1)
                return card.Between(a);
            fields.Fault(field, $"Between {Plain(from, sign)} and {Plain(to, sign)} the card has more steps. Say between which two neighbours it lies, or which step it is like.", Near((from + to) / 2, sign));
            return null;
        }

        private string NotOnCard(string shown, double value, DecimalSign sign)
        {
            var steps = $"{shown} is not on the card; its steps are {List(sign)}.";
            return card.Neighbours(value) switch
            {
                ({ } below, { } above) => $"{steps} Is it like {Plain(card.Steps[below], sign)}, like {Plain(card.Steps[above], sign)}, or between the two?",
                ({ } last, null) => $"{steps} Is it like {Plain(card.Steps[last], sign)}, or darker?",
                _ => $"{steps} Is it like {Plain(card.Steps[0], sign)}, or paler?",
            };
        }

        private Offer[] Near(double value, DecimalSign sign) => card.Neighbours(value) switch
        {
            ({ } below, { } above) when below != above => [Use(Plain(card.Steps[below], sign)), Use(Pair(below, sign)), Use(Plain(card.Steps[above], sign))],
            ({ } at, { }) => [.. at > 0 ? [Use(Pair(at - 1, sign))] : Array.Empty<Offer>(), Use(Plain(card.Steps[at], sign)), .. at < card.Steps.Count - 1 ? [Use(Pair(at, sign))] : Array.Empty<Offer>()],
            ({ } last, null) => [Use(Plain(card.Steps[last], sign)), new Offer("It is darker", ">")],
            _ => [new Offer("It is paler", "<"), Use(Plain(card.Steps[0], sign))],
        };

        private string Pair(int lower, DecimalSign sign) => $"{Plain(card.Steps[lower], sign)}-{Plain(card.Steps[lower + 1], sign)}";

        /// <summary>With a comma as decimal sign, a semicolon parts the steps.</summary>
        private string List(DecimalSign sign) => sign == DecimalSign.Comma
            ? string.Join("; ", card.Steps.Select(s => Plain(s, sign)))
            : Records.Words.List([.. card.Steps.Select(s => Plain(s, sign))]);

        [GeneratedRegex(@"^(no colou?r|colou?rless|paler)$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
        private static partial Regex Pale();

        [GeneratedRegex(@"^darker$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
        private static partial Regex Dark();

        [GeneratedRegex(@"^(?:between\s+)?(?<a>[\d.,]+)\s*(?:-|–|—|\u2212|/|to|and)\s*(?<b>[\d.,]+)$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
        private static partial Regex Two();

        [GeneratedRegex(@"^like\s+", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
        private static partial Regex Like();
    }

    private sealed partial class Drops(DropCount kit) : KitScale
    {
        private const int Most = 1000;

        public override string StepName => "last drop";

        public override double ResolutionAt(double value) => kit.ResolutionAt(value);

        public override string Words(ReportingForm form, DecimalSign sign) =>
            $"by drops of {Plain(kit.ValuePerDrop, sign)}{Records.Words.NoBreak}{form.UnitDisplay}{(kit.TableAllowsForLastDrop ? "; its table allows for the last drop" : "; half a drop is taken off, since the last one overshoots")}";

        public override string Hint(ReportingForm form, DecimalSign sign) => $"Count the drops, the one that turned the colour too; each is worth {Plain(kit.ValuePerDrop, sign)}{Records.Words.NoBreak}{form.UnitDisplay}. Turned before the first drop is <; stopped after thirty without a turn is >30.";

        public override string LeftOpen(double step, ReportingForm form, DecimalSign sign) =>
            $"Each reading lies within its last drop: {Plain(step / 2, sign)}{Records.Words.NoBreak}{form.UnitDisplay} stay open to either side. That is part of the doubt, and more counts do not make it smaller; a larger sample does, since a drop is then worth less.";

        public override string Unit(ReportingForm form) => "drops";

        public override string Seen(double value, Censoring censoring, DecimalSign sign) => censoring switch
        {
            Censoring.Below => "turned before the first drop",
            Censoring.Above => $"not turned after {Count((int)Math.Round(value / kit.ValuePerDrop - (kit.TableAllowsForLastDrop ? 0.5 : 0)))}",
            _ => kit.DropsFor(value) is { } drops ? Count(drops) : "",
        };

        public override KitReading? Read(TypedFields fields, string field, string typed, DecimalSign sign)
        {
            var text = Word().Replace(typed.Trim(), "");
            if (text == "<")
                return kit.TurnedBeforeFirst();
            if (text == ">")
            {
                fields.Fault(field, "After how many drops you stopped is not said. Write it too, as in >30.");
                return null;
            }
            if (fields.Read(field, text) is not { } read)
                return null;
            if (read.Value != Math.Floor(read.Value))
            {
                var offers = new List<Offer>();
                if (kit.DropsFor(read.Value) is { } meant)
                    offers.Add(new Offer($"It was {Count(meant)}", $"{meant} drops"));
                else if (read.Value is > 0 and < Most)
                    offers.AddRange([Use($"{Math.Floor(read.Value)} drops"), Use($"{Math.Ceiling(read.Value)} drops")]);
                fields.Fault(field, $"{typed.Trim()} is not a whole number of drops. Write the drops as counted; their value follows.", [.. offers]);
                return null;
            }
            if (read.Value == 0 || (read.Censoring == Censoring.Below && read.Value <= 1))
                return kit.TurnedBeforeFirst();
            if (read.Value is < 1 or > Most)
            {
                fields.Fault(field, $"{typed.Trim()} drops cannot be: a count lies between 1 and {Most}. Write the drops as counted.");
                return null;
            }
            if (read.Censoring == Censoring.Below)
            {
                fields.Fault(field, $"“{typed.Trim()}” is no count. Write at which drop it turned; where it had turned before the first, write <.", Use($"{read.Value} drops"));
                return null;
            }
            return read.Censoring == Censoring.Above ? kit.NotTurned((int)read.Value) : kit.Turned((int)read.Value);
        }

        public override (string Sentence, Offer Offer)? Doubt(string typed, KitReading reading, double known, double tolerance, ReportingForm form, DecimalSign sign)
        {
            if (reading.Censoring != Censoring.None || Word().IsMatch(typed.Trim()) || kit.DropsFor(reading.Value) is not { } drops || Math.Abs(reading.Value - known) <= 3 * tolerance || Math.Abs(drops - known) > tolerance)
                return null;
            // the value was written in place of the count
            var meant = Math.Max(1, (int)Math.Round(drops / kit.ValuePerDrop + (kit.TableAllowsForLastDrop ? 0 : 0.5), MidpointRounding.AwayFromZero));
            return ($"{Count(drops)} are {Plain(reading.Value, sign)}{Records.Words.NoBreak}{form.UnitDisplay}. Did you write the value in place of the count? {Plain(drops, sign)}{Records.Words.NoBreak}{form.UnitDisplay} would be about {Count(meant)}.", new Offer($"It was {Count(meant)}", $"{meant} drops"));
        }

        private static string Count(int drops) => drops == 1 ? "1 drop" : $"{drops} drops";

        [GeneratedRegex(@"\s*drops?\.?$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture, 1000)]
        private static partial Regex Word();
    }
}
