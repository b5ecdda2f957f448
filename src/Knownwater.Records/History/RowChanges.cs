using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Drift;
using Knownwater.Records.Due;
using Knownwater.Records.Instruments;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Records.Tanks;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using NodaTime;
using NodaTime.Text;

namespace Knownwater.Records.History;

/// <summary>The rows that an act touched, before and after, as JSON.</summary>
internal static class RowChanges
{
    /// <summary>One row: its values after where it was added, the changed ones before and after else.</summary>
    public sealed record Change(string Row, Guid Id, JsonObject? Before, JsonObject After)
    {
        public bool Added => Before is null;
    }

    /// <summary>Collects the changes that the unit of work is about to save.</summary>
    public static string Collect(RecordsContext records)
    {
        records.ChangeTracker.DetectChanges();
        var rows = new JsonArray();
        foreach (var entry in records.ChangeTracker.Entries())
        {
            if (entry.Entity is HistoryEntry or HandledRequest || entry.State is not (EntityState.Added or EntityState.Modified))
                continue;
            var (before, after) = Values(entry);
            if (after.Count == 0)
                continue;
            var row = new JsonObject { ["row"] = entry.Metadata.ClrType.Name, ["id"] = IdOf(entry.Entity) };
            if (entry.State == EntityState.Modified)
                row["before"] = before;
            row["after"] = after;
            rows.Add(row);
        }
        return rows.ToJsonString();
    }

    /// <summary>Reads what <see cref="Collect"/> wrote.</summary>
    public static IReadOnlyList<Change> Read(string json) =>
        JsonNode.Parse(json)!.AsArray().Select(n => new Change((string)n!["row"]!, Guid.Parse((string)n["id"]!), n["before"]?.AsObject(), n["after"]!.AsObject())).ToList();

    /// <summary>The row of a change, removed or not; null where it is of a kind that is never marked nor changed.</summary>
    public static async Task<EntityEntry?> Find(RecordsContext records, Change change, CancellationToken cancel)
    {
        object? entity = change.Row switch
        {
            nameof(Bench) => await records.Benches.FirstOrDefaultAsync(b => b.Id == change.Id, cancel),
            nameof(CalendarFeed) => await Find<CalendarFeed>(records, change.Id, cancel),
            nameof(PairedDevice) => await Find<PairedDevice>(records, change.Id, cancel),
            nameof(Instrument) => await Find<Instrument>(records, change.Id, cancel),
            nameof(InstrumentSetting) => await Find<InstrumentSetting>(records, change.Id, cancel),
            nameof(ProcedureRow) => await Find<ProcedureRow>(records, change.Id, cancel),
            nameof(Method) => await Find<Method>(records, change.Id, cancel),
            nameof(Lot) => await Find<Lot>(records, change.Id, cancel),
            nameof(MethodLot) => await Find<MethodLot>(records, change.Id, cancel),
            nameof(ReferenceWater) => await Find<ReferenceWater>(records, change.Id, cancel),
            nameof(GlasswarePiece) => await Find<GlasswarePiece>(records, change.Id, cancel),
            nameof(GlasswareProofRow) => await Find<GlasswareProofRow>(records, change.Id, cancel),
            nameof(ProofWeighing) => await Find<ProofWeighing>(records, change.Id, cancel),
            nameof(Stock) => await Find<Stock>(records, change.Id, cancel),
            nameof(StockCompanion) => await Find<StockCompanion>(records, change.Id, cancel),
            nameof(NutrientFreeWater) => await Find<NutrientFreeWater>(records, change.Id, cancel),
            nameof(Background) => await Find<Background>(records, change.Id, cancel),
            nameof(Draw) => await Find<Draw>(records, change.Id, cancel),
            nameof(PreparationRow) => await Find<PreparationRow>(records, change.Id, cancel),
            nameof(PreparationStepRow) => await Find<PreparationStepRow>(records, change.Id, cancel),
            nameof(RoundRow) => await Find<RoundRow>(records, change.Id, cancel),
            nameof(RoundMethod) => await Find<RoundMethod>(records, change.Id, cancel),
            nameof(RoundLevel) => await Find<RoundLevel>(records, change.Id, cancel),
            nameof(Check) => await Find<Check>(records, change.Id, cancel),
            nameof(CheckLevel) => await Find<CheckLevel>(records, change.Id, cancel),
            nameof(Replicate) => await Find<Replicate>(records, change.Id, cancel),
            nameof(ConditioningRun) => await Find<ConditioningRun>(records, change.Id, cancel),
            nameof(CheckLot) => await Find<CheckLot>(records, change.Id, cancel),
            nameof(CheckGuard) => await Find<CheckGuard>(records, change.Id, cancel),
            nameof(DriftAlarm) => await Find<DriftAlarm>(records, change.Id, cancel),
            nameof(Tank) => await Find<Tank>(records, change.Id, cancel),
            nameof(TankReading) => await Find<TankReading>(records, change.Id, cancel),
            nameof(Dose) => await Find<Dose>(records, change.Id, cancel),
            nameof(DoubtClearing) => await Find<DoubtClearing>(records, change.Id, cancel),
            _ => null,
        };
        return entity is null ? null : records.Entry(entity);
    }

