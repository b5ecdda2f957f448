using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore.Design;

namespace Knownwater.Records.Sqlite;

/// <summary>Gives the migration tool a unit of work on SQLite; nothing else uses it.</summary>
public sealed class SqliteDesign : IDesignTimeDbContextFactory<RecordsContext>
{
    /// <inheritdoc/>
    public RecordsContext CreateDbContext(string[] args) => new(RecordsStore.SqliteOptions("Data Source=design.db"), Guid.Empty);
}
