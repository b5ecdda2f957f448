using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore.Design;

namespace Knownwater.Records.Postgres;

/// <summary>Gives the migration tool a unit of work on PostgreSQL; nothing else uses it.</summary>
public sealed class PostgresDesign : IDesignTimeDbContextFactory<RecordsContext>
{
    /// <inheritdoc/>
    public RecordsContext CreateDbContext(string[] args) => new(RecordsStore.PostgresOptions("Host=localhost;Database=design"), Guid.Empty);
}
