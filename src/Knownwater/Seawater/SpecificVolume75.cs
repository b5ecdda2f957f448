using System.Runtime.CompilerServices;
using Knownwater.Uncertainty;

namespace Knownwater.Seawater;

/// <summary>The 75-term polynomial of specific volume, on any number type.</summary>
/// <remarks>Roquet, Madec, McDougall &amp; Barker 2015, Ocean Modelling 90, 29–43, appendix A.2: v = Σ vᵢⱼₖ xⁱ yʲ zᵏ. Written out, and layer by layer: a whole polynomial of one method is more than the compiler inlines, and lanes then pass through memory.</remarks>
internal static class SpecificVolume75
{
    /// <summary>Specific volume, m³/kg.</summary>
    /// <param name="x">√((SA + 24 g/kg)/(40 uPS)).</param>
    /// <param name="y">Conservative Temperature over 40 °C.</param>
    /// <param name="z">Sea pressure over 10⁴ dbar.</param>
    public static T Of<T>(T x, T y, T z)
        where T : struct, IReal<T>
    {
        T v4 = 3.1454099902e-7;
        v4 = v4 * y + (1.053115308e-7 + x * -1.1147125423e-7);
        T v5 = -1.2647261286e-8;
        T v6 = 1.961350393e-9;
        return Layer0(x, y) + z * (Layer1(x, y) + z * (Layer2(x, y) + z * (Layer3(x, y) + z * (v4 + z * (v5 + z * v6)))));
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static T Layer0<T>(T x, T y)
        where T : struct, IReal<T>
    {
        T v = 2.0543094268e-7;
        v = v * y + (-8.053961554e-7 + x * -3.30527589e-7);
        v = v * y + (6.9111322702e-6 + x * (-8.7595873154e-6 + x * 4.3703680598e-6));
        v = v * y + (-1.6521159259e-5 + x * (2.4141479483e-5 + x * (-1.4353633048e-5 + x * 2.2863324556e-6)));
        v = v * y + (2.7762106484e-5 + x * (-3.7435842344e-5 + x * (3.590782276e-5 + x * (-1.8698584187e-5 + x * 3.8595339244e-6))));
        v = v * y + (-1.5649734675e-5 + x * (3.5009599764e-5 + x * (-4.3592678561e-5 + x * (3.4532461828e-5 + x * (-1.1959409788e-5 + x * 1.3864594581e-6)))));
        v = v * y + (1.0769995862e-3 + x * (-3.1038981976e-4 + x * (6.6928067038e-4 + x * (-8.5047933937e-4 + x * (5.8086069943e-4 + x * (-2.1092370507e-4 + x * 3.1932457305e-5))))));
        return v;
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static T Layer1<T>(T x, T y)
        where T : struct, IReal<T>
    {
        T v = 5.0736766814e-7;
        v = v * y + (-3.4102187482e-6 + x * 1.2956717783e-6);
        v = v * y + (7.9279656173e-6 + x * (-3.4558773655e-6 + x * 3.1655306078e-7));
        v = v * y + (-1.1716606853e-5 + x * (-2.3678308361e-7 + x * (2.9283346295e-6 + x * -4.88261392e-7)));
        v = v * y + (1.8505765429e-5 + x * (-9.5677088156e-6 + x * (1.1100834765e-5 + x * (-9.8447117844e-6 + x * 2.590922526e-6))));
        v = v * y + (-6.0799143809e-5 + x * (2.4262468747e-5 + x * (-3.4792460974e-5 + x * (3.7470777305e-5 + x * (-1.7322218612e-5 + x * 3.0927427253e-6)))));
        return v;
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static T Layer2<T>(T x, T y)
        where T : struct, IReal<T>
    {
        T v = -6.3352916514e-8;
        v = v * y + (-4.6132540037e-7 + x * 7.7618888092e-9);
        v = v * y + (2.130502874e-6 + x * (3.913738708e-7 + x * -6.5731104067e-7));
        v = v * y + (-1.1736386731e-6 + x * (-5.5699154557e-6 + x * (5.4620748834e-6 + x * -1.3544185627e-6)));
        v = v * y + (9.9856169219e-6 + x * (-5.8484432984e-7 + x * (-4.8122251597e-6 + x * (4.9263106998e-6 + x * -1.7811974727e-6))));
        return v;
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static T Layer3<T>(T x, T y)
        where T : struct, IReal<T>
    {
        T v = 2.8695905159e-7;
        v = v * y + (-3.6527006553e-7 + x * -2.7295696237e-7);
        v = v * y + (-1.1309361437e-6 + x * (3.6310188515e-7 + x * 1.674630378e-8));
        return v;
    }
}
