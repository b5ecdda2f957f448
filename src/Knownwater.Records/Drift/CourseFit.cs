using System.Security.Cryptography;
using Knownwater.Drift;
using Microsoft.Extensions.Caching.Memory;

namespace Knownwater.Records.Drift;

/// <summary>What the library makes of a history. It costs tenths of a second and rests on nothing but the numbers that go in, so that the last ones are kept under these: moving about in a picture asks for the same one again and again.</summary>
/// <param name="Model">The model of the whole history.</param>
/// <param name="Change">What changed in it.</param>
/// <param name="Settled">The model beside what has changed.</param>
/// <param name="Next">When to check again.</param>
internal sealed record CourseFit(DriftModel Model, ChangePoint Change, DriftModel Settled, NextCheck Next)
{
    private const int Kept = 128;

    private static readonly MemoryCache Last = new(new MemoryCacheOptions { SizeLimit = Kept });

    /// <summary>Fits a history, or finds the fit of one with the same numbers.</summary>
    public static CourseFit Of(DriftHistory history, double risk) => Last.GetOrCreate(Key(history, risk), entry =>
    {
        entry.Size = 1;
        var model = DriftModel.Fit(history);
        var change = ChangePoint.Find(history);
        return new CourseFit(model, change, model.Beside(change), NextCheck.After(history.StartingAnew(change), risk));
    })!;

    /// <summary>A digest of every number and name that the fit depends on.</summary>
    private static string Key(DriftHistory history, double risk)
    {
        using var bytes = new MemoryStream();
        using var to = new BinaryWriter(bytes);
        void Number(double? value) => to.Write(value ?? double.NaN);
        void Names(IReadOnlyList<string> names)
        {
            to.Write(names.Count);
            foreach (var name in names)
                to.Write(name);
        }
        Number(risk);
        Number(history.Tolerance.Absolute);
        Number(history.Tolerance.Percent);
        Number(history.Typical?.Absolute);
        Number(history.Typical?.Relative);
        to.Write(history.Checks.Count);
        foreach (var check in history.Checks)
        {
            Number(check.Day);
            to.Write(check.Stock ?? "");
            to.Write(check.Preparation ?? "");
            Names(check.Lots);
            to.Write(check.Levels.Count);
            foreach (var level in check.Levels)
            {
                Number(level.Known);
                Number(level.Sd);
                Number(level.SdDof);
                Number(level.Resolution);
                to.Write(level.Replicates);
                Number(level.Bias.Value);
                foreach (var part in level.Bias.Contributions)
                {
                    to.Write(part.Source.Id.ToByteArray());
                    Number(part.Value);
                }
            }
        }
        to.Write(history.Events.Count);
        foreach (var happened in history.Events)
        {
            Number(happened.Day);
            to.Write((int)happened.Kind);
            to.Write(happened.Label);
            to.Write(happened.StartsAnew);
            Names(happened.Lots);
        }
        to.Write(history.Changeovers.Count);
        foreach (var changeover in history.Changeovers)
        {
            Number(changeover.Day);
            Names(changeover.From);
            Names(changeover.To);
            Number(changeover.Level);
            Number(changeover.Step);
            to.Write(changeover.FromReplicates);
            to.Write(changeover.ToReplicates);
            Number(changeover.Sd);
            Number(changeover.SdDof);
            Number(changeover.Resolution);
        }
        to.Flush();
        return Convert.ToHexString(SHA256.HashData(bytes.ToArray()));
    }
}