    /// <summary>Whether a changed row still holds what the act left.</summary>
    public static bool StandsAsLeft(EntityEntry row, Change change) =>
        change.After.All(p => Equals(row.Property(p.Key).CurrentValue, FromJson(p.Value, row.Property(p.Key).Metadata.ClrType)));

    /// <summary>Makes a row what it was before the act: an added one is marked as removed.</summary>
    public static void PutBack(EntityEntry row, Change change)
    {
        if (change.Before is { } before)
        {
            foreach (var (name, value) in before)
                row.Property(name).CurrentValue = FromJson(value, row.Property(name).Metadata.ClrType);
        }
        else if (row.Entity is MarkedRow marked)
        {
            marked.Deleted = true;
            marked.DeletedReason = "undone";
        }
    }

    private static Task<T?> Find<T>(RecordsContext records, Guid id, CancellationToken cancel)
        where T : BenchRow =>
        records.Set<T>().IgnoreQueryFilters([RecordsContext.DeletedFilter]).FirstOrDefaultAsync(x => x.Id == id, cancel);

    /// <summary>A value as JSON, exact for every type of the records.</summary>
    public static JsonNode? ToJson(object? value) => value switch
    {
        null => null,
        double d when double.IsFinite(d) => JsonValue.Create(d),
        double d => JsonValue.Create(d.ToString("R", CultureInfo.InvariantCulture)),
        bool b => JsonValue.Create(b),
        int i => JsonValue.Create(i),
        long l => JsonValue.Create(l),
        string s => JsonValue.Create(s),
        Guid g => JsonValue.Create(g.ToString()),
        Enum e => JsonValue.Create(e.ToString()),
        Instant t => JsonValue.Create(InstantPattern.ExtendedIso.Format(t)),
        LocalDate d => JsonValue.Create(LocalDatePattern.Iso.Format(d)),
        _ => throw new InvalidOperationException($"The history cannot write a {value.GetType().Name}. Teach it to."),
    };

    /// <summary>The value that <see cref="ToJson"/> wrote.</summary>
    public static object? FromJson(JsonNode? node, Type type)
    {
        if (node is null)
            return null;
        type = Nullable.GetUnderlyingType(type) ?? type;
        if (type.IsEnum)
            return Enum.Parse(type, (string)node!);
        if (type == typeof(double))
            return node.GetValueKind() == JsonValueKind.String ? double.Parse((string)node!, CultureInfo.InvariantCulture) : (double)node;
        if (type == typeof(bool))
            return (bool)node;
        if (type == typeof(int))
            return (int)node;
        if (type == typeof(long))
            return (long)node;
        var text = (string)node!;
        return type == typeof(Guid) ? Guid.Parse(text)
            : type == typeof(Instant) ? InstantPattern.ExtendedIso.Parse(text).Value
            : type == typeof(LocalDate) ? LocalDatePattern.Iso.Parse(text).Value
            : text;
    }

    private static string IdOf(object entity) => (entity is BenchRow row ? row.Id : ((Bench)entity).Id).ToString();

    private static (JsonObject Before, JsonObject After) Values(EntityEntry entry)
    {
        JsonObject before = [], after = [];
        foreach (var property in entry.Properties)
        {
            var name = property.Metadata.Name;
            if (name is nameof(MarkedRow.Version) or nameof(BenchRow.BenchId) or nameof(BenchRow.Id))
                continue;
            if (entry.State == EntityState.Added)
            {
                if (property.CurrentValue is not null)
                    after[name] = ToJson(property.CurrentValue);
            }
            else if (!Equals(property.OriginalValue, property.CurrentValue))
            {
                before[name] = ToJson(property.OriginalValue);
                after[name] = ToJson(property.CurrentValue);
            }
        }
        return (before, after);
    }
}
