using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Knownwater.Records.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class BenchSide : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "Scale",
                table: "Methods",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Steps",
                table: "Methods",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "StepsTyped",
                table: "Methods",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<bool>(
                name: "TableAllowsForLastDrop",
                table: "Methods",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<double>(
                name: "ValuePerDrop",
                table: "Methods",
                type: "REAL",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "ValuePerDropTyped",
                table: "Methods",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<long>(
                name: "BeforeAt",
                table: "Checks",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "ConditioningRuns",
                table: "Checks",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<double>(
                name: "Difference",
                table: "Checks",
                type: "REAL",
                nullable: true);

            migrationBuilder.AddColumn<double>(
                name: "DifferenceHigh",
                table: "Checks",
                type: "REAL",
                nullable: true);

            migrationBuilder.AddColumn<double>(
                name: "DifferenceLow",
                table: "Checks",
                type: "REAL",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "DifferenceVerdict",
                table: "Checks",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "DosingPausedAt",
                table: "Checks",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "DosingResumedAt",
                table: "Checks",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Kind",
                table: "Checks",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Scale",
                table: "Checks",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "SteadyWater",
                table: "Checks",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<string>(
                name: "Steps",
                table: "Checks",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<bool>(
                name: "TableAllowsForLastDrop",
                table: "Checks",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<double>(
                name: "ValuePerDrop",
                table: "Checks",
                type: "REAL",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "OnlyLevel",
                table: "CheckLots",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "CalendarFeeds",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    SecretHash = table.Column<string>(type: "TEXT", nullable: false),
                    OpenedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_CalendarFeeds", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_CalendarFeeds_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "CheckGuards",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    CheckId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    Fault = table.Column<string>(type: "TEXT", nullable: false),
                    Reason = table.Column<string>(type: "TEXT", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_CheckGuards", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_CheckGuards_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_CheckGuards_Checks_BenchId_CheckId",
                        columns: x => new { x.BenchId, x.CheckId },
                        principalTable: "Checks",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "ConditioningRuns",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    LevelId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    Typed = table.Column<string>(type: "TEXT", nullable: false),
                    Value = table.Column<double>(type: "REAL", nullable: false),
                    Censoring = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ConditioningRuns", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_ConditioningRuns_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_ConditioningRuns_CheckLevels_BenchId_LevelId",
                        columns: x => new { x.BenchId, x.LevelId },
                        principalTable: "CheckLevels",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "PairedDevices",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    SecretHash = table.Column<string>(type: "TEXT", nullable: false),
                    OverHttps = table.Column<bool>(type: "INTEGER", nullable: false),
                    PairedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    LastSeenHour = table.Column<long>(type: "INTEGER", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PairedDevices", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_PairedDevices_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Procedures",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    InstrumentId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    Document = table.Column<string>(type: "TEXT", nullable: false),
                    Change = table.Column<string>(type: "TEXT", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Procedures", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Procedures_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Procedures_Instruments_BenchId_InstrumentId",
                        columns: x => new { x.BenchId, x.InstrumentId },
                        principalTable: "Instruments",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Runs",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    CheckId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    Procedure = table.Column<string>(type: "TEXT", nullable: false),
                    ProcedureVersion = table.Column<int>(type: "INTEGER", nullable: false),
                    Steps = table.Column<string>(type: "TEXT", nullable: false),
                    Events = table.Column<int>(type: "INTEGER", nullable: false),
                    StartedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    EndedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Runs", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Runs_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Runs_Checks_BenchId_CheckId",
                        columns: x => new { x.BenchId, x.CheckId },
                        principalTable: "Checks",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Tanks",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    VolumeLitres = table.Column<double>(type: "REAL", nullable: true),
                    VolumeTyped = table.Column<string>(type: "TEXT", nullable: false),
                    VolumeUnit = table.Column<string>(type: "TEXT", nullable: false),
                    Salinity = table.Column<double>(type: "REAL", nullable: true),
                    SalinityTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Note = table.Column<string>(type: "TEXT", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Tanks", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Tanks_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "RunEvents",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    RunId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    ClientId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Key = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    Step = table.Column<int>(type: "INTEGER", nullable: false),
                    Text = table.Column<string>(type: "TEXT", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    ReceivedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    HappenedAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_RunEvents", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_RunEvents_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_RunEvents_Runs_BenchId_RunId",
                        columns: x => new { x.BenchId, x.RunId },
                        principalTable: "Runs",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Doses",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    TankId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    What = table.Column<string>(type: "TEXT", nullable: false),
                    AmountTyped = table.Column<string>(type: "TEXT", nullable: false),
                    Amount = table.Column<double>(type: "REAL", nullable: false),
                    Unit = table.Column<string>(type: "TEXT", nullable: false),
                    ParameterKey = table.Column<string>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    IsAutomatic = table.Column<bool>(type: "INTEGER", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    Note = table.Column<string>(type: "TEXT", nullable: false),
                    RecordedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Doses", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Doses_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Doses_Tanks_BenchId_TankId",
                        columns: x => new { x.BenchId, x.TankId },
                        principalTable: "Tanks",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "TankReadings",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    TankId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    MethodId = table.Column<byte[]>(type: "BLOB", nullable: true),
                    ParameterKey = table.Column<string>(type: "TEXT", nullable: false),
                    OtherName = table.Column<string>(type: "TEXT", nullable: false),
                    Form = table.Column<string>(type: "TEXT", nullable: false),
                    InstrumentName = table.Column<string>(type: "TEXT", nullable: false),
                    Typed = table.Column<string>(type: "TEXT", nullable: false),
                    Value = table.Column<double>(type: "REAL", nullable: false),
                    Censoring = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    Note = table.Column<string>(type: "TEXT", nullable: false),
                    RecordedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_TankReadings", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_TankReadings_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_TankReadings_Methods_BenchId_MethodId",
                        columns: x => new { x.BenchId, x.MethodId },
                        principalTable: "Methods",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_TankReadings_Tanks_BenchId_TankId",
                        columns: x => new { x.BenchId, x.TankId },
                        principalTable: "Tanks",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "RunPhotos",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    RunId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    EventId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    ContentType = table.Column<string>(type: "TEXT", nullable: false),
                    Content = table.Column<byte[]>(type: "BLOB", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_RunPhotos", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_RunPhotos_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_RunPhotos_RunEvents_BenchId_EventId",
                        columns: x => new { x.BenchId, x.EventId },
                        principalTable: "RunEvents",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_RunPhotos_Runs_BenchId_RunId",
                        columns: x => new { x.BenchId, x.RunId },
                        principalTable: "Runs",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "DoubtClearings",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    MethodId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    CheckId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    ReadingId = table.Column<byte[]>(type: "BLOB", nullable: true),
                    DoseId = table.Column<byte[]>(type: "BLOB", nullable: true),
                    Reason = table.Column<string>(type: "TEXT", nullable: false),
                    Who = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_DoubtClearings", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_DoubtClearings_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_DoubtClearings_Checks_BenchId_CheckId",
                        columns: x => new { x.BenchId, x.CheckId },
                        principalTable: "Checks",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_DoubtClearings_Doses_BenchId_DoseId",
                        columns: x => new { x.BenchId, x.DoseId },
                        principalTable: "Doses",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_DoubtClearings_Methods_BenchId_MethodId",
                        columns: x => new { x.BenchId, x.MethodId },
                        principalTable: "Methods",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_DoubtClearings_TankReadings_BenchId_ReadingId",
                        columns: x => new { x.BenchId, x.ReadingId },
                        principalTable: "TankReadings",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_CheckGuards_BenchId_CheckId_Kind",
                table: "CheckGuards",
                columns: new[] { "BenchId", "CheckId", "Kind" },
                unique: true,
                filter: "\"Deleted\" = 0");

            migrationBuilder.CreateIndex(
                name: "IX_ConditioningRuns_BenchId_LevelId_Ordinal",
                table: "ConditioningRuns",
                columns: new[] { "BenchId", "LevelId", "Ordinal" },
                unique: true,
                filter: "\"Deleted\" = 0");

            migrationBuilder.CreateIndex(
                name: "IX_Doses_BenchId_TankId_At",
                table: "Doses",
                columns: new[] { "BenchId", "TankId", "At" });

            migrationBuilder.CreateIndex(
                name: "IX_DoubtClearings_BenchId_CheckId",
                table: "DoubtClearings",
                columns: new[] { "BenchId", "CheckId" });

            migrationBuilder.CreateIndex(
                name: "IX_DoubtClearings_BenchId_DoseId",
                table: "DoubtClearings",
                columns: new[] { "BenchId", "DoseId" });

            migrationBuilder.CreateIndex(
                name: "IX_DoubtClearings_BenchId_MethodId",
                table: "DoubtClearings",
                columns: new[] { "BenchId", "MethodId" });

            migrationBuilder.CreateIndex(
                name: "IX_DoubtClearings_BenchId_ReadingId",
                table: "DoubtClearings",
                columns: new[] { "BenchId", "ReadingId" });

            migrationBuilder.CreateIndex(
                name: "IX_Procedures_BenchId_InstrumentId_Number",
                table: "Procedures",
                columns: new[] { "BenchId", "InstrumentId", "Number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_RunEvents_BenchId_RunId_Key",
                table: "RunEvents",
                columns: new[] { "BenchId", "RunId", "Key" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_RunEvents_BenchId_RunId_Ordinal",
                table: "RunEvents",
                columns: new[] { "BenchId", "RunId", "Ordinal" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_RunPhotos_BenchId_EventId",
                table: "RunPhotos",
                columns: new[] { "BenchId", "EventId" });

            migrationBuilder.CreateIndex(
                name: "IX_RunPhotos_BenchId_RunId",
                table: "RunPhotos",
                columns: new[] { "BenchId", "RunId" });

            migrationBuilder.CreateIndex(
                name: "IX_Runs_BenchId_CheckId_Ordinal",
                table: "Runs",
                columns: new[] { "BenchId", "CheckId", "Ordinal" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_TankReadings_BenchId_MethodId_At",
                table: "TankReadings",
                columns: new[] { "BenchId", "MethodId", "At" });

            migrationBuilder.CreateIndex(
                name: "IX_TankReadings_BenchId_TankId_At",
                table: "TankReadings",
                columns: new[] { "BenchId", "TankId", "At" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "CalendarFeeds");

            migrationBuilder.DropTable(
                name: "CheckGuards");

            migrationBuilder.DropTable(
                name: "ConditioningRuns");

            migrationBuilder.DropTable(
                name: "DoubtClearings");

            migrationBuilder.DropTable(
                name: "PairedDevices");

            migrationBuilder.DropTable(
                name: "Procedures");

            migrationBuilder.DropTable(
                name: "RunPhotos");

            migrationBuilder.DropTable(
                name: "Doses");

            migrationBuilder.DropTable(
                name: "TankReadings");

            migrationBuilder.DropTable(
                name: "RunEvents");

            migrationBuilder.DropTable(
                name: "Tanks");

            migrationBuilder.DropTable(
                name: "Runs");

            migrationBuilder.DropColumn(
                name: "Scale",
                table: "Methods");

            migrationBuilder.DropColumn(
                name: "Steps",
                table: "Methods");

            migrationBuilder.DropColumn(
                name: "StepsTyped",
                table: "Methods");

            migrationBuilder.DropColumn(
                name: "TableAllowsForLastDrop",
                table: "Methods");

            migrationBuilder.DropColumn(
                name: "ValuePerDrop",
                table: "Methods");

            migrationBuilder.DropColumn(
                name: "ValuePerDropTyped",
                table: "Methods");

            migrationBuilder.DropColumn(
                name: "BeforeAt",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "ConditioningRuns",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "Difference",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "DifferenceHigh",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "DifferenceLow",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "DifferenceVerdict",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "DosingPausedAt",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "DosingResumedAt",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "Kind",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "Scale",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "SteadyWater",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "Steps",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "TableAllowsForLastDrop",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "ValuePerDrop",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "OnlyLevel",
                table: "CheckLots");
        }
    }
}
