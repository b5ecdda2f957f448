using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>Keeps a photo taken during a run.</summary>
public sealed class KeepRunPhoto(RecordsContext records, Clock clock)
{
    /// <summary>Largest photo, in bytes.</summary>
    public const int Largest = 2_000_000;

    /// <summary>Most photos of one run.</summary>
    public const int Most = 40;

    /// <summary>One photo.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>The run that the device is at; null for the last one of the check.</summary>
        public Guid? Run { get; init; }

        /// <summary>The device; empty for a page without script.</summary>
        public Guid Client { get; init; }

        /// <summary>Its event: key, step, moment, and a few words.</summary>
        public required SentRunEvent Event { get; init; }

        /// <summary>The picture; JPEG, PNG or WebP, at most <see cref="Largest"/> bytes.</summary>
        public required ReadOnlyMemory<byte> Content { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Kept, now or before.</summary>
        public sealed record Kept : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return RunLog.Save(records, () => Keep(command, cancel), cancel);
    }

    private async Task<Outcome> Keep(Command command, CancellationToken cancel)
    {
        var run = command.Run is { } id ? await records.Runs.FirstOrDefaultAsync(r => r.Id == id && r.CheckId == command.Check, cancel) : await RunLog.Last(records, command.Check, cancel);
        if (run is null || !await records.Checks.AnyAsync(c => c.Id == command.Check, cancel))
            return new Outcome.Refused(RunLog.Gone);
        if (await records.RunEvents.AsNoTracking().AnyAsync(e => e.RunId == run.Id && e.Key == command.Event.Key, cancel))
            return new Outcome.Kept();
        if (command.Content.Length == 0)
            return Refused("No picture came. Take it, or choose one, and send it again.");
        if (command.Content.Length > Largest)
            return Refused($"This picture has {Megabytes(command.Content.Length)}; {Megabytes(Largest)} fit. Where scripts run the sheet makes it smaller by itself; else let the camera do it.");
        if (Kind(command.Content.Span) is not { } type)
            return Refused("This picture is of a kind that not every browser shows. Send it as JPEG, PNG or WebP.");
        if (command.Event.Text.Trim().Length > KeepRunEvents.Longest)
            return Refused($"The words are {command.Event.Text.Trim().Length} characters long; {KeepRunEvents.Longest} fit. Shorten them.");
        if (await records.RunPhotos.CountAsync(p => p.RunId == run.Id, cancel) >= Most)
            return Refused($"This run has {Most} photos already, which is the most.");
        var entry = RunLog.Append(records, clock, run, command.Event with { Kind = RunEventKind.Photo }, command.Client, command.Who.Trim());
        records.RunPhotos.Add(new RunPhoto(records.BenchId, clock.NewId()) { RunId = run.Id, EventId = entry.Id, ContentType = type, Content = command.Content.ToArray() });
        return new Outcome.Kept();
    }

    /// <summary>The kind of a picture by its first bytes, whatever the sender calls it: JFIF and Exif FF D8 FF, PNG (RFC 2083, 3.1), WebP (RFC 9649, 2.4).</summary>
    private static string? Kind(ReadOnlySpan<byte> content) =>
        content.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]) ? "image/jpeg"
        : content.StartsWith((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]) ? "image/png"
        : content.Length > 12 && content.StartsWith("RIFF"u8) && content[8..].StartsWith("WEBP"u8) ? "image/webp"
        : null;

    private static string Megabytes(int bytes) => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{bytes / 1e6:0.0}{Words.NoBreak}MB");

    private static Outcome.Refused Refused(string sentence) => new([new FieldFault("Photo", sentence)]);
}
