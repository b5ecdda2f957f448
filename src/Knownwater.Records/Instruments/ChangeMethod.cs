using Knownwater.Quantities;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Instruments;

/// <summary>Changes a method; checks that were made keep their copies.</summary>
public sealed class ChangeMethod(RecordsContext records, Clock clock)
{
    /// <summary>The method as it shall be; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>The method.</summary>
        public required Guid Method { get; init; }

        /// <summary>Key of a listed parameter, or <c>other</c>.</summary>
        public required string Parameter { get; init; }

        /// <summary>Name of another analyte; only with <c>other</c>.</summary>
        public string OtherName { get; init; } = "";

        /// <summary>Reporting form as text, <c>mg/L Cd</c>; empty for the parameter's own.</summary>
        public string Form { get; init; } = "";

        /// <summary>Matrix it measures.</summary>
        public Matrix Matrix { get; init; }

        /// <summary>Least practical salinity as typed; may be empty.</summary>
        public string SalinityLow { get; init; } = "";

        /// <summary>Greatest practical salinity as typed; may be empty.</summary>
        public string SalinityHigh { get; init; } = "";

        /// <summary>Sample volume in mL as typed; may be empty.</summary>
        public string SampleVolume { get; init; } = "";

        /// <summary>Least value it shows as typed; may be empty.</summary>
        public string RangeLow { get; init; } = "";

        /// <summary>Greatest value it shows as typed; may be empty.</summary>
        public string RangeHigh { get; init; } = "";

        /// <summary>Step of its display as typed; may be empty.</summary>
        public string Resolution { get; init; } = "";

        /// <summary>Minutes that a reading takes as typed; may be empty.</summary>
        public string MinutesPerReading { get; init; } = "";

        /// <summary>Tolerance in the form's unit as typed; both parts empty for the default of the main use.</summary>
        public string ToleranceAbsolute { get; init; } = "";

        /// <summary>Tolerance in percent of the value as typed.</summary>
        public string TolerancePercent { get; init; } = "";

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
