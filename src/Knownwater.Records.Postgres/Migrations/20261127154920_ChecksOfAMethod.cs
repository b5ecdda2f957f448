using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Knownwater.Records.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class ChecksOfAMethod : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Checks_BenchId_MethodId",
                table: "Checks");

            migrationBuilder.CreateIndex(
                name: "IX_Checks_BenchId_MethodId_StartedAt",
                table: "Checks",
                columns: new[] { "BenchId", "MethodId", "StartedAt" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Checks_BenchId_MethodId_StartedAt",
                table: "Checks");

            migrationBuilder.CreateIndex(
                name: "IX_Checks_BenchId_MethodId",
                table: "Checks",
                columns: new[] { "BenchId", "MethodId" });
        }
    }
}
