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
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "FalseAlarmsPerYear",
                table: "Benches");

            migrationBuilder.DropColumn(
                name: "RiskOfWrong",
                table: "Benches");
        }
    }
}
