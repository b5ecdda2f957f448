using Knownwater.Quantities;

namespace Knownwater.Checks;

/// <summary>What is left of a former water in a chamber that was rinsed with the next one, before and after it is filled.</summary>
/// <remarks>
/// Emptying leaves a residual volume r. A rinse of volume v mixes with it and is emptied to r again, so that the share of former water in
/// what is left falls by r/(v + r) each time: after n rinses it is (r/(v + r))ⁿ. The fill of volume V dilutes it once more:
/// (r/(v + r))ⁿ · r/(V + r) of the water that is measured is former water, and this is the figure that biases an indication. Complete
/// mixing in each rinse, and the same residual volume each time, are assumed. A mass balance, exact in closed form; where every rinse has
/// the volume of the fill the share after the fill is (r/(V + r))ⁿ⁺¹. Immutable; equality is that of its four numbers.
/// </remarks>
public sealed record RinseResidue
{
    private const int MostRinses = 1_000_000;

    /// <summary>States how a chamber is rinsed and filled.</summary>
    /// <param name="residual">Volume that stays behind when the chamber is emptied; zero or above.</param>
    /// <param name="fill">Volume of the water that is measured; above zero.</param>
    /// <param name="rinse">Volume of each rinse; above zero.</param>
    /// <param name="rinses">Number of rinses; zero or above.</param>
    /// <exception cref="ArgumentOutOfRangeException">A volume or the number lies outside its limit.</exception>
    public RinseResidue(Volume residual, Volume fill, Volume rinse, int rinses)
    {
        if (residual < Volume.Zero)
            throw new ArgumentOutOfRangeException(nameof(residual), residual, $"The residual volume is {residual}, but what stays behind is 0 mL or more. Weigh the emptied chamber, or take 0 mL.");
        if (fill <= Volume.Zero)
            throw new ArgumentOutOfRangeException(nameof(fill), fill, $"The fill is {fill}, but it must be above 0 mL. Take the sample volume of the method.");
        if (rinse <= Volume.Zero)
            throw new ArgumentOutOfRangeException(nameof(rinse), rinse, $"A rinse is {rinse}, but it must be above 0 mL. For none, state the number of rinses as 0.");
        if (rinses < 0)
            throw new ArgumentOutOfRangeException(nameof(rinses), rinses, $"The number of rinses is {rinses}, but it must be 0 or more.");
        (Residual, Fill, Rinse, Rinses) = (residual, fill, rinse, rinses);
    }

    /// <summary>Volume r that stays behind when the chamber is emptied.</summary>
    public Volume Residual { get; }

    /// <summary>Volume V of the water that is measured.</summary>
    public Volume Fill { get; }

    /// <summary>Volume v of each rinse.</summary>
    public Volume Rinse { get; }

    /// <summary>Number n of rinses.</summary>
    public int Rinses { get; }

    /// <summary>Share of former water in what stays in the emptied chamber after the last rinse, before the fill: (r/(v + r))ⁿ; 1 without a rinse, from 0 to 1.</summary>
    public double ShareBeforeFill => Math.Pow(Residual.Millilitres / (Rinse.Millilitres + Residual.Millilitres), Rinses);

    /// <summary>Share of former water in the water that is measured, after the fill: (r/(v + r))ⁿ · r/(V + r), from 0 to 1.</summary>
    public double ShareAfterFill => ShareBeforeFill * Residual.Millilitres / (Fill.Millilitres + Residual.Millilitres);

    /// <summary>Bias that the former water causes in what is measured after the fill: (former − reference) times the share after the fill.</summary>
    /// <param name="former">Content of the former water; finite, zero for water without the measurand.</param>
    /// <param name="reference">Reference value of the water that is filled in, in the same unit; finite.</param>
    /// <returns>The bias in that unit; above zero where the former water was the stronger one.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite.</exception>
    public double CarryOver(double former, double reference)
    {
        Finite(former, nameof(former));
        Finite(reference, nameof(reference));
        return (former - reference) * ShareAfterFill;
    }

    /// <summary>Least number of rinses that keeps the size of the bias after the fill at or below a limit.</summary>
    /// <remarks>|former − reference| · (r/(v + r))ⁿ · r/(V + r) ≤ limit, solved for n. For a relative limit take 0 and 1 as the two contents.</remarks>
    /// <param name="residual">Volume r that stays behind when the chamber is emptied; zero or above.</param>
    /// <param name="fill">Volume V of the water that is measured; above zero.</param>
    /// <param name="rinse">Volume v of each rinse; above zero.</param>
    /// <param name="former">Content of the former water; finite.</param>
    /// <param name="reference">Reference value of the water that is filled in, in the same unit; finite.</param>
    /// <param name="limit">Greatest size of bias allowed, in that unit; above zero, finite.</param>
    /// <returns>The number of rinses, zero or above.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A volume or value lies outside its limit, or more than a million rinses would be needed.</exception>
    public static int RinsesFor(Volume residual, Volume fill, Volume rinse, double former, double reference, double limit)
    {
        var none = new RinseResidue(residual, fill, rinse, 0);
        if (!(limit > 0) || double.IsInfinity(limit))
            throw new ArgumentOutOfRangeException(nameof(limit), limit, $"The limit is {limit}, but it must be a finite number above 0: no number of rinses takes away every trace.");
        var first = Math.Abs(none.CarryOver(former, reference));
        if (first <= limit)
            return 0;
        var sought = Math.Ceiling(Math.Log(first / limit) / double.LogP1(rinse.Millilitres / residual.Millilitres));
        if (sought > MostRinses)
            throw new ArgumentOutOfRangeException(nameof(rinse), rinse, $"With a rinse of {rinse} against {residual} left behind, more than {MostRinses} rinses would be needed. Take a larger rinse, or empty the chamber better.");
        // the logarithm finds the place; where rounding decides, the form itself does
        double At(int n) => Math.Abs(new RinseResidue(residual, fill, rinse, n).CarryOver(former, reference));
        var n = Math.Max(1, (int)sought - 1);
        while (At(n) > limit)
            n++;
        return n;
    }

    private static void Finite(double value, string name)
    {
        if (!double.IsFinite(value))
            throw new ArgumentOutOfRangeException(name, value, $"The content of the {name} water is {value}, but it must be a finite number.");
    }
}
