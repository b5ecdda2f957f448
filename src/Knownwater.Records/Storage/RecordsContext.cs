using System.Linq.Expressions;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Drift;
using Knownwater.Records.Due;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tanks;
using Knownwater.Records.Uncertainty;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using NodaTime;
using NodaTime.Text;

namespace Knownwater.Records.Storage;

/// <summary>The records of one bench in one store; a unit of work.</summary>
/// <remarks>
/// Keys are composite, the bench's before the row's own; links run under composite foreign keys and nothing is ever deleted. Rows of
/// other benches and rows marked as removed are filtered out by the named filters <c>bench</c> and <c>deleted</c>.
/// </remarks>
public sealed class RecordsContext : DbContext
{
    /// <summary>Name of the filter that hides other benches.</summary>
    internal const string BenchFilter = "bench";

    /// <summary>Name of the filter that hides rows marked as removed.</summary>
    internal const string DeletedFilter = "deleted";

    /// <summary>Opens a unit of work.</summary>
    /// <param name="options">The store.</param>
    /// <param name="bench">The bench whose records are seen.</param>
    public RecordsContext(DbContextOptions<RecordsContext> options, Guid bench)
        : base(options)
    {
        BenchId = bench;
        Estimates = new EstimateShelf(this);
    }

    /// <summary>The bench whose records are seen and written; no other's are.</summary>
    public Guid BenchId { get; }

    /// <summary>Estimates with their sources, one object a source in this unit of work.</summary>
    internal EstimateShelf Estimates { get; private set; }

    internal DbSet<Bench> Benches => Set<Bench>();

    internal DbSet<PairedDevice> PairedDevices => Set<PairedDevice>();

    internal DbSet<CalendarFeed> CalendarFeeds => Set<CalendarFeed>();

    internal DbSet<Instrument> Instruments => Set<Instrument>();

    internal DbSet<InstrumentSetting> InstrumentSettings => Set<InstrumentSetting>();

    internal DbSet<ProcedureRow> Procedures => Set<ProcedureRow>();

    internal DbSet<Method> Methods => Set<Method>();

    internal DbSet<Lot> Lots => Set<Lot>();

    internal DbSet<MethodLot> MethodLots => Set<MethodLot>();

    internal DbSet<ReferenceWater> ReferenceWaters => Set<ReferenceWater>();

    internal DbSet<GlasswarePiece> Glassware => Set<GlasswarePiece>();

    internal DbSet<GlasswareProofRow> GlasswareProofs => Set<GlasswareProofRow>();

    internal DbSet<ProofWeighing> ProofWeighings => Set<ProofWeighing>();

    internal DbSet<Stock> Stocks => Set<Stock>();

    internal DbSet<StockCompanion> StockCompanions => Set<StockCompanion>();

    internal DbSet<NutrientFreeWater> NutrientFreeWaters => Set<NutrientFreeWater>();

    internal DbSet<Background> Backgrounds => Set<Background>();

    internal DbSet<Draw> Draws => Set<Draw>();

    internal DbSet<PreparationRow> Preparations => Set<PreparationRow>();

    internal DbSet<PreparationStepRow> PreparationSteps => Set<PreparationStepRow>();

    internal DbSet<RoundRow> Rounds => Set<RoundRow>();

    internal DbSet<RoundMethod> RoundMethods => Set<RoundMethod>();

    internal DbSet<RoundLevel> RoundLevels => Set<RoundLevel>();

    internal DbSet<Check> Checks => Set<Check>();

    internal DbSet<CheckLevel> CheckLevels => Set<CheckLevel>();

    internal DbSet<Replicate> Replicates => Set<Replicate>();

    internal DbSet<ConditioningRun> ConditioningRuns => Set<ConditioningRun>();

    internal DbSet<CheckLot> CheckLots => Set<CheckLot>();

    internal DbSet<Run> Runs => Set<Run>();

    internal DbSet<RunEvent> RunEvents => Set<RunEvent>();

    internal DbSet<RunPhoto> RunPhotos => Set<RunPhoto>();

    internal DbSet<Tank> Tanks => Set<Tank>();

    internal DbSet<TankReading> TankReadings => Set<TankReading>();

    internal DbSet<Dose> Doses => Set<Dose>();

    internal DbSet<DriftAlarm> DriftAlarms => Set<DriftAlarm>();

    internal DbSet<KeptCourse> KeptCourses => Set<KeptCourse>();

    internal DbSet<CheckGuard> CheckGuards => Set<CheckGuard>();

    internal DbSet<DoubtClearing> DoubtClearings => Set<DoubtClearing>();

    internal DbSet<ErrorSourceRow> ErrorSources => Set<ErrorSourceRow>();

    internal DbSet<EstimateRow> EstimateRows => Set<EstimateRow>();

