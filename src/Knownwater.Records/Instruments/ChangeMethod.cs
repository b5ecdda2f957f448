using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

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

        /// <summary>How it is read.</summary>
        public ReadingScale Scale { get; init; }

        /// <summary>Steps of the colour card as typed, with spaces or semicolons between; only with colour steps.</summary>
        public string Steps { get; init; } = "";

        /// <summary>Value of one drop as typed, in the form's unit; only with drops.</summary>
        public string ValuePerDrop { get; init; } = "";

        /// <summary>Whether the kit's table makes up for the last drop; only with drops.</summary>
        public bool TableAllowsForLastDrop { get; init; }

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
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Change(command, act, cancel), cancel);
    }

    private async Task<Outcome> Change(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await records.Methods.FirstOrDefaultAsync(m => m.Id == command.Method, cancel) is not { } method)
            return new Outcome.Refused(InstrumentFaults.MethodGone);
        var former = Measured.Of(method.ParameterKey, method.OtherName, method.Form);
        var (formerKey, formerForm, formerMatrix) = (method.ParameterKey, method.Form, method.Matrix);
        var measured = MethodFields.Read(fields, method, new MethodFields(
            command.Parameter, command.OtherName, command.Form, command.Matrix, command.SalinityLow, command.SalinityHigh, command.SampleVolume, command.RangeLow,
            command.RangeHigh, command.Resolution, command.MinutesPerReading, command.ToleranceAbsolute, command.TolerancePercent,
            new ScaleFields(command.Scale, command.Steps, command.ValuePerDrop, command.TableAllowsForLastDrop)));
        if (fields.Ok && (formerKey != method.ParameterKey || formerForm != method.Form || formerMatrix != method.Matrix)
            && await records.Checks.AnyAsync(c => c.MethodId == method.Id, cancel))
        {
            fields.Fault(formerKey != method.ParameterKey ? "Parameter" : formerForm != method.Form ? "Form" : "Matrix",
                $"Checks were made of this method in {former.Form.Display}, so that what it measures stands. Add a new method, and remove this one.");
        }
        if (measured is null || !fields.Ok)
            return new Outcome.Refused(fields.Faults);
        await act.Did($"Method {measured.NameWithForm} changed.", Subjects.Method, method.Id, cancel);
        return new Outcome.Changed();
    }
}
