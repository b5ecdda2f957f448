using Knownwater.Quantities;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Shelf;

/// <summary>Changes what is said of a known water; checks that used it keep their copies.</summary>
public sealed class ChangeReferenceWater(RecordsContext records, Clock clock)
{
    /// <summary>The water as it shall be; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>The water.</summary>
        public required Guid Water { get; init; }

        /// <summary>Label of the bottle.</summary>
        public required string Label { get; init; }

        /// <summary>Key of a listed parameter, or <c>other</c>.</summary>
        public required string Parameter { get; init; }

        /// <summary>Name of another analyte; only with <c>other</c>.</summary>
        public string OtherName { get; init; } = "";

        /// <summary>Reporting form as text, <c>mg/L Cd</c>; empty for the parameter's own.</summary>
        public string Form { get; init; } = "";

        /// <summary>What the water is.</summary>
        public Matrix Matrix { get; init; }

        /// <summary>Practical salinity as typed; may be empty.</summary>
        public string Salinity { get; init; } = "";

        /// <summary>Known value as typed, in the form.</summary>
        public string Known { get; init; } = "";

        /// <summary>Its doubt as typed; empty is refused, “0” is taken as exact.</summary>
        public string Doubt { get; init; } = "";

        /// <summary>What the doubt means.</summary>
        public DoubtKind DoubtKind { get; init; }

        /// <summary>Where the value came from.</summary>
        public Origin Origin { get; init; }

        /// <summary>Number of the certificate, the maker's words, or how it was made.</summary>
        public string OriginDetail { get; init; } = "";

        /// <summary>Day it was made or opened, yyyy-MM-dd; may be empty.</summary>
        public string MadeOn { get; init; } = "";

        /// <summary>Last day of use, yyyy-MM-dd; may be empty.</summary>
        public string UseBy { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Changed.</summary>
        public sealed record Changed : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}