    internal DbSet<EstimatePart> EstimateParts => Set<EstimatePart>();

    internal DbSet<HistoryEntry> History => Set<HistoryEntry>();

    internal DbSet<HandledRequest> HandledRequests => Set<HandledRequest>();

    /// <summary>Forgets all rows and sources read so far, so that the next are read anew.</summary>
    internal void StartAfresh()
    {
        ChangeTracker.Clear();
        Estimates = new EstimateShelf(this);
    }

    /// <inheritdoc/>
    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        ArgumentNullException.ThrowIfNull(configurationBuilder);
        configurationBuilder.Properties<Enum>().HaveConversion<string>();
        if (!Database.IsSqlite())
            return;
        configurationBuilder.Properties<Guid>().HaveConversion<BigEndianGuid>();
        configurationBuilder.Properties<Instant>().HaveConversion<InstantTicks>();
        configurationBuilder.Properties<LocalDate>().HaveConversion<IsoDate>();
    }

    /// <inheritdoc/>
    protected override void OnModelCreating(ModelBuilder modelBuilder)
    {
        ArgumentNullException.ThrowIfNull(modelBuilder);
        modelBuilder.Entity<Bench>(bench =>
        {
            bench.HasKey(b => b.Id);
            bench.Property(b => b.Id).ValueGeneratedNever();
            bench.Property(b => b.Version).IsConcurrencyToken();
            bench.ToTable("Benches");
        });

        Marked<PairedDevice>(modelBuilder, "PairedDevices");
        Marked<CalendarFeed>(modelBuilder, "CalendarFeeds");

        Marked<Instrument>(modelBuilder, "Instruments");
        Link<InstrumentSetting, Instrument>(Marked<InstrumentSetting>(modelBuilder, "InstrumentSettings"), s => s.InstrumentId);
        var procedure = Marked<ProcedureRow>(modelBuilder, "Procedures");
        Link<ProcedureRow, Instrument>(procedure, p => p.InstrumentId);
        procedure.HasIndex(p => new { p.BenchId, p.InstrumentId, p.Number }).IsUnique();
        Link<Method, Instrument>(Marked<Method>(modelBuilder, "Methods"), m => m.InstrumentId);
        Link<KeptCourse, Method>(Keyed<KeptCourse>(modelBuilder, "KeptCourses"), k => k.Id);
        Marked<Lot>(modelBuilder, "Lots");
        var methodLot = Marked<MethodLot>(modelBuilder, "MethodLots");
        Link<MethodLot, Method>(methodLot, l => l.MethodId);
        Link<MethodLot, Lot>(methodLot, l => l.LotId);

        Keyed<ErrorSourceRow>(modelBuilder, "ErrorSources");
        Keyed<EstimateRow>(modelBuilder, "Estimates");
        var part = Keyed<EstimatePart>(modelBuilder, "EstimateParts");
        Link<EstimatePart, EstimateRow>(part, p => p.EstimateId);
        Link<EstimatePart, ErrorSourceRow>(part, p => p.SourceId);

        Marked<GlasswarePiece>(modelBuilder, "Glassware");
        var proof = Marked<GlasswareProofRow>(modelBuilder, "GlasswareProofs");
        Link<GlasswareProofRow, GlasswarePiece>(proof, p => p.PieceId);
        Link<GlasswareProofRow, GlasswarePiece>(proof, p => p.BalanceId);
        var weighing = Marked<ProofWeighing>(modelBuilder, "ProofWeighings");
        Link<ProofWeighing, GlasswareProofRow>(weighing, w => w.ProofId);
        weighing.HasIndex(w => new { w.BenchId, w.ProofId, w.Ordinal }).IsUnique().HasFilter(NotDeleted);
        var stock = Marked<Stock>(modelBuilder, "Stocks");
        Link<Stock, EstimateRow>(stock, s => s.EstimateId);
        stock.HasIndex(s => new { s.BenchId, s.Code }).IsUnique().HasFilter(HasCode);
        Link<Stock, Stock>(stock, s => s.BottleId);
        Link<StockCompanion, Stock>(Marked<StockCompanion>(modelBuilder, "StockCompanions"), c => c.StockId);
        Marked<NutrientFreeWater>(modelBuilder, "NutrientFreeWaters");
        var background = Marked<Background>(modelBuilder, "Backgrounds");
        Link<Background, NutrientFreeWater>(background, b => b.WaterId);
        Link<Background, EstimateRow>(background, b => b.EstimateId);
        Link<Background, Method>(background, b => b.MethodId);
        var preparation = Marked<PreparationRow>(modelBuilder, "Preparations");
        Link<PreparationRow, Stock>(preparation, p => p.StockId);
        Link<PreparationRow, NutrientFreeWater>(preparation, p => p.NutrientFreeWaterId);
        var step = Marked<PreparationStepRow>(modelBuilder, "PreparationSteps");
        Link<PreparationStepRow, PreparationRow>(step, s => s.PreparationId);
        Link<PreparationStepRow, GlasswarePiece>(step, s => s.WithId);
        Link<PreparationStepRow, GlasswarePiece>(step, s => s.InId);
        Link<PreparationStepRow, PreparationStepRow>(step, s => s.SharedStepId);
        step.HasIndex(s => new { s.BenchId, s.PreparationId, s.Ordinal }).IsUnique().HasFilter(NotDeleted);

        var water = Marked<ReferenceWater>(modelBuilder, "ReferenceWaters");
        Link<ReferenceWater, EstimateRow>(water, w => w.EstimateId);
        Link<ReferenceWater, PreparationRow>(water, w => w.PreparationId);
        Link<ReferenceWater, Stock>(water, w => w.StockId);
        Link<ReferenceWater, ReferenceWater>(water, w => w.BottleId);
        water.HasIndex(w => new { w.BenchId, w.Code }).IsUnique().HasFilter(HasCode);

        var round = Marked<RoundRow>(modelBuilder, "Rounds");
        round.HasIndex(r => new { r.BenchId, r.PlannedAt });
        var roundMethod = Marked<RoundMethod>(modelBuilder, "RoundMethods");
        Link<RoundMethod, RoundRow>(roundMethod, m => m.RoundId);
        Link<RoundMethod, Method>(roundMethod, m => m.MethodId);
        var roundLevel = Marked<RoundLevel>(modelBuilder, "RoundLevels");
        Link<RoundLevel, RoundMethod>(roundLevel, l => l.RoundMethodId);
        Link<RoundLevel, ReferenceWater>(roundLevel, l => l.ReferenceWaterId);
        Link<RoundLevel, PreparationRow>(roundLevel, l => l.PreparationId);

        var check = Marked<Check>(modelBuilder, "Checks");
        Link<Check, Method>(check, c => c.MethodId);
        Link<Check, RoundRow>(check, c => c.RoundId);
        check.HasIndex(c => new { c.BenchId, c.StartedAt });
        check.HasIndex(c => new { c.BenchId, c.MethodId, c.StartedAt });
        var level = Marked<CheckLevel>(modelBuilder, "CheckLevels");
        Link<CheckLevel, Check>(level, l => l.CheckId);
        Link<CheckLevel, ReferenceWater>(level, l => l.ReferenceWaterId);
        Link<CheckLevel, EstimateRow>(level, l => l.EstimateId);
        level.HasIndex(l => new { l.BenchId, l.CheckId, l.Ordinal }).IsUnique().HasFilter(NotDeleted);
        var draw = Marked<Draw>(modelBuilder, "Draws");
        Link<Draw, ReferenceWater>(draw, d => d.WaterId);
        Link<Draw, Stock>(draw, d => d.StockId);
        Link<Draw, NutrientFreeWater>(draw, d => d.NutrientFreeWaterId);
        Link<Draw, CheckLevel>(draw, d => d.CheckLevelId);
        Link<Draw, PreparationRow>(draw, d => d.PreparationId);
        var replicate = Marked<Replicate>(modelBuilder, "Replicates");
        Link<Replicate, CheckLevel>(replicate, r => r.LevelId);
        replicate.HasIndex(r => new { r.BenchId, r.LevelId, r.Ordinal }).IsUnique().HasFilter(NotDeleted);
        var conditioning = Marked<ConditioningRun>(modelBuilder, "ConditioningRuns");
        Link<ConditioningRun, CheckLevel>(conditioning, r => r.LevelId);
        conditioning.HasIndex(r => new { r.BenchId, r.LevelId, r.Ordinal }).IsUnique().HasFilter(NotDeleted);
        var checkLot = Marked<CheckLot>(modelBuilder, "CheckLots");
        Link<CheckLot, Check>(checkLot, l => l.CheckId);
        Link<CheckLot, Lot>(checkLot, l => l.LotId);

        var alarm = Marked<DriftAlarm>(modelBuilder, "DriftAlarms");
        Link<DriftAlarm, Method>(alarm, a => a.MethodId);
        Link<DriftAlarm, Check>(alarm, a => a.CheckId);
        alarm.HasIndex(a => new { a.BenchId, a.CheckId }).IsUnique();

        var run = Marked<Run>(modelBuilder, "Runs");
        Link<Run, Check>(run, r => r.CheckId);
        run.HasIndex(r => new { r.BenchId, r.CheckId, r.Ordinal }).IsUnique();
        var runEvent = Keyed<RunEvent>(modelBuilder, "RunEvents");
        Link<RunEvent, Run>(runEvent, e => e.RunId);
        runEvent.HasIndex(e => new { e.BenchId, e.RunId, e.Ordinal }).IsUnique();
        runEvent.HasIndex(e => new { e.BenchId, e.RunId, e.Key }).IsUnique();
        var photo = Keyed<RunPhoto>(modelBuilder, "RunPhotos");
        Link<RunPhoto, Run>(photo, p => p.RunId);
        Link<RunPhoto, RunEvent>(photo, p => p.EventId);

        Marked<Tank>(modelBuilder, "Tanks");
        var tankReading = Marked<TankReading>(modelBuilder, "TankReadings");
        Link<TankReading, Tank>(tankReading, r => r.TankId);
        Link<TankReading, Method>(tankReading, r => r.MethodId);
        tankReading.HasIndex(r => new { r.BenchId, r.TankId, r.At });
        tankReading.HasIndex(r => new { r.BenchId, r.MethodId, r.At });
        var dose = Marked<Dose>(modelBuilder, "Doses");
        Link<Dose, Tank>(dose, d => d.TankId);
        dose.HasIndex(d => new { d.BenchId, d.TankId, d.At });
        var clearing = Marked<DoubtClearing>(modelBuilder, "DoubtClearings");
        Link<DoubtClearing, Method>(clearing, c => c.MethodId);
        Link<DoubtClearing, Check>(clearing, c => c.CheckId);
        Link<DoubtClearing, TankReading>(clearing, c => c.ReadingId);
        Link<DoubtClearing, Dose>(clearing, c => c.DoseId);

        var guard = Marked<CheckGuard>(modelBuilder, "CheckGuards");
        Link<CheckGuard, Check>(guard, g => g.CheckId);
        guard.HasIndex(g => new { g.BenchId, g.CheckId, g.Kind }).IsUnique().HasFilter(NotDeleted);

        var entry = Keyed<HistoryEntry>(modelBuilder, "History");
        entry.HasIndex(h => new { h.BenchId, h.Ordinal });
        entry.HasIndex(h => new { h.BenchId, h.Subject });
        entry.Property(h => h.UndoneBy).IsConcurrencyToken();
        Keyed<HandledRequest>(modelBuilder, "HandledRequests");
    }

    private const string HasCode = "\"Code\" <> ''";

    private string NotDeleted => Database.IsSqlite() ? "\"Deleted\" = 0" : "NOT \"Deleted\"";

    private EntityTypeBuilder<T> Keyed<T>(ModelBuilder modelBuilder, string table)
        where T : BenchRow
    {
        var entity = modelBuilder.Entity<T>();
        entity.ToTable(table);
        entity.HasKey(x => new { x.BenchId, x.Id });
        entity.Property(x => x.BenchId).ValueGeneratedNever();
        entity.Property(x => x.Id).ValueGeneratedNever();
        entity.HasOne<Bench>().WithMany().HasForeignKey(x => x.BenchId).OnDelete(DeleteBehavior.Restrict);
        entity.HasQueryFilter(BenchFilter, x => x.BenchId == BenchId);
        return entity;
    }

    private EntityTypeBuilder<T> Marked<T>(ModelBuilder modelBuilder, string table)
        where T : MarkedRow
    {
        var entity = Keyed<T>(modelBuilder, table);
        entity.HasQueryFilter(DeletedFilter, x => !x.Deleted);
        entity.Property(x => x.Version).IsConcurrencyToken();
        return entity;
    }

    private static void Link<T, TPrincipal>(EntityTypeBuilder<T> entity, Expression<Func<T, Guid>> key)
        where T : BenchRow
        where TPrincipal : BenchRow =>
        entity.HasOne<TPrincipal>().WithMany().HasForeignKey(nameof(BenchRow.BenchId), ((MemberExpression)key.Body).Member.Name).OnDelete(DeleteBehavior.Restrict).IsRequired();

    private static void Link<T, TPrincipal>(EntityTypeBuilder<T> entity, Expression<Func<T, Guid?>> key)
        where T : BenchRow
        where TPrincipal : BenchRow =>
        entity.HasOne<TPrincipal>().WithMany().HasForeignKey(nameof(BenchRow.BenchId), ((MemberExpression)key.Body).Member.Name).OnDelete(DeleteBehavior.Restrict).IsRequired(false);

    private sealed class BigEndianGuid() : ValueConverter<Guid, byte[]>(g => g.ToByteArray(true), b => new Guid(b, true), new ConverterMappingHints(size: 16));

    private sealed class InstantTicks() : ValueConverter<Instant, long>(i => i.ToUnixTimeTicks(), t => Instant.FromUnixTimeTicks(t));

    private sealed class IsoDate() : ValueConverter<LocalDate, string>(d => LocalDatePattern.Iso.Format(d), s => LocalDatePattern.Iso.Parse(s).Value);
}
