using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Storage;

/// <summary>The records of one bench in one store; a unit of work.</summary>
/// <param name="options">The store.</param>
/// <param name="bench">The bench whose records are seen.</param>
public sealed class RecordsContext(DbContextOptions<RecordsContext> options, Guid bench) : DbContext(options)
{
    /// <summary>The bench whose records are seen and written; no other's are.</summary>
    public Guid BenchId { get; } = bench;
}
