using System;
using Microsoft.EntityFrameworkCore.Migrations;

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
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
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
