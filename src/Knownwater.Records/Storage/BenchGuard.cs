using Knownwater.Records.Benches;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace Knownwater.Records.Storage;

/// <summary>Verifies before each save that every row belongs to the bench of the unit of work, and that nothing is deleted.</summary>
internal sealed class BenchGuard : SaveChangesInterceptor
{
    public override InterceptionResult<int> SavingChanges(DbContextEventData eventData, InterceptionResult<int> result)
    {
        Verify(eventData.Context);
        return base.SavingChanges(eventData, result);
    }

    public override ValueTask<InterceptionResult<int>> SavingChangesAsync(DbContextEventData eventData, InterceptionResult<int> result, CancellationToken cancellationToken = default)
    {
        Verify(eventData.Context);
        return base.SavingChangesAsync(eventData, result, cancellationToken);
    }

    private static void Verify(DbContext? context)
    {
        if (context is not RecordsContext records)
            return;
        foreach (var entry in records.ChangeTracker.Entries())
        {
            if (entry.State is EntityState.Unchanged or EntityState.Detached)
                continue;
            var bench = entry.Entity switch
            {
                BenchRow row => row.BenchId,
                Bench own => own.Id,
                _ => throw new InvalidOperationException($"{entry.Metadata.ClrType.Name} is a row without a bench. Derive it from BenchRow."),
            };
            if (bench != records.BenchId)
                throw new InvalidOperationException($"A {entry.Metadata.ClrType.Name} of bench {bench} was about to be saved for bench {records.BenchId}. Make rows with the bench of their unit of work.");
            if (entry.State == EntityState.Deleted)
                throw new InvalidOperationException($"A {entry.Metadata.ClrType.Name} was about to be deleted. Mark it as removed, with a reason.");
            if (entry.State != EntityState.Modified)
                continue;
            switch (entry.Entity)
            {
                case MarkedRow marked:
                    marked.Version++;
                    break;
                case Bench own:
                    own.Version++;
                    break;
            }
        }
    }
}
