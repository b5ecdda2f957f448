using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Knownwater.Records.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class FirstVerdict : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "Benches",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    DecimalSign = table.Column<string>(type: "text", nullable: true),
                    TimeZone = table.Column<string>(type: "text", nullable: false),
                    MainUse = table.Column<string>(type: "text", nullable: false),
                    IsInvented = table.Column<bool>(type: "boolean", nullable: false),
                    MadeAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Benches", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "ErrorSources",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    Shape = table.Column<string>(type: "text", nullable: false),
                    StandardUncertainty = table.Column<double>(type: "double precision", nullable: false),
                    Unit = table.Column<string>(type: "text", nullable: false),
                    Dof = table.Column<double>(type: "double precision", nullable: false),
                    Family = table.Column<Guid>(type: "uuid", nullable: true),
                    TopToBase = table.Column<double>(type: "double precision", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ErrorSources", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_ErrorSources_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Estimates",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Value = table.Column<double>(type: "double precision", nullable: false),
                    Form = table.Column<string>(type: "text", nullable: false),
                    Model = table.Column<string>(type: "text", nullable: false),
                    Inputs = table.Column<string>(type: "text", nullable: false),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Estimates", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Estimates_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "HandledRequests",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    UseCase = table.Column<string>(type: "text", nullable: false),
                    Outcome = table.Column<string>(type: "text", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_HandledRequests", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_HandledRequests_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "History",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Ordinal = table.Column<long>(type: "bigint", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false),
                    Sentence = table.Column<string>(type: "text", nullable: false),
                    SubjectKind = table.Column<string>(type: "text", nullable: false),
                    Subject = table.Column<Guid>(type: "uuid", nullable: false),
                    Changes = table.Column<string>(type: "text", nullable: false),
                    Undoes = table.Column<Guid>(type: "uuid", nullable: true),
                    UndoneBy = table.Column<Guid>(type: "uuid", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_History", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_History_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Instruments",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    Kind = table.Column<string>(type: "text", nullable: false),
                    Note = table.Column<string>(type: "text", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Instruments", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Instruments_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Lots",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    Reagent = table.Column<string>(type: "text", nullable: false),
                    OpenedOn = table.Column<LocalDate>(type: "date", nullable: false),
                    ExpiresOn = table.Column<LocalDate>(type: "date", nullable: true),
                    EmptiedOn = table.Column<LocalDate>(type: "date", nullable: true),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Lots", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Lots_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "EstimateParts",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    EstimateId = table.Column<Guid>(type: "uuid", nullable: false),
                    SourceId = table.Column<Guid>(type: "uuid", nullable: false),
                    Ordinal = table.Column<int>(type: "integer", nullable: false),
                    Contribution = table.Column<double>(type: "double precision", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_EstimateParts", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_EstimateParts_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_EstimateParts_ErrorSources_BenchId_SourceId",
                        columns: x => new { x.BenchId, x.SourceId },
                        principalTable: "ErrorSources",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_EstimateParts_Estimates_BenchId_EstimateId",
                        columns: x => new { x.BenchId, x.EstimateId },
                        principalTable: "Estimates",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "ReferenceWaters",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Label = table.Column<string>(type: "text", nullable: false),
                    ParameterKey = table.Column<string>(type: "text", nullable: false),
                    OtherName = table.Column<string>(type: "text", nullable: false),
                    Form = table.Column<string>(type: "text", nullable: false),
                    Matrix = table.Column<string>(type: "text", nullable: true),
                    Salinity = table.Column<double>(type: "double precision", nullable: true),
                    SalinityTyped = table.Column<string>(type: "text", nullable: false),
                    EstimateId = table.Column<Guid>(type: "uuid", nullable: false),
                    KnownTyped = table.Column<string>(type: "text", nullable: false),
                    DoubtTyped = table.Column<string>(type: "text", nullable: false),
                    DoubtKind = table.Column<string>(type: "text", nullable: false),
                    Origin = table.Column<string>(type: "text", nullable: false),
                    OriginDetail = table.Column<string>(type: "text", nullable: false),
                    MadeOn = table.Column<LocalDate>(type: "date", nullable: true),
                    UseBy = table.Column<LocalDate>(type: "date", nullable: true),
                    Who = table.Column<string>(type: "text", nullable: false),
                    AddedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ReferenceWaters", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_ReferenceWaters_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_ReferenceWaters_Estimates_BenchId_EstimateId",
                        columns: x => new { x.BenchId, x.EstimateId },
                        principalTable: "Estimates",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "InstrumentSettings",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    InstrumentId = table.Column<Guid>(type: "uuid", nullable: false),
                    On = table.Column<LocalDate>(type: "date", nullable: false),
                    What = table.Column<string>(type: "text", nullable: false),
                    Old = table.Column<string>(type: "text", nullable: false),
                    New = table.Column<string>(type: "text", nullable: false),
                    Why = table.Column<string>(type: "text", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_InstrumentSettings", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_InstrumentSettings_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_InstrumentSettings_Instruments_BenchId_InstrumentId",
                        columns: x => new { x.BenchId, x.InstrumentId },
                        principalTable: "Instruments",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Methods",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    InstrumentId = table.Column<Guid>(type: "uuid", nullable: false),
                    ParameterKey = table.Column<string>(type: "text", nullable: false),
                    OtherName = table.Column<string>(type: "text", nullable: false),
                    Form = table.Column<string>(type: "text", nullable: false),
                    Matrix = table.Column<string>(type: "text", nullable: false),
                    SalinityLow = table.Column<double>(type: "double precision", nullable: true),
                    SalinityLowTyped = table.Column<string>(type: "text", nullable: false),
                    SalinityHigh = table.Column<double>(type: "double precision", nullable: true),
                    SalinityHighTyped = table.Column<string>(type: "text", nullable: false),
                    SampleVolumeMillilitres = table.Column<double>(type: "double precision", nullable: true),
                    SampleVolumeTyped = table.Column<string>(type: "text", nullable: false),
                    RangeLow = table.Column<double>(type: "double precision", nullable: true),
                    RangeLowTyped = table.Column<string>(type: "text", nullable: false),
                    RangeHigh = table.Column<double>(type: "double precision", nullable: true),
                    RangeHighTyped = table.Column<string>(type: "text", nullable: false),
                    Resolution = table.Column<double>(type: "double precision", nullable: true),
                    ResolutionTyped = table.Column<string>(type: "text", nullable: false),
                    MinutesPerReading = table.Column<double>(type: "double precision", nullable: true),
                    MinutesPerReadingTyped = table.Column<string>(type: "text", nullable: false),
                    ToleranceAbsolute = table.Column<double>(type: "double precision", nullable: true),
                    ToleranceAbsoluteTyped = table.Column<string>(type: "text", nullable: false),
                    TolerancePercent = table.Column<double>(type: "double precision", nullable: true),
                    TolerancePercentTyped = table.Column<string>(type: "text", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Methods", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Methods_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Methods_Instruments_BenchId_InstrumentId",
                        columns: x => new { x.BenchId, x.InstrumentId },
                        principalTable: "Instruments",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Checks",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    State = table.Column<string>(type: "text", nullable: false),
                    Kept = table.Column<bool>(type: "boolean", nullable: false),
                    MethodId = table.Column<Guid>(type: "uuid", nullable: true),
                    ParameterKey = table.Column<string>(type: "text", nullable: false),
                    OtherName = table.Column<string>(type: "text", nullable: false),
                    Form = table.Column<string>(type: "text", nullable: false),
                    Matrix = table.Column<string>(type: "text", nullable: true),
                    Salinity = table.Column<double>(type: "double precision", nullable: true),
                    SalinityTyped = table.Column<string>(type: "text", nullable: false),
                    TemperatureCelsius = table.Column<double>(type: "double precision", nullable: true),
                    TemperatureTyped = table.Column<string>(type: "text", nullable: false),
                    ToleranceAbsolute = table.Column<double>(type: "double precision", nullable: false),
                    ToleranceAbsoluteTyped = table.Column<string>(type: "text", nullable: false),
                    TolerancePercent = table.Column<double>(type: "double precision", nullable: false),
                    TolerancePercentTyped = table.Column<string>(type: "text", nullable: false),
                    ToleranceSource = table.Column<string>(type: "text", nullable: false),
                    Resolution = table.Column<double>(type: "double precision", nullable: false),
                    ResolutionTyped = table.Column<string>(type: "text", nullable: false),
                    MinutesPerReading = table.Column<double>(type: "double precision", nullable: true),
                    MinutesPerReadingTyped = table.Column<string>(type: "text", nullable: false),
                    ExtensionDeclared = table.Column<bool>(type: "boolean", nullable: false),
                    ExtensionTaken = table.Column<bool>(type: "boolean", nullable: false),
                    ExtensionRenounced = table.Column<bool>(type: "boolean", nullable: false),
                    UseTypicalScatter = table.Column<bool>(type: "boolean", nullable: false),
                    AutomationPaused = table.Column<bool>(type: "boolean", nullable: false),
                    ExpiredLotReason = table.Column<string>(type: "text", nullable: false),
                    StopReason = table.Column<string>(type: "text", nullable: false),
                    Notes = table.Column<string>(type: "text", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false),
                    StartedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    ClosedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    TouchedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Verdict = table.Column<string>(type: "text", nullable: true),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Checks", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Checks_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Checks_Methods_BenchId_MethodId",
                        columns: x => new { x.BenchId, x.MethodId },
                        principalTable: "Methods",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "MethodLots",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    MethodId = table.Column<Guid>(type: "uuid", nullable: false),
                    LotId = table.Column<Guid>(type: "uuid", nullable: false),
                    From = table.Column<LocalDate>(type: "date", nullable: false),
                    To = table.Column<LocalDate>(type: "date", nullable: true),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_MethodLots", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_MethodLots_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_MethodLots_Lots_BenchId_LotId",
                        columns: x => new { x.BenchId, x.LotId },
                        principalTable: "Lots",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_MethodLots_Methods_BenchId_MethodId",
                        columns: x => new { x.BenchId, x.MethodId },
                        principalTable: "Methods",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "CheckLevels",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    CheckId = table.Column<Guid>(type: "uuid", nullable: false),
                    Ordinal = table.Column<int>(type: "integer", nullable: false),
                    ReferenceWaterId = table.Column<Guid>(type: "uuid", nullable: true),
                    EstimateId = table.Column<Guid>(type: "uuid", nullable: false),
                    KnownTyped = table.Column<string>(type: "text", nullable: false),
                    DoubtTyped = table.Column<string>(type: "text", nullable: false),
                    DoubtKind = table.Column<string>(type: "text", nullable: false),
                    PlannedReplicates = table.Column<int>(type: "integer", nullable: false),
                    ExtendedBy = table.Column<int>(type: "integer", nullable: false),
                    PriorSd = table.Column<double>(type: "double precision", nullable: true),
                    PriorDof = table.Column<double>(type: "double precision", nullable: true),
                    PriorIsTypical = table.Column<bool>(type: "boolean", nullable: false),
                    PoolPrior = table.Column<bool>(type: "boolean", nullable: false),
                    Verdict = table.Column<string>(type: "text", nullable: true),
                    Matters = table.Column<bool>(type: "boolean", nullable: false),
                    JudgedReplicates = table.Column<int>(type: "integer", nullable: false),
                    Mean = table.Column<double>(type: "double precision", nullable: true),
                    Sd = table.Column<double>(type: "double precision", nullable: true),
                    HasLimits = table.Column<bool>(type: "boolean", nullable: false),
                    Bias = table.Column<double>(type: "double precision", nullable: true),
                    BiasLow = table.Column<double>(type: "double precision", nullable: true),
                    BiasHigh = table.Column<double>(type: "double precision", nullable: true),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_CheckLevels", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_CheckLevels_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_CheckLevels_Checks_BenchId_CheckId",
                        columns: x => new { x.BenchId, x.CheckId },
                        principalTable: "Checks",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_CheckLevels_Estimates_BenchId_EstimateId",
                        columns: x => new { x.BenchId, x.EstimateId },
                        principalTable: "Estimates",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_CheckLevels_ReferenceWaters_BenchId_ReferenceWaterId",
                        columns: x => new { x.BenchId, x.ReferenceWaterId },
                        principalTable: "ReferenceWaters",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "CheckLots",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    CheckId = table.Column<Guid>(type: "uuid", nullable: false),
                    LotId = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    Reagent = table.Column<string>(type: "text", nullable: false),
                    ExpiresOn = table.Column<LocalDate>(type: "date", nullable: true),
                    Expired = table.Column<bool>(type: "boolean", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_CheckLots", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_CheckLots_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_CheckLots_Checks_BenchId_CheckId",
                        columns: x => new { x.BenchId, x.CheckId },
                        principalTable: "Checks",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_CheckLots_Lots_BenchId_LotId",
                        columns: x => new { x.BenchId, x.LotId },
                        principalTable: "Lots",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Replicates",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    LevelId = table.Column<Guid>(type: "uuid", nullable: false),
                    Ordinal = table.Column<int>(type: "integer", nullable: false),
                    Typed = table.Column<string>(type: "text", nullable: false),
                    Value = table.Column<double>(type: "double precision", nullable: false),
                    Censoring = table.Column<string>(type: "text", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false),
                    ExcludedReason = table.Column<string>(type: "text", nullable: true),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Replicates", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Replicates_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Replicates_CheckLevels_BenchId_LevelId",
                        columns: x => new { x.BenchId, x.LevelId },
                        principalTable: "CheckLevels",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_CheckLevels_BenchId_CheckId_Ordinal",
                table: "CheckLevels",
                columns: new[] { "BenchId", "CheckId", "Ordinal" },
                unique: true,
                filter: "NOT \"Deleted\"");

            migrationBuilder.CreateIndex(
                name: "IX_CheckLevels_BenchId_EstimateId",
                table: "CheckLevels",
                columns: new[] { "BenchId", "EstimateId" });

            migrationBuilder.CreateIndex(
                name: "IX_CheckLevels_BenchId_ReferenceWaterId",
                table: "CheckLevels",
                columns: new[] { "BenchId", "ReferenceWaterId" });

            migrationBuilder.CreateIndex(
                name: "IX_CheckLots_BenchId_CheckId",
                table: "CheckLots",
                columns: new[] { "BenchId", "CheckId" });

            migrationBuilder.CreateIndex(
                name: "IX_CheckLots_BenchId_LotId",
                table: "CheckLots",
                columns: new[] { "BenchId", "LotId" });

            migrationBuilder.CreateIndex(
                name: "IX_Checks_BenchId_MethodId",
                table: "Checks",
                columns: new[] { "BenchId", "MethodId" });

            migrationBuilder.CreateIndex(
                name: "IX_Checks_BenchId_StartedAt",
                table: "Checks",
                columns: new[] { "BenchId", "StartedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_EstimateParts_BenchId_EstimateId",
                table: "EstimateParts",
                columns: new[] { "BenchId", "EstimateId" });

            migrationBuilder.CreateIndex(
                name: "IX_EstimateParts_BenchId_SourceId",
                table: "EstimateParts",
                columns: new[] { "BenchId", "SourceId" });

            migrationBuilder.CreateIndex(
                name: "IX_History_BenchId_Ordinal",
                table: "History",
                columns: new[] { "BenchId", "Ordinal" });

            migrationBuilder.CreateIndex(
                name: "IX_History_BenchId_Subject",
                table: "History",
                columns: new[] { "BenchId", "Subject" });

            migrationBuilder.CreateIndex(
                name: "IX_InstrumentSettings_BenchId_InstrumentId",
                table: "InstrumentSettings",
                columns: new[] { "BenchId", "InstrumentId" });

            migrationBuilder.CreateIndex(
                name: "IX_MethodLots_BenchId_LotId",
                table: "MethodLots",
                columns: new[] { "BenchId", "LotId" });

            migrationBuilder.CreateIndex(
                name: "IX_MethodLots_BenchId_MethodId",
                table: "MethodLots",
                columns: new[] { "BenchId", "MethodId" });

            migrationBuilder.CreateIndex(
                name: "IX_Methods_BenchId_InstrumentId",
                table: "Methods",
                columns: new[] { "BenchId", "InstrumentId" });

            migrationBuilder.CreateIndex(
                name: "IX_ReferenceWaters_BenchId_EstimateId",
                table: "ReferenceWaters",
                columns: new[] { "BenchId", "EstimateId" });

            migrationBuilder.CreateIndex(
                name: "IX_Replicates_BenchId_LevelId_Ordinal",
                table: "Replicates",
                columns: new[] { "BenchId", "LevelId", "Ordinal" },
                unique: true,
                filter: "NOT \"Deleted\"");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "CheckLots");

            migrationBuilder.DropTable(
                name: "EstimateParts");

            migrationBuilder.DropTable(
                name: "HandledRequests");

            migrationBuilder.DropTable(
                name: "History");

            migrationBuilder.DropTable(
                name: "InstrumentSettings");

            migrationBuilder.DropTable(
                name: "MethodLots");

            migrationBuilder.DropTable(
                name: "Replicates");

            migrationBuilder.DropTable(
                name: "ErrorSources");

            migrationBuilder.DropTable(
                name: "Lots");

            migrationBuilder.DropTable(
                name: "CheckLevels");

            migrationBuilder.DropTable(
                name: "Checks");

            migrationBuilder.DropTable(
                name: "ReferenceWaters");

            migrationBuilder.DropTable(
                name: "Methods");

            migrationBuilder.DropTable(
                name: "Estimates");

            migrationBuilder.DropTable(
                name: "Instruments");

            migrationBuilder.DropTable(
                name: "Benches");
        }
    }
}
