using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Knownwater.Records.Postgres.Migrations
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
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Steps",
                table: "Methods",
                type: "text",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "StepsTyped",
                table: "Methods",
                type: "text",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<bool>(
                name: "TableAllowsForLastDrop",
                table: "Methods",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<double>(
                name: "ValuePerDrop",
                table: "Methods",
                type: "double precision",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "ValuePerDropTyped",
                table: "Methods",
                type: "text",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<int>(
                name: "ConditioningRuns",
                table: "Checks",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<double>(
                name: "Difference",
                table: "Checks",
                type: "double precision",
                nullable: true);

            migrationBuilder.AddColumn<double>(
                name: "DifferenceHigh",
                table: "Checks",
                type: "double precision",
                nullable: true);

            migrationBuilder.AddColumn<double>(
                name: "DifferenceLow",
                table: "Checks",
                type: "double precision",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "DifferenceVerdict",
                table: "Checks",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Kind",
                table: "Checks",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Scale",
                table: "Checks",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Steps",
                table: "Checks",
                type: "text",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<bool>(
                name: "TableAllowsForLastDrop",
                table: "Checks",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<double>(
                name: "ValuePerDrop",
                table: "Checks",
                type: "double precision",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "OnlyLevel",
                table: "CheckLots",
                type: "integer",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "ConditioningRuns",
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
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
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
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    SecretHash = table.Column<string>(type: "text", nullable: false),
                    OverHttps = table.Column<bool>(type: "boolean", nullable: false),
                    PairedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    LastSeenHour = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
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

            migrationBuilder.CreateIndex(
                name: "IX_ConditioningRuns_BenchId_LevelId_Ordinal",
                table: "ConditioningRuns",
                columns: new[] { "BenchId", "LevelId", "Ordinal" },
                unique: true,
                filter: "NOT \"Deleted\"");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "ConditioningRuns");

            migrationBuilder.DropTable(
                name: "PairedDevices");

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
                name: "Kind",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "Scale",
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
