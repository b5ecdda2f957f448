using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Knownwater.Records.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class Rounds : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<Guid>(
                name: "BottleId",
                table: "Stocks",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "BottleId",
                table: "ReferenceWaters",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "SharedStepId",
                table: "PreparationSteps",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "RoundId",
                table: "Checks",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "MethodId",
                table: "Backgrounds",
                type: "uuid",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "Rounds",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Label = table.Column<string>(type: "text", nullable: false),
                    Who = table.Column<string>(type: "text", nullable: false),
                    PlannedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Rounds", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_Rounds_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "RoundMethods",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    RoundId = table.Column<Guid>(type: "uuid", nullable: false),
                    Ordinal = table.Column<int>(type: "integer", nullable: false),
                    MethodId = table.Column<Guid>(type: "uuid", nullable: false),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_RoundMethods", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_RoundMethods_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_RoundMethods_Methods_BenchId_MethodId",
                        columns: x => new { x.BenchId, x.MethodId },
                        principalTable: "Methods",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_RoundMethods_Rounds_BenchId_RoundId",
                        columns: x => new { x.BenchId, x.RoundId },
                        principalTable: "Rounds",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "RoundLevels",
                columns: table => new
                {
                    BenchId = table.Column<Guid>(type: "uuid", nullable: false),
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    RoundMethodId = table.Column<Guid>(type: "uuid", nullable: false),
                    Ordinal = table.Column<int>(type: "integer", nullable: false),
                    ReferenceWaterId = table.Column<Guid>(type: "uuid", nullable: true),
                    PreparationId = table.Column<Guid>(type: "uuid", nullable: true),
                    Deleted = table.Column<bool>(type: "boolean", nullable: false),
                    DeletedReason = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_RoundLevels", x => new { x.BenchId, x.Id });
                    table.ForeignKey(
                        name: "FK_RoundLevels_Benches_BenchId",
                        column: x => x.BenchId,
                        principalTable: "Benches",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_RoundLevels_Preparations_BenchId_PreparationId",
                        columns: x => new { x.BenchId, x.PreparationId },
                        principalTable: "Preparations",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_RoundLevels_ReferenceWaters_BenchId_ReferenceWaterId",
                        columns: x => new { x.BenchId, x.ReferenceWaterId },
                        principalTable: "ReferenceWaters",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_RoundLevels_RoundMethods_BenchId_RoundMethodId",
                        columns: x => new { x.BenchId, x.RoundMethodId },
                        principalTable: "RoundMethods",
                        principalColumns: new[] { "BenchId", "Id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Stocks_BenchId_BottleId",
                table: "Stocks",
                columns: new[] { "BenchId", "BottleId" });

            migrationBuilder.CreateIndex(
                name: "IX_ReferenceWaters_BenchId_BottleId",
                table: "ReferenceWaters",
                columns: new[] { "BenchId", "BottleId" });

            migrationBuilder.CreateIndex(
                name: "IX_PreparationSteps_BenchId_SharedStepId",
                table: "PreparationSteps",
                columns: new[] { "BenchId", "SharedStepId" });

            migrationBuilder.CreateIndex(
                name: "IX_Checks_BenchId_RoundId",
                table: "Checks",
                columns: new[] { "BenchId", "RoundId" });

            migrationBuilder.CreateIndex(
                name: "IX_Backgrounds_BenchId_MethodId",
                table: "Backgrounds",
                columns: new[] { "BenchId", "MethodId" });

            migrationBuilder.CreateIndex(
                name: "IX_RoundLevels_BenchId_PreparationId",
                table: "RoundLevels",
                columns: new[] { "BenchId", "PreparationId" });

            migrationBuilder.CreateIndex(
                name: "IX_RoundLevels_BenchId_ReferenceWaterId",
                table: "RoundLevels",
                columns: new[] { "BenchId", "ReferenceWaterId" });

            migrationBuilder.CreateIndex(
                name: "IX_RoundLevels_BenchId_RoundMethodId",
                table: "RoundLevels",
                columns: new[] { "BenchId", "RoundMethodId" });

            migrationBuilder.CreateIndex(
                name: "IX_RoundMethods_BenchId_MethodId",
                table: "RoundMethods",
                columns: new[] { "BenchId", "MethodId" });

            migrationBuilder.CreateIndex(
                name: "IX_RoundMethods_BenchId_RoundId",
                table: "RoundMethods",
                columns: new[] { "BenchId", "RoundId" });

            migrationBuilder.CreateIndex(
                name: "IX_Rounds_BenchId_PlannedAt",
                table: "Rounds",
                columns: new[] { "BenchId", "PlannedAt" });

            migrationBuilder.AddForeignKey(
                name: "FK_Backgrounds_Methods_BenchId_MethodId",
                table: "Backgrounds",
                columns: new[] { "BenchId", "MethodId" },
                principalTable: "Methods",
                principalColumns: new[] { "BenchId", "Id" },
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "FK_Checks_Rounds_BenchId_RoundId",
                table: "Checks",
                columns: new[] { "BenchId", "RoundId" },
                principalTable: "Rounds",
                principalColumns: new[] { "BenchId", "Id" },
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "FK_PreparationSteps_PreparationSteps_BenchId_SharedStepId",
                table: "PreparationSteps",
                columns: new[] { "BenchId", "SharedStepId" },
                principalTable: "PreparationSteps",
                principalColumns: new[] { "BenchId", "Id" },
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "FK_ReferenceWaters_ReferenceWaters_BenchId_BottleId",
                table: "ReferenceWaters",
                columns: new[] { "BenchId", "BottleId" },
                principalTable: "ReferenceWaters",
                principalColumns: new[] { "BenchId", "Id" },
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "FK_Stocks_Stocks_BenchId_BottleId",
                table: "Stocks",
                columns: new[] { "BenchId", "BottleId" },
                principalTable: "Stocks",
                principalColumns: new[] { "BenchId", "Id" },
                onDelete: ReferentialAction.Restrict);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropForeignKey(
                name: "FK_Backgrounds_Methods_BenchId_MethodId",
                table: "Backgrounds");

            migrationBuilder.DropForeignKey(
                name: "FK_Checks_Rounds_BenchId_RoundId",
                table: "Checks");

            migrationBuilder.DropForeignKey(
                name: "FK_PreparationSteps_PreparationSteps_BenchId_SharedStepId",
                table: "PreparationSteps");

            migrationBuilder.DropForeignKey(
                name: "FK_ReferenceWaters_ReferenceWaters_BenchId_BottleId",
                table: "ReferenceWaters");

            migrationBuilder.DropForeignKey(
                name: "FK_Stocks_Stocks_BenchId_BottleId",
                table: "Stocks");

            migrationBuilder.DropTable(
                name: "RoundLevels");

            migrationBuilder.DropTable(
                name: "RoundMethods");

            migrationBuilder.DropTable(
                name: "Rounds");

            migrationBuilder.DropIndex(
                name: "IX_Stocks_BenchId_BottleId",
                table: "Stocks");

            migrationBuilder.DropIndex(
                name: "IX_ReferenceWaters_BenchId_BottleId",
                table: "ReferenceWaters");

            migrationBuilder.DropIndex(
                name: "IX_PreparationSteps_BenchId_SharedStepId",
                table: "PreparationSteps");

            migrationBuilder.DropIndex(
                name: "IX_Checks_BenchId_RoundId",
                table: "Checks");

            migrationBuilder.DropIndex(
                name: "IX_Backgrounds_BenchId_MethodId",
                table: "Backgrounds");

            migrationBuilder.DropColumn(
                name: "BottleId",
                table: "Stocks");

            migrationBuilder.DropColumn(
                name: "BottleId",
                table: "ReferenceWaters");

            migrationBuilder.DropColumn(
                name: "SharedStepId",
                table: "PreparationSteps");

            migrationBuilder.DropColumn(
                name: "RoundId",
                table: "Checks");

            migrationBuilder.DropColumn(
                name: "MethodId",
                table: "Backgrounds");
        }
    }
}
