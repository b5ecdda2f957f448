using Microsoft.Extensions.DependencyInjection;

namespace Knownwater.Records.Storage;

/// <summary>Registers the records and their use cases.</summary>
public static class RecordsServices
{
    /// <summary>Registers the store, the clock, a unit of work a scope, and every use case.</summary>
    /// <param name="services">Where to register; a <see cref="TimeProvider"/> registered there is used.</param>
    /// <param name="store">The open store.</param>
    /// <returns>The same collection.</returns>
    public static IServiceCollection AddRecords(this IServiceCollection services, RecordsStore store) => throw new NotImplementedException();
}
