using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Notes that a stock is opened today; from now on it ages as an opened bottle.</summary>
public sealed class OpenStock(RecordsContext records, Clock clock)
{
    /// <summary>The stock.</summary>
    public sealed record Command
    {
        /// <summary>The stock.</summary>
        public required Guid Stock { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Noted.</summary>
        public sealed record Opened : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Open(command, act, cancel), cancel);
    }

    private async Task<Outcome> Open(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        if (await records.Stocks.FirstOrDefaultAsync(s => s.Id == command.Stock && s.BottleId == null, cancel) is not { } stock)
            return new Outcome.Refused(ChangeStock.Gone);
        if (stock.OpenedOn is { } opened)
            return new Outcome.Refused([new FieldFault("OpenedOn", $"{stock.Label} was opened on {Words.Day(opened, bench.Today)} by the records. Change it there, if that is wrong.")]);
        foreach (var value in await records.Stocks.Where(s => s.Id == stock.Id || s.BottleId == stock.Id).ToListAsync(cancel))
            value.OpenedOn = bench.Today;
        await act.Did($"{stock.Label} opened.", Subjects.Stock, stock.Id, cancel);
        return new Outcome.Opened();
    }
}
