using System.Runtime.CompilerServices;

namespace Knownwater.Statistics;

/// <summary>Values by their place in ascending order, without sorting them all (C. A. R. Hoare, Communications of the ACM 4 (1961) 321).</summary>
internal static class Quickselect
{
    /// <summary>The value of a place in ascending order, from zero; no greater ones end up before it, no lesser ones behind it.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static double Place(Span<double> values, int place)
    {
        int from = 0, to = values.Length - 1;
        while (from < to)
        {
            double a = values[from], b = values[from + (to - from) / 2], c = values[to], pivot = Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));
            int i = from, j = to;
            while (i <= j)
            {
                while (values[i] < pivot)
                    i++;
                while (values[j] > pivot)
                    j--;
                if (i <= j)
                {
                    (values[i], values[j]) = (values[j], values[i]);
                    i++;
                    j--;
                }
            }
            if (place <= j)
                to = j;
            else if (place >= i)
                from = i;
            else
                break;
        }
        return values[place];
    }
}
