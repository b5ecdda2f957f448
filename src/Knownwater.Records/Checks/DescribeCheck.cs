using Knownwater.Quantities;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Keeps a check and says what belongs to it: method, lots, conditions, and where the known value came from.</summary>
public sealed class DescribeCheck(RecordsContext records, Clock clock)
{
    /// <summary>What belongs to the check; each part overwrites what was said before.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Method that was under check; null for none.</summary>
        public Guid? Method { get; init; }

        /// <summary>Lots that were in use.</summary>
        public IReadOnlyList<Guid> Lots { get; init; } = [];

        /// <summary>Matrix of the known water; null for the method's, else not said.</summary>
        public Matrix? Matrix { get; init; }

        /// <summary>Practical salinity as typed.</summary>
        public string Salinity { get; init; } = "";

        /// <summary>Temperature at the bench as typed, °C.</summary>
        public string Temperature { get; init; } = "";

        /// <summary>Notes.</summary>
        public string Notes { get; init; } = "";

        /// <summary>Where the known values came from.</summary>
        public IReadOnlyList<LevelOrigin> Origins { get; init; } = [];

        /// <summary>Why a lot past its date was used; only asked for where there is one.</summary>
        public string ExpiredLotReason { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The check is kept and described.</summary>
        public sealed record Described : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}

/// <summary>Where the known value of one level came from; puts the water on the shelf under a label.</summary>
public sealed record LevelOrigin
{
    /// <summary>Ordinal of the level, from one.</summary>
    public required int Level { get; init; }

    /// <summary>Where the value came from.</summary>
    public Origin Origin { get; init; }

    /// <summary>Number of the certificate, the maker's words, or how it was made.</summary>
    public string OriginDetail { get; init; } = "";

    /// <summary>Label of the bottle; empty for parameter and value.</summary>
    public string Label { get; init; } = "";

    /// <summary>Day it was made or opened, yyyy-MM-dd; may be empty.</summary>
    public string MadeOn { get; init; } = "";

    /// <summary>Last day of use, yyyy-MM-dd; may be empty.</summary>
    public string UseBy { get; init; } = "";
}
