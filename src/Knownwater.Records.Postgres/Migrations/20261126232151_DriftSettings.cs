using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Knownwater.Records.Postgres.Migrations
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
                type: "double precision",
                nullable: true);

            migrationBuilder.AddColumn<double>(
                name: "RiskOfWrong",
                table: "Benches",
                type: "double precision",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "DriftAlarms",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    MethodId = table.Column<Guid>(type: "uuid", nullable: false),
                    CheckId = table.Column<Guid>(type: "uuid", nullable: false),
                    IsHigh = table.Column<bool>(type: "boolean", nullable: false),
                    SeenAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Explained = table.Column<string>(type: "text", nullable: false),
                    ClosedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    ClosedReason = table.Column<string>(type: "text", nullable: false),
                    ClosedBy = table.Column<string>(type: "text", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
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
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Stamp = table.Column<string>(type: "text", nullable: false),
                    Form = table.Column<string>(type: "text", nullable: false),
                    WithinAbsolute = table.Column<double>(type: "double precision", nullable: true),
                    WithinRelative = table.Column<double>(type: "double precision", nullable: true),
                    BetweenAbsolute = table.Column<double>(type: "double precision", nullable: true),
                    BetweenRelative = table.Column<double>(type: "double precision", nullable: true),
                    Resolution = table.Column<double>(type: "double precision", nullable: false),
                    NextDay = table.Column<double>(type: "double precision", nullable: true),
                    NextReason = table.Column<string>(type: "text", nullable: true),
                    NextChance = table.Column<double>(type: "double precision", nullable: true),
                    PriorDriven = table.Column<bool>(type: "boolean", nullable: false),
                    SinceKind = table.Column<string>(type: "text", nullable: true),
                    SinceLabel = table.Column<string>(type: "text", nullable: false)
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
