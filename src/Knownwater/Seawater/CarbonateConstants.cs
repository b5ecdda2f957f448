using Knownwater.Uncertainty;

namespace Knownwater.Seawater;

/// <summary>Which total borate is taken.</summary>
public enum TotalBorate
{
    /// <summary>Uppström 1974: 415.8 µmol/kg at a salinity of 35.</summary>
    Uppstrom1974 = 0,

    /// <summary>Lee et al. 2010: 432.6 µmol/kg at a salinity of 35.</summary>
    Lee2010 = 1,
}

/// <summary>Equilibrium constants and total concentrations of seawater, on any number type; in mol/kg of seawater, on the total scale of pH but for <see cref="KS"/>, which is on the free one.</summary>
/// <remarks>
/// Dickson, Sabine &amp; Christian 2007, Guide to best practices for ocean CO₂ measurements, chapter 5: K₀ Weiss 1974; K₁, K₂ Lueker, Dickson &amp; Keeling 2000 (fitted from 19 to 43 and
/// 2 to 35 °C; beyond they are extrapolated); K_B Dickson 1990; K_W, K_1P to K_3P and K_Si Millero 1995, turned to the total scale by 0.015 in the constant term as the guide does; K_S
/// Dickson 1990; K_F Perez &amp; Fraga 1987; solubility of aragonite and calcite Mucci 1983; sulfate, fluoride and calcium in proportion to salinity. Fugacity of CO₂ by Weiss 1974.
/// </remarks>
/// <typeparam name="T">A number type.</typeparam>
internal readonly struct CarbonateConstants<T>
    where T : struct, IReal<T>
{
    private readonly T _s, _t, _ln, _root, _i, _rootI;

    public CarbonateConstants(T s, T celsius, TotalBorate borate)
    {
        _s = s;
        _t = celsius + 273.15;
        _ln = T.Log(_t);
        _root = T.Sqrt(s);
        _i = 19.924 * s / (1000 - 1.005 * s);
        _rootI = T.Sqrt(_i);
        var (t, ln, root, i, rootI) = (_t, _ln, _root, _i, _rootI);
        K1 = T.Exp(-Ln10 * (3633.86 / t - 61.2172 + 9.67770 * ln - 0.011555 * s + 0.0001152 * s * s));
        K2 = T.Exp(-Ln10 * (471.78 / t + 25.9290 - 3.16967 * ln - 0.01781 * s + 0.0001122 * s * s));
        KB = T.Exp((-8966.90 - 2890.53 * root - 77.942 * s + 1.728 * s * root - 0.0996 * s * s) / t + 148.0248 + 137.1942 * root + 1.62142 * s - (24.4344 + 25.085 * root + 0.2474 * s) * ln + 0.053105 * root * t);
        KW = T.Exp(148.9652 - 13847.26 / t - 23.6521 * ln + (118.67 / t - 5.977 + 1.0495 * ln) * root - 0.01615 * s);
        KS = (1 - 0.001005 * s) * T.Exp(-4276.1 / t + 141.328 - 23.093 * ln + (-13856 / t + 324.57 - 47.986 * ln) * rootI + (35474 / t - 771.54 + 114.723 * ln) * i - 2698 / t * i * rootI + 1776 / t * i * i);
        KF = T.Exp(874 / t - 9.68 + 0.111 * root);
        var chlorinity = s / 1.80655;
        Borate = (borate == TotalBorate.Lee2010 ? 0.0002414 : 0.000232) / 10.811 * chlorinity;
        Sulfate = 0.14 / 96.062 * chlorinity;
        Fluoride = 6.7e-5 / 18.998 * chlorinity;
        Calcium = 0.02128 / 40.087 * chlorinity;
    }

    private static double Ln10 => 2.302585092994046;

    public T K0 => T.Exp(93.4517 * 100 / _t - 60.2409 + 23.3585 * T.Log(_t / 100) + _s * (0.023517 - 0.023656 * _t / 100 + 0.0047036 * _t * _t / 10_000));

    public T K1 { get; init; }

    public T K2 { get; init; }

    public T KB { get; init; }

    public T KW { get; init; }

    public T KS { get; }

    public T KF { get; }

    public T K1P => T.Exp(-4576.752 / _t + 115.525 - 18.453 * _ln + (-106.736 / _t + 0.69171) * _root + (-0.65643 / _t - 0.01844) * _s);

    public T K2P => T.Exp(-8814.715 / _t + 172.0883 - 27.927 * _ln + (-160.340 / _t + 1.3566) * _root + (0.37335 / _t - 0.05778) * _s);

    public T K3P => T.Exp(-3070.75 / _t - 18.141 + (17.27039 / _t + 2.81197) * _root + (-44.99486 / _t - 0.09984) * _s);

    public T KSi => (1 - 0.001005 * _s) * T.Exp(-8904.2 / _t + 117.385 - 19.334 * _ln + (-458.79 / _t + 3.5913) * _rootI + (188.74 / _t - 1.5998) * _i + (-12.1652 / _t + 0.07871) * _i * _i);

    public T KAragonite => T.Exp(Ln10 * (-171.945 - 0.077993 * _t + 2903.293 / _t + 71.595 / Ln10 * _ln + (-0.068393 + 0.0017276 * _t + 88.135 / _t) * _root - 0.10018 * _s + 0.0059415 * _s * _root));

    public T KCalcite => T.Exp(Ln10 * (-171.9065 - 0.077993 * _t + 2839.319 / _t + 71.595 / Ln10 * _ln + (-0.77712 + 0.0028426 * _t + 178.34 / _t) * _root - 0.07711 * _s + 0.0041249 * _s * _root));

    public T Borate { get; init; }

    public T Sulfate { get; }

    public T Fluoride { get; }

    public T Calcium { get; }

    /// <summary>Fugacity over partial pressure of CO₂ at one atmosphere; virial coefficients in cm³/mol.</summary>
    public T Fugacity => T.Exp((-1636.75 + 12.0408 * _t - 0.0327957 * _t * _t + 3.16528e-5 * _t * _t * _t + 2 * (57.7 - 0.118 * _t)) * 1e-6 * 101325 / (8.314462618 * _t));

    /// <summary>Alkalinity of borate, water, sulfate and fluoride, mol/kg, at a hydrogen ion concentration on the total scale.</summary>
    public T MinorAlkalinity(T h)
    {
        var free = h / (1 + Sulfate / KS);
        return Borate * KB / (KB + h) + KW / h - free - Sulfate * free / (free + KS) - Fluoride * h / (h + KF);
    }

    /// <summary>Its change per change of ln h.</summary>
    public T MinorSlope(T h)
    {
        var free = h / (1 + Sulfate / KS);
        return -(Borate * KB * h / ((KB + h) * (KB + h))) - KW / h - free - Sulfate * KS * free / ((free + KS) * (free + KS)) - Fluoride * KF * h / ((h + KF) * (h + KF));
    }

    /// <summary>Alkalinity of all but carbonate, mol/kg, at a hydrogen ion concentration on the total scale.</summary>
    public T OtherAlkalinity(T h, T phosphate, T silicate)
    {
        var p1 = K1P;
        var p12 = p1 * K2P;
        var p123 = p12 * K3P;
        return MinorAlkalinity(h) + phosphate * (p12 * h + 2 * p123 - h * h * h) / (h * h * h + p1 * h * h + p12 * h + p123) + silicate / (1 + h / KSi);
    }

    /// <summary>Carbonate alkalinity over dissolved inorganic carbon.</summary>
    public T CarbonatePart(T h) => K1 * (h + 2 * K2) / (h * h + K1 * h + K1 * K2);

    /// <summary>Its change per change of ln h.</summary>
    public T CarbonateSlope(T h)
    {
        var all = h * h + K1 * h + K1 * K2;
        return K1 * h * (all - (h + 2 * K2) * (2 * h + K1)) / (all * all);
    }
}
