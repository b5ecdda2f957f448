using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>The fields of a tank as typed.</summary>
internal sealed record TankFields(string Name, TankKind Kind, string Volume, TankVolumeUnit Unit, string Salinity, string Note)
{
    private const double LitresOfAGallon = 3.785411784, MostLitres = 10_000_000;

    /// <summary>Reads them into a tank.</summary>
    public async Task Read(RecordsContext records, BenchSetting bench, TypedFields fields, Tank tank, CancellationToken cancel)
    {
        tank.Name = fields.Needed("Name", Name, "The tank has no name yet. Write what you call it.", 80);
        var name = tank.Name;
        if (await records.Tanks.AnyAsync(t => t.Name == name && t.Id != tank.Id, cancel))
            fields.Fault("Name", $"There is a “{name}” already. Choose another name, so that the two are not mixed up.");
        tank.Kind = Kind;
        var litres = Unit == TankVolumeUnit.UsGallons ? LitresOfAGallon : 1;
        (tank.VolumeLitres, tank.VolumeTyped, tank.VolumeUnit) = (fields.Number("Volume", Volume, "the volume", 0, MostLitres / litres, aboveLeast: true) * litres, Volume.Trim(), Unit);
        (tank.Salinity, tank.SalinityTyped) = (fields.Number("Salinity", Salinity, "a salinity", 0, 120), Salinity.Trim());
        if (tank.Salinity > 3 && Tank.MatrixOf(Kind) == Matrix.FreshWater)
            fields.Fault("Salinity", $"Water of salinity {tank.SalinityTyped} is not fresh. Choose a marine tank, or a lower salinity.");
        tank.Note = fields.Optional("Note", Note, 2000);
    }
}
