using Knownwater.Records.Storage;

namespace Knownwater.Records.Instruments;

/// <summary>Opens a lot of reagent for one or several methods.</summary>
public sealed class OpenLot(RecordsContext records, Clock clock)
{
    /// <summary>The lot.</summary>
    public sealed record Command
    {
        /// <summary>Methods that use it; at least one.</summary>
        public required IReadOnlyList<Guid> Methods { get; init; }

        /// <summary>What is on the bottle.</summary>
        public required string Name { get; init; }

        /// <summary>What is in it.</summary>
        public string Reagent { get; init; } = "";

        /// <summary>Day it was opened, yyyy-MM-dd; empty for today.</summary>
        public string OpenedOn { get; init; } = "";

        /// <summary>Last day of use, yyyy-MM-dd; may be empty.</summary>
        public string ExpiresOn { get; init; } = "";

        /// <summary>Whether the lots of the same reagent in use by these methods are taken out of use the same day.</summary>
        public bool ReplacesFormer { get; init; } = true;

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The lot is in use.</summary>
        public sealed record Opened(Guid Lot) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}
