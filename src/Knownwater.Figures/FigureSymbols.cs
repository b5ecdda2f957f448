namespace Knownwater.Figures;

/// <summary>The small shapes that figures and verdicts use, defined once a page and drawn by reference.</summary>
/// <remarks>Marks (<c>m-…</c>) are drawn round (0, 0) in a square of 20; verdict marks (<c>v-…</c>) fill a square of 48. All take <c>currentColor</c>.</remarks>
public static class FigureSymbols
{
    /// <summary>The mean of a check that reads right.</summary>
    public const string Lens = "m-lens";

    /// <summary>The mean of a check that reads high.</summary>
    public const string Dome = "m-dome";

    /// <summary>The mean of a check that reads low.</summary>
    public const string Bowl = "m-bowl";

    /// <summary>The mean of a check that cannot tell yet.</summary>
    public const string Capsule = "m-capsule";

    /// <summary>A reading that was left out.</summary>
    public const string LeftOut = "m-out";

    /// <summary>A reading known only to lie above its place.</summary>
    public const string Up = "m-up";

    /// <summary>A reading known only to lie below its place.</summary>
    public const string Down = "m-down";

    /// <summary>A reading that was left out and lies above the figure.</summary>
    public const string LeftOutUp = "m-out-up";

    /// <summary>A reading that was left out and lies below the figure.</summary>
    public const string LeftOutDown = "m-out-down";

    private const string Hatch = """
        <pattern id="hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0v7" stroke="var(--known-line)" stroke-width="3.5"/></pattern>
        """;

    private const string Verdicts = """
        <symbol id="v-right" viewBox="0 0 48 48"><path d="M2 19c.6 3.6 3 5 7 5h30c4 0 6.4-1.4 7-5" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linecap="round"/><path d="M9 24Q24 7 39 24Q24 41 9 24Z" fill="currentColor"/><path d="M15.5 24h17" stroke="var(--paper)" stroke-width="2.5" stroke-linecap="round"/></symbol>
        <symbol id="v-high" viewBox="0 0 48 48"><path d="M2 35c.6 3.6 3 5 7 5h30c4 0 6.4-1.4 7-5" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linecap="round"/><path d="M24 25v12" stroke="currentColor" stroke-width="2.5" stroke-dasharray="3 3"/><path d="M9 21a15 15 0 0 1 30 0z" fill="currentColor"/></symbol>
        <symbol id="v-low" viewBox="0 0 48 48"><path d="M2 5c.6 3.6 3 5 7 5h30c4 0 6.4-1.4 7-5" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linecap="round"/><path d="M24 13v12" stroke="currentColor" stroke-width="2.5" stroke-dasharray="3 3"/><path d="M9 28a15 15 0 0 0 30 0z" fill="currentColor"/></symbol>
        <symbol id="v-cannot" viewBox="0 0 48 48"><path d="M2 19c.6 3.6 3 5 7 5h4.5M34.5 24h4.5c4 0 6.4-1.4 7-5" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linecap="round"/><rect x="13.5" y="4" width="21" height="40" rx="10.5" fill="none" stroke="currentColor" stroke-width="2.5"/><path d="M19 24h11" stroke="currentColor" stroke-width="2.5" stroke-dasharray="2.2 2.2"/></symbol>
        """;

    private const string Marks = """
        <symbol id="m-lens" viewBox="0 0 20 20" overflow="visible"><path d="M-9 0Q0-10 9 0Q0 10-9 0Z" fill="currentColor" stroke="var(--paper)" stroke-width="1.5"/></symbol>
        <symbol id="m-dome" viewBox="0 0 20 20" overflow="visible"><path d="M-9 4a9 9 0 0 1 18 0z" fill="currentColor" stroke="var(--paper)" stroke-width="1.5"/></symbol>
        <symbol id="m-bowl" viewBox="0 0 20 20" overflow="visible"><path d="M-9-4a9 9 0 0 0 18 0z" fill="currentColor" stroke="var(--paper)" stroke-width="1.5"/></symbol>
        <symbol id="m-capsule" viewBox="0 0 20 20" overflow="visible"><rect x="-6" y="-10" width="12" height="20" rx="6" fill="var(--paper)" stroke="currentColor" stroke-width="2"/></symbol>
        <symbol id="m-out" viewBox="0 0 20 20" overflow="visible"><circle r="7" fill="var(--paper)" stroke="currentColor" stroke-width="2.5"/><path d="M-10 10L10-10" stroke="currentColor" stroke-width="2.5" stroke-linecap="round"/></symbol>
        <symbol id="m-up" viewBox="0 0 20 20" overflow="visible"><path d="M-8 4L0-8L8 4M0-7V9" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linecap="round" stroke-linejoin="round"/></symbol>
        <symbol id="m-down" viewBox="0 0 20 20" overflow="visible"><path d="M-8-4L0 8L8-4M0 7V-9" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linecap="round" stroke-linejoin="round"/></symbol>
        <symbol id="m-out-up" viewBox="0 0 20 20" overflow="visible"><path d="M-8 6L0-8L8 6Z" fill="var(--paper)" stroke="currentColor" stroke-width="2.5" stroke-linejoin="round"/><path d="M-10 9L10-7" stroke="currentColor" stroke-width="2.5" stroke-linecap="round"/></symbol>
        <symbol id="m-out-down" viewBox="0 0 20 20" overflow="visible"><path d="M-8-6L0 8L8-6Z" fill="var(--paper)" stroke="currentColor" stroke-width="2.5" stroke-linejoin="round"/><path d="M-10 7L10-9" stroke="currentColor" stroke-width="2.5" stroke-linecap="round"/></symbol>
        """;

    /// <summary>The definitions of every symbol as one SVG element without size, to stand once near the beginning of a page.</summary>
    public static string PageDefinitions { get; } =
        $"<svg class=\"defs\" width=\"0\" height=\"0\" aria-hidden=\"true\" focusable=\"false\"><defs>\n{Hatch}\n{Verdicts}\n{Marks}\n</defs></svg>";

    /// <summary>The definitions of the marks alone, for a picture file.</summary>
    internal static string MarkDefinitions => $"<defs>\n{Marks}\n</defs>";
}
