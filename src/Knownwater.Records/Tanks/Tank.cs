using Knownwater.Quantities;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Tanks;

/// <summary>One tank of the bench; numbers as typed beside their values.</summary>
internal sealed class Tank(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public string Name { get; set; } = "";

    public TankKind Kind { get; set; }

    public double? VolumeLitres { get; set; }

    public string VolumeTyped { get; set; } = "";

    public TankVolumeUnit VolumeUnit { get; set; }

    public double? Salinity { get; set; }

    public string SalinityTyped { get; set; } = "";

    public string Note { get; set; } = "";

    public static Matrix MatrixOf(TankKind kind) => kind is TankKind.Reef or TankKind.FishOnlyMarine ? Matrix.Seawater : Matrix.FreshWater;

    /// <summary>The kinds whose water is of this matrix.</summary>
    public static IReadOnlyList<TankKind> KindsOf(Matrix matrix) => [.. Enum.GetValues<TankKind>().Where(k => MatrixOf(k) == matrix)];
}
