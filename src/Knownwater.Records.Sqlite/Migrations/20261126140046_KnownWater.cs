using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Knownwater.Records.Sqlite.Migrations
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
                type: "REAL",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "AmountTyped",
                table: "ReferenceWaters",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "Code",
                table: "ReferenceWaters",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<bool>(
                name: "HidesOffset",
                table: "ReferenceWaters",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<byte[]>(
                name: "PreparationId",
                table: "ReferenceWaters",
                type: "BLOB",
                nullable: true);

            migrationBuilder.AddColumn<byte[]>(
                name: "StockId",
                table: "ReferenceWaters",
                type: "BLOB",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Basis",
                table: "Checks",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "LevelsTogether",
                table: "Checks",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.CreateTable(
                name: "Glassware",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    Nominal = table.Column<double>(type: "REAL", nullable: true),
                    NominalTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Least = table.Column<double>(type: "REAL", nullable: true),
                    LeastTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Tolerance = table.Column<double>(type: "REAL", nullable: false),
                    ToleranceTyped = table.Column<string>(type: "TEXT", nullable: false),
                    ToleranceIsRelative = table.Column<bool>(type: "INTEGER", nullable: false),
                    Triangular = table.Column<bool>(type: "INTEGER", nullable: false),
                    Repeatability = table.Column<double>(type: "REAL", nullable: false),
                    RepeatabilityTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Readability = table.Column<double>(type: "REAL", nullable: true),
                    ReadabilityTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Basis = table.Column<string>(type: "TEXT", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    AddedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Label = table.Column<string>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    Salinity = table.Column<double>(type: "REAL", nullable: false),
                    SalinityTyped = table.Column<string>(type: "TEXT", nullable: false),
                    OpenedOn = table.Column<string>(type: "TEXT", nullable: true),
                    UseBy = table.Column<string>(type: "TEXT", nullable: true),
                    AmountMillilitres = table.Column<double>(type: "REAL", nullable: true),
                    AmountTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    AddedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Label = table.Column<string>(type: "TEXT", nullable: false),
                    Code = table.Column<string>(type: "TEXT", nullable: false),
                    ParameterKey = table.Column<string>(type: "TEXT", nullable: false),
                    OtherName = table.Column<string>(type: "TEXT", nullable: false),
                    Form = table.Column<string>(type: "TEXT", nullable: false),
                    EstimateId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    KnownTyped = table.Column<string>(type: "TEXT", nullable: false),
                    DoubtTyped = table.Column<string>(type: "TEXT", nullable: false),
                    DoubtKind = table.Column<string>(type: "TEXT", nullable: false),
                    Origin = table.Column<string>(type: "TEXT", nullable: false),
                    OriginDetail = table.Column<string>(type: "TEXT", nullable: false),
                    Medium = table.Column<string>(type: "TEXT", nullable: false),
                    OpenedOn = table.Column<string>(type: "TEXT", nullable: true),
                    UseBy = table.Column<string>(type: "TEXT", nullable: true),
                    AmountMillilitres = table.Column<double>(type: "REAL", nullable: true),
                    AmountTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    AddedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    PieceId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    BalanceId = table.Column<byte[]>(type: "BLOB", nullable: true),
                    Setting = table.Column<double>(type: "REAL", nullable: false),
                    SettingTyped = table.Column<string>(type: "TEXT", nullable: false),
                    DeliveriesEach = table.Column<int>(type: "INTEGER", nullable: false),
                    Planned = table.Column<int>(type: "INTEGER", nullable: false),
                    TemperatureCelsius = table.Column<double>(type: "REAL", nullable: false),
                    TemperatureTyped = table.Column<string>(type: "TEXT", nullable: false),
                    PressureHectopascals = table.Column<double>(type: "REAL", nullable: false),
                    PressureTyped = table.Column<string>(type: "TEXT", nullable: false),
                    HumidityPercent = table.Column<double>(type: "REAL", nullable: false),
                    HumidityTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Evaporation = table.Column<double>(type: "REAL", nullable: false),
                    EvaporationTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Tip = table.Column<string>(type: "TEXT", nullable: false),
                    WeightClass = table.Column<string>(type: "TEXT", nullable: false),
                    WeightLimit = table.Column<double>(type: "REAL", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    StartedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    TouchedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    DoneAt = table.Column<long>(type: "INTEGER", nullable: true),
                    Proves = table.Column<bool>(type: "INTEGER", nullable: false),
                    Bias = table.Column<double>(type: "REAL", nullable: false),
                    BiasU = table.Column<double>(type: "REAL", nullable: false),
                    BiasDof = table.Column<double>(type: "REAL", nullable: false),
                    Sd = table.Column<double>(type: "REAL", nullable: false),
                    SdDof = table.Column<double>(type: "REAL", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    WaterId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    ParameterKey = table.Column<string>(type: "TEXT", nullable: false),
                    OtherName = table.Column<string>(type: "TEXT", nullable: false),
                    Form = table.Column<string>(type: "TEXT", nullable: false),
                    EstimateId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Typed = table.Column<string>(type: "TEXT", nullable: false),
                    DoubtTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Origin = table.Column<string>(type: "TEXT", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Label = table.Column<string>(type: "TEXT", nullable: false),
                    StockId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    NutrientFreeWaterId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    TemperatureCelsius = table.Column<double>(type: "REAL", nullable: false),
                    TemperatureTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Mixing = table.Column<double>(type: "REAL", nullable: false),
                    MixingTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Target = table.Column<double>(type: "REAL", nullable: true),
                    TargetTyped = table.Column<string>(type: "TEXT", nullable: false),
                    ActsDone = table.Column<int>(type: "INTEGER", nullable: false),
                    Slips = table.Column<string>(type: "TEXT", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    PlannedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    DoneAt = table.Column<long>(type: "INTEGER", nullable: true),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    StockId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    Species = table.Column<string>(type: "TEXT", nullable: false),
                    PerLitreOfStock = table.Column<double>(type: "REAL", nullable: false),
                    Form = table.Column<string>(type: "TEXT", nullable: false),
                    Typed = table.Column<string>(type: "TEXT", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    ProofId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    Typed = table.Column<string>(type: "TEXT", nullable: false),
                    Grams = table.Column<double>(type: "REAL", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    WaterId = table.Column<byte[]>(type: "BLOB", nullable: true),
                    StockId = table.Column<byte[]>(type: "BLOB", nullable: true),
                    NutrientFreeWaterId = table.Column<byte[]>(type: "BLOB", nullable: true),
                    CheckLevelId = table.Column<byte[]>(type: "BLOB", nullable: true),
                    PreparationId = table.Column<byte[]>(type: "BLOB", nullable: true),
                    Millilitres = table.Column<double>(type: "REAL", nullable: false),
                    Typed = table.Column<string>(type: "TEXT", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    PreparationId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    Aliquot = table.Column<double>(type: "REAL", nullable: false),
                    AliquotTyped = table.Column<string>(type: "TEXT", nullable: false),
                    WithId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Made = table.Column<double>(type: "REAL", nullable: false),
                    MadeTyped = table.Column<string>(type: "TEXT", nullable: false),
                    IsTotal = table.Column<bool>(type: "INTEGER", nullable: false),
                    InId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Diluent = table.Column<string>(type: "TEXT", nullable: false),
                    AliquotDone = table.Column<double>(type: "REAL", nullable: true),
                    AliquotDoneTyped = table.Column<string>(type: "TEXT", nullable: false),
                    MadeDone = table.Column<double>(type: "REAL", nullable: true),
                    MadeDoneTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
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
                filter: "\"Deleted\" = 0");

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
                filter: "\"Deleted\" = 0");

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
