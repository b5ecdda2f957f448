using Knownwater.Quantities;

namespace Knownwater.Records.Benches;

/// <summary>Which use a usual tolerance is taken for.</summary>
public static class UsualUse
{
    /// <summary>The bench's main use where it fits the water; else that of the water itself, for seawater the stricter one.</summary>
    /// <param name="bench">What the bench mostly looks after.</param>
    /// <param name="matrix">Matrix of the method; null where it is not said.</param>
    /// <returns>The use whose usual tolerance applies.</returns>
    public static MainUse For(MainUse bench, Matrix? matrix) => matrix switch
    {
        Matrix.FreshWater => MainUse.FreshWater,
        Matrix.Seawater when bench == MainUse.FreshWater => MainUse.Reef,
        _ => bench,
    };
}
