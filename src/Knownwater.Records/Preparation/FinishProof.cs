using Knownwater.Preparation;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Preparation;

/// <summary>Finishes a proof: what the weighings found is kept, and replaces the limits of the piece in later preparations where it proves them.</summary>
public sealed class FinishProof(RecordsContext records, Clock clock)
{
    /// <summary>The proof.</summary>
    public sealed record Command
    {
        /// <summary>The proof.</summary>
        public required Guid Proof { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Kept; whether it replaces the limits of the piece.</summary>
        public sealed record Finished(bool Proves) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Finish(command, act, cancel), cancel);
    }

    private async Task<Outcome> Finish(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        if (await ProofReading.Load(records, command.Proof, true, cancel) is not { } read)
            return new Outcome.Refused(ProofReading.Gone);
        var (row, weighings, piece, balance, _) = read;
        if (row.DoneAt is not null)
            return new Outcome.Refused(ProofReading.Finished);
        if (ProofReading.Missing(row, weighings.Count, piece) is { Length: > 0 } missing)
            return new Outcome.Refused([new FieldFault("Typed", missing)]);
        var found = ProofReading.Evaluate(row, weighings, piece, balance);
        row.Proves = found.Power == ProofPower.Proves;
        if (row.Proves)
        {
            var proof = found.ToProof(row.Id);
            (row.Bias, row.BiasU, row.BiasDof, row.Sd, row.SdDof) = (proof.Bias, proof.BiasU, proof.BiasDof, proof.Sd, proof.SdDof);
        }
        row.DoneAt = now;
        await act.Did($"{piece.Name} {(row.Proves ? "proven" : "weighed, without proving it")}: {Words.Small(ProofReading.Sentence(found, row, piece, bench.Sign))}", Subjects.Glassware, piece.Id, cancel);
        return new Outcome.Finished(row.Proves);
    }
}
