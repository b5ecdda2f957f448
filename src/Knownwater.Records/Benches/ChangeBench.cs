using Knownwater.Quantities;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Benches;

/// <summary>Changes the bench's name, decimal sign, time zone and main use.</summary>
public sealed class ChangeBench(RecordsContext records, Clock clock)
{
    /// <summary>The bench as it shall be.</summary>
    public sealed record Command
    {
        /// <summary>Its name.</summary>
        public required string Name { get; init; }

        /// <summary>The owner's decimal sign; null where not said.</summary>
        public DecimalSign? DecimalSign { get; init; }

        /// <summary>Time zone by the tz database.</summary>
        public required string TimeZone { get; init; }

        /// <summary>What it mostly looks after.</summary>
        public MainUse MainUse { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The bench was changed.</summary>
        public sealed record Changed : Outcome;

        /// <summary>Nothing was written.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Changes the bench.</summary>
    /// <param name="command">The bench as it shall be.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>The outcome.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}
