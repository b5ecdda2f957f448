using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Knownwater.Records.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class KnownWater : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<double>(
                name: "AmountMillilitres",
                table: "ReferenceWaters",
                type: "double precision",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "AmountTyped",
                table: "ReferenceWaters",
                type: "text",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "Code",
                table: "ReferenceWaters",
                type: "text",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<bool>(
                name: "HidesOffset",
                table: "ReferenceWaters",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<Guid>(
                name: "PreparationId",
                table: "ReferenceWaters",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "StockId",
                table: "ReferenceWaters",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Basis",
                table: "Checks",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "LevelsTogether",
                table: "Checks",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.CreateTable(
                name: "Glassware",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    Kind = table.Column<string>(type: "text", nullable: false),
                    Nominal = table.Column<double>(type: "double precision", nullable: true),
                    NominalTyped = table.Column<string>(type: "text", nullable: false),
                    Least = table.Column<double>(type: "double precision", nullable: true),
                    LeastTyped = table.Column<string>(type: "text", nullable: false),
                    Tolerance = table.Column<double>(type: "double precision", nullable: false),
                    ToleranceTyped = table.Column<string>(type: "text", nullable: false),
                    ToleranceIsRelative = table.Column<bool>(type: "boolean", nullable: false),
                    Triangular = table.Column<bool>(type: "boolean", nullable: false),
                    Repeatability = table.Column<double>(type: "double precision", nullable: false),
                    RepeatabilityTyped = table.Column<string>(type: "text", nullable: false),
                    Readability = table.Column<double>(type: "double precision", nullable: true),
                    ReadabilityTyped = table.Column<string>(type: "text", nullable: false),
                    Basis = table.Column<string>(type: "text", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false),
                    AddedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Glassware", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Glassware_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "NutrientFreeWaters",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Label = table.Column<string>(type: "text", nullable: false),
                    Kind = table.Column<string>(type: "text", nullable: false),
                    Salinity = table.Column<double>(type: "double precision", nullable: false),
                    SalinityTyped = table.Column<string>(type: "text", nullable: false),
                    OpenedOn = table.Column<LocalDate>(type: "date", nullable: true),
                    UseBy = table.Column<LocalDate>(type: "date", nullable: true),
                    AmountMillilitres = table.Column<double>(type: "double precision", nullable: true),
                    AmountTyped = table.Column<string>(type: "text", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false),
                    AddedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_NutrientFreeWaters", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_NutrientFreeWaters_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Stocks",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Label = table.Column<string>(type: "text", nullable: false),
                    Code = table.Column<string>(type: "text", nullable: false),
                    ParameterKey = table.Column<string>(type: "text", nullable: false),
                    OtherName = table.Column<string>(type: "text", nullable: false),
                    Form = table.Column<string>(type: "text", nullable: false),
                    EstimateId = table.Column<Guid>(type: "uuid", nullable: false),
                    KnownTyped = table.Column<string>(type: "text", nullable: false),
                    DoubtTyped = table.Column<string>(type: "text", nullable: false),
                    DoubtKind = table.Column<string>(type: "text", nullable: false),
                    Origin = table.Column<string>(type: "text", nullable: false),
                    OriginDetail = table.Column<string>(type: "text", nullable: false),
                    Medium = table.Column<string>(type: "text", nullable: false),
                    OpenedOn = table.Column<LocalDate>(type: "date", nullable: true),
                    UseBy = table.Column<LocalDate>(type: "date", nullable: true),
                    AmountMillilitres = table.Column<double>(type: "double precision", nullable: true),
                    AmountTyped = table.Column<string>(type: "text", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false),
                    AddedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Stocks", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Stocks_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Stocks_Estimates_BenchId_EstimateId",
                        columns: x => new { x.BenchId, x.EstimateId },
                        principalTable: "Estimates",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "GlasswareProofs",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    PieceId = table.Column<Guid>(type: "uuid", nullable: false),
                    BalanceId = table.Column<Guid>(type: "uuid", nullable: true),
                    Setting = table.Column<double>(type: "double precision", nullable: false),
                    SettingTyped = table.Column<string>(type: "text", nullable: false),
                    DeliveriesEach = table.Column<int>(type: "integer", nullable: false),
                    Planned = table.Column<int>(type: "integer", nullable: false),
                    TemperatureCelsius = table.Column<double>(type: "double precision", nullable: false),
                    TemperatureTyped = table.Column<string>(type: "text", nullable: false),
                    PressureHectopascals = table.Column<double>(type: "double precision", nullable: false),
                    PressureTyped = table.Column<string>(type: "text", nullable: false),
                    HumidityPercent = table.Column<double>(type: "double precision", nullable: false),
                    HumidityTyped = table.Column<string>(type: "text", nullable: false),
                    Evaporation = table.Column<double>(type: "double precision", nullable: false),
                    EvaporationTyped = table.Column<string>(type: "text", nullable: false),
                    Tip = table.Column<string>(type: "text", nullable: false),
                    WeightClass = table.Column<string>(type: "text", nullable: false),
                    WeightLimit = table.Column<double>(type: "double precision", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false),
                    StartedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    TouchedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    DoneAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    Proves = table.Column<bool>(type: "boolean", nullable: false),
                    Bias = table.Column<double>(type: "double precision", nullable: false),
                    BiasU = table.Column<double>(type: "double precision", nullable: false),
                    BiasDof = table.Column<double>(type: "double precision", nullable: false),
                    Sd = table.Column<double>(type: "double precision", nullable: false),
                    SdDof = table.Column<double>(type: "double precision", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_GlasswareProofs", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_GlasswareProofs_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_GlasswareProofs_Glassware_BenchId_BalanceId",
                        columns: x => new { x.BenchId, x.BalanceId },
                        principalTable: "Glassware",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_GlasswareProofs_Glassware_BenchId_PieceId",
                        columns: x => new { x.BenchId, x.PieceId },
                        principalTable: "Glassware",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Backgrounds",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    WaterId = table.Column<Guid>(type: "uuid", nullable: false),
                    ParameterKey = table.Column<string>(type: "text", nullable: false),
                    OtherName = table.Column<string>(type: "text", nullable: false),
                    Form = table.Column<string>(type: "text", nullable: false),
                    EstimateId = table.Column<Guid>(type: "uuid", nullable: false),
                    Typed = table.Column<string>(type: "text", nullable: false),
                    DoubtTyped = table.Column<string>(type: "text", nullable: false),
                    Origin = table.Column<string>(type: "text", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Backgrounds", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Backgrounds_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Backgrounds_Estimates_BenchId_EstimateId",
                        columns: x => new { x.BenchId, x.EstimateId },
                        principalTable: "Estimates",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Backgrounds_NutrientFreeWaters_BenchId_WaterId",
                        columns: x => new { x.BenchId, x.WaterId },
                        principalTable: "NutrientFreeWaters",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Preparations",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Label = table.Column<string>(type: "text", nullable: false),
                    StockId = table.Column<Guid>(type: "uuid", nullable: false),
                    NutrientFreeWaterId = table.Column<Guid>(type: "uuid", nullable: false),
                    TemperatureCelsius = table.Column<double>(type: "double precision", nullable: false),
                    TemperatureTyped = table.Column<string>(type: "text", nullable: false),
                    Mixing = table.Column<double>(type: "double precision", nullable: false),
                    MixingTyped = table.Column<string>(type: "text", nullable: false),
                    Target = table.Column<double>(type: "double precision", nullable: true),
                    TargetTyped = table.Column<string>(type: "text", nullable: false),
                    ActsDone = table.Column<int>(type: "integer", nullable: false),
                    Slips = table.Column<string>(type: "text", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false),
                    PlannedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    DoneAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Preparations", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Preparations_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Preparations_NutrientFreeWaters_BenchId_NutrientFreeWaterId",
                        columns: x => new { x.BenchId, x.NutrientFreeWaterId },
                        principalTable: "NutrientFreeWaters",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Preparations_Stocks_BenchId_StockId",
                        columns: x => new { x.BenchId, x.StockId },
                        principalTable: "Stocks",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "StockCompanions",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    StockId = table.Column<Guid>(type: "uuid", nullable: false),
                    Ordinal = table.Column<int>(type: "integer", nullable: false),
                    Species = table.Column<string>(type: "text", nullable: false),
                    PerLitreOfStock = table.Column<double>(type: "double precision", nullable: false),
                    Form = table.Column<string>(type: "text", nullable: false),
                    Typed = table.Column<string>(type: "text", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_StockCompanions", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_StockCompanions_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_StockCompanions_Stocks_BenchId_StockId",
                        columns: x => new { x.BenchId, x.StockId },
                        principalTable: "Stocks",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "ProofWeighings",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    ProofId = table.Column<Guid>(type: "uuid", nullable: false),
                    Ordinal = table.Column<int>(type: "integer", nullable: false),
                    Typed = table.Column<string>(type: "text", nullable: false),
                    Grams = table.Column<double>(type: "double precision", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ProofWeighings", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_ProofWeighings_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_ProofWeighings_GlasswareProofs_BenchId_ProofId",
                        columns: x => new { x.BenchId, x.ProofId },
                        principalTable: "GlasswareProofs",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Draws",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    WaterId = table.Column<Guid>(type: "uuid", nullable: true),
                    StockId = table.Column<Guid>(type: "uuid", nullable: true),
                    NutrientFreeWaterId = table.Column<Guid>(type: "uuid", nullable: true),
                    CheckLevelId = table.Column<Guid>(type: "uuid", nullable: true),
                    PreparationId = table.Column<Guid>(type: "uuid", nullable: true),
                    Millilitres = table.Column<double>(type: "double precision", nullable: false),
                    Typed = table.Column<string>(type: "text", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Draws", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Draws_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Draws_CheckLevels_BenchId_CheckLevelId",
                        columns: x => new { x.BenchId, x.CheckLevelId },
                        principalTable: "CheckLevels",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Draws_NutrientFreeWaters_BenchId_NutrientFreeWaterId",
                        columns: x => new { x.BenchId, x.NutrientFreeWaterId },
                        principalTable: "NutrientFreeWaters",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Draws_Preparations_BenchId_PreparationId",
                        columns: x => new { x.BenchId, x.PreparationId },
                        principalTable: "Preparations",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Draws_ReferenceWaters_BenchId_WaterId",
                        columns: x => new { x.BenchId, x.WaterId },
                        principalTable: "ReferenceWaters",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Draws_Stocks_BenchId_StockId",
                        columns: x => new { x.BenchId, x.StockId },
                        principalTable: "Stocks",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "PreparationSteps",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    PreparationId = table.Column<Guid>(type: "uuid", nullable: false),
                    Ordinal = table.Column<int>(type: "integer", nullable: false),
                    Aliquot = table.Column<double>(type: "double precision", nullable: false),
                    AliquotTyped = table.Column<string>(type: "text", nullable: false),
                    WithId = table.Column<Guid>(type: "uuid", nullable: false),
                    Made = table.Column<double>(type: "double precision", nullable: false),
                    MadeTyped = table.Column<string>(type: "text", nullable: false),
                    IsTotal = table.Column<bool>(type: "boolean", nullable: false),
                    InId = table.Column<Guid>(type: "uuid", nullable: false),
                    Diluent = table.Column<string>(type: "text", nullable: false),
                    AliquotDone = table.Column<double>(type: "double precision", nullable: true),
                    AliquotDoneTyped = table.Column<string>(type: "text", nullable: false),
                    MadeDone = table.Column<double>(type: "double precision", nullable: true),
                    MadeDoneTyped = table.Column<string>(type: "text", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PreparationSteps", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_PreparationSteps_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_PreparationSteps_Glassware_BenchId_InId",
                        columns: x => new { x.BenchId, x.InId },
                        principalTable: "Glassware",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_PreparationSteps_Glassware_BenchId_WithId",
                        columns: x => new { x.BenchId, x.WithId },
                        principalTable: "Glassware",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_PreparationSteps_Preparations_BenchId_PreparationId",
                        columns: x => new { x.BenchId, x.PreparationId },
                        principalTable: "Preparations",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_ReferenceWaters_BenchId_Code",
                table: "ReferenceWaters",
                columns: new[] { "BenchId", "Code" },
                unique: true,
                filter: "\"Code\" <> ''");

            migrationBuilder.CreateIndex(
                name: "IX_ReferenceWaters_BenchId_PreparationId",
                table: "ReferenceWaters",
                columns: new[] { "BenchId", "PreparationId" });

            migrationBuilder.CreateIndex(
                name: "IX_ReferenceWaters_BenchId_StockId",
                table: "ReferenceWaters",
                columns: new[] { "BenchId", "StockId" });

            migrationBuilder.CreateIndex(
                name: "IX_Backgrounds_BenchId_EstimateId",
                table: "Backgrounds",
                columns: new[] { "BenchId", "EstimateId" });

            migrationBuilder.CreateIndex(
                name: "IX_Backgrounds_BenchId_WaterId",
                table: "Backgrounds",
                columns: new[] { "BenchId", "WaterId" });

            migrationBuilder.CreateIndex(
                name: "IX_Draws_BenchId_CheckLevelId",
                table: "Draws",
                columns: new[] { "BenchId", "CheckLevelId" });

            migrationBuilder.CreateIndex(
                name: "IX_Draws_BenchId_NutrientFreeWaterId",
                table: "Draws",
                columns: new[] { "BenchId", "NutrientFreeWaterId" });

            migrationBuilder.CreateIndex(
                name: "IX_Draws_BenchId_PreparationId",
                table: "Draws",
                columns: new[] { "BenchId", "PreparationId" });

            migrationBuilder.CreateIndex(
                name: "IX_Draws_BenchId_StockId",
                table: "Draws",
                columns: new[] { "BenchId", "StockId" });

            migrationBuilder.CreateIndex(
                name: "IX_Draws_BenchId_WaterId",
                table: "Draws",
                columns: new[] { "BenchId", "WaterId" });

            migrationBuilder.CreateIndex(
                name: "IX_GlasswareProofs_BenchId_BalanceId",
                table: "GlasswareProofs",
                columns: new[] { "BenchId", "BalanceId" });

            migrationBuilder.CreateIndex(
                name: "IX_GlasswareProofs_BenchId_PieceId",
                table: "GlasswareProofs",
                columns: new[] { "BenchId", "PieceId" });

            migrationBuilder.CreateIndex(
                name: "IX_PreparationSteps_BenchId_InId",
                table: "PreparationSteps",
                columns: new[] { "BenchId", "InId" });

            migrationBuilder.CreateIndex(
                name: "IX_PreparationSteps_BenchId_PreparationId_Ordinal",
                table: "PreparationSteps",
                columns: new[] { "BenchId", "PreparationId", "Ordinal" },
                unique: true,
                filter: "NOT \"Deleted\"");

            migrationBuilder.CreateIndex(
                name: "IX_PreparationSteps_BenchId_WithId",
                table: "PreparationSteps",
                columns: new[] { "BenchId", "WithId" });

            migrationBuilder.CreateIndex(
                name: "IX_Preparations_BenchId_NutrientFreeWaterId",
                table: "Preparations",
                columns: new[] { "BenchId", "NutrientFreeWaterId" });

            migrationBuilder.CreateIndex(
                name: "IX_Preparations_BenchId_StockId",
                table: "Preparations",
                columns: new[] { "BenchId", "StockId" });

            migrationBuilder.CreateIndex(
                name: "IX_ProofWeighings_BenchId_ProofId_Ordinal",
                table: "ProofWeighings",
                columns: new[] { "BenchId", "ProofId", "Ordinal" },
                unique: true,
                filter: "NOT \"Deleted\"");

            migrationBuilder.CreateIndex(
                name: "IX_StockCompanions_BenchId_StockId",
                table: "StockCompanions",
                columns: new[] { "BenchId", "StockId" });

            migrationBuilder.CreateIndex(
                name: "IX_Stocks_BenchId_Code",
                table: "Stocks",
                columns: new[] { "BenchId", "Code" },
                unique: true,
                filter: "\"Code\" <> ''");

            migrationBuilder.CreateIndex(
                name: "IX_Stocks_BenchId_EstimateId",
                table: "Stocks",
                columns: new[] { "BenchId", "EstimateId" });

            migrationBuilder.AddForeignKey(
                name: "FK_ReferenceWaters_Preparations_BenchId_PreparationId",
                table: "ReferenceWaters",
                columns: new[] { "BenchId", "PreparationId" },
                principalTable: "Preparations",
                principalColumns: new[] { "BenchId", "Id" },
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "FK_ReferenceWaters_Stocks_BenchId_StockId",
                table: "ReferenceWaters",
                columns: new[] { "BenchId", "StockId" },
                principalTable: "Stocks",
                principalColumns: new[] { "BenchId", "Id" },
                onDelete: ReferentialAction.Restrict);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropForeignKey(
                name: "FK_ReferenceWaters_Preparations_BenchId_PreparationId",
                table: "ReferenceWaters");

            migrationBuilder.DropForeignKey(
                name: "FK_ReferenceWaters_Stocks_BenchId_StockId",
                table: "ReferenceWaters");

            migrationBuilder.DropTable(
                name: "Backgrounds");

            migrationBuilder.DropTable(
                name: "Draws");

            migrationBuilder.DropTable(
                name: "PreparationSteps");

            migrationBuilder.DropTable(
                name: "ProofWeighings");

            migrationBuilder.DropTable(
                name: "StockCompanions");

            migrationBuilder.DropTable(
                name: "Preparations");

            migrationBuilder.DropTable(
                name: "GlasswareProofs");

            migrationBuilder.DropTable(
                name: "NutrientFreeWaters");

            migrationBuilder.DropTable(
                name: "Stocks");

            migrationBuilder.DropTable(
                name: "Glassware");

            migrationBuilder.DropIndex(
                name: "IX_ReferenceWaters_BenchId_Code",
                table: "ReferenceWaters");

            migrationBuilder.DropIndex(
                name: "IX_ReferenceWaters_BenchId_PreparationId",
                table: "ReferenceWaters");

            migrationBuilder.DropIndex(
                name: "IX_ReferenceWaters_BenchId_StockId",
                table: "ReferenceWaters");

            migrationBuilder.DropColumn(
                name: "AmountMillilitres",
                table: "ReferenceWaters");

            migrationBuilder.DropColumn(
                name: "AmountTyped",
                table: "ReferenceWaters");

            migrationBuilder.DropColumn(
                name: "Code",
                table: "ReferenceWaters");

            migrationBuilder.DropColumn(
                name: "HidesOffset",
                table: "ReferenceWaters");

            migrationBuilder.DropColumn(
                name: "PreparationId",
                table: "ReferenceWaters");

            migrationBuilder.DropColumn(
                name: "StockId",
                table: "ReferenceWaters");

            migrationBuilder.DropColumn(
                name: "Basis",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "LevelsTogether",
                table: "Checks");
        }
    }
}
