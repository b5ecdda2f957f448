namespace Knownwater.Preparation;

/// <summary>Counts groups such as NO3 in a formula as it is written.</summary>
internal static class SaltGroups
{
    /// <summary>How often a group stands in a formula, its bracket's count included; the hydrate water is not looked at.</summary>
    public static int Count(string formula, string group)
    {
        var salt = formula.Split('.')[0];
        var sum = 0;
        for (var at = salt.IndexOf(group, StringComparison.Ordinal); at >= 0; at = salt.IndexOf(group, at + 1, StringComparison.Ordinal))
        {
            var end = at + group.Length;
            if (end < salt.Length && char.IsAsciiDigit(salt[end]))
                continue;
            var times = 1;
            if (end < salt.Length && salt[end] == ')')
            {
                var digits = salt[(end + 1)..].TakeWhile(char.IsAsciiDigit).ToArray();
                times = digits.Length > 0 ? int.Parse(digits) : 1;
            }
            sum += times;
        }
        return sum;
    }
}
