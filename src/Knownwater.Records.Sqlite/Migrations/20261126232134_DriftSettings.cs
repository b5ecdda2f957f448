using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Knownwater.Records.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class DriftSettings : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<double>(
                name: "FalseAlarmsPerYear",
                table: "Benches",
                type: "REAL",
                nullable: true);

            migrationBuilder.AddColumn<double>(
                name: "RiskOfWrong",
                table: "Benches",
                type: "REAL",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "DriftAlarms",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    MethodId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    CheckId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    IsHigh = table.Column<bool>(type: "INTEGER", nullable: false),
                    SeenAt = table.Column<long>(type: "INTEGER", nullable: false),
                    Explained = table.Column<string>(type: "TEXT", nullable: false),
                    ClosedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    ClosedReason = table.Column<string>(type: "TEXT", nullable: false),
                    ClosedBy = table.Column<string>(type: "TEXT", nullable: false),
                    Deleted = table.Column<bool>(type: "INTEGER", nullable: false),
                    DeletedReason = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_DriftAlarms", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_DriftAlarms_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_DriftAlarms_Checks_BenchId_CheckId",
                        columns: x => new { x.BenchId, x.CheckId },
                        principalTable: "Checks",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_DriftAlarms_Methods_BenchId_MethodId",
                        columns: x => new { x.BenchId, x.MethodId },
                        principalTable: "Methods",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "KeptCourses",
                columns: table => new
                {
                    BenchId = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Stamp = table.Column<string>(type: "TEXT", nullable: false),
                    Form = table.Column<string>(type: "TEXT", nullable: false),
                    WithinAbsolute = table.Column<double>(type: "REAL", nullable: true),
                    WithinRelative = table.Column<double>(type: "REAL", nullable: true),
                    BetweenAbsolute = table.Column<double>(type: "REAL", nullable: true),
                    BetweenRelative = table.Column<double>(type: "REAL", nullable: true),
                    Resolution = table.Column<double>(type: "REAL", nullable: false),
                    NextDay = table.Column<double>(type: "REAL", nullable: true),
                    NextReason = table.Column<string>(type: "TEXT", nullable: true),
                    NextChance = table.Column<double>(type: "REAL", nullable: true),
                    PriorDriven = table.Column<bool>(type: "INTEGER", nullable: false),
                    SinceKind = table.Column<string>(type: "TEXT", nullable: true),
                    SinceLabel = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_KeptCourses", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_KeptCourses_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_KeptCourses_Methods_BenchId_Id",
                        columns: x => new { x.BenchId, x.Id },
                        principalTable: "Methods",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_DriftAlarms_BenchId_CheckId",
                table: "DriftAlarms",
                columns: new[] { "BenchId", "CheckId" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_DriftAlarms_BenchId_MethodId",
                table: "DriftAlarms",
                columns: new[] { "BenchId", "MethodId" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "DriftAlarms");

            migrationBuilder.DropTable(
                name: "KeptCourses");

            migrationBuilder.DropColumn(
                name: "FalseAlarmsPerYear",
                table: "Benches");

            migrationBuilder.DropColumn(
                name: "RiskOfWrong",
                table: "Benches");
        }
    }
}
