using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>The scatter of a method known before a check: its own history at that level, or what is typical of the parameter.</summary>
internal static class UsualScatter
{
    /// <summary>Degrees of freedom from which the method's own history stands alone.</summary>
    public const double OwnFrom = 8;

    /// <summary>Degrees of freedom given to a typical figure.</summary>
    public const double TypicalDof = 6;

    /// <summary>The standard deviation of the method at that level pooled over its closed checks, or the typical one; null where neither is known.</summary>
    public static async Task<PriorSd?> At(RecordsContext records, Guid? method, Measured measured, Matrix? matrix, double level, Tolerance tolerance, CancellationToken cancel)
    {
        var own = method is { } m ? await Own(records, m, measured, level, tolerance, cancel) : null;
        if (own is { Dof: >= OwnFrom })
            return own;
        return Typical(measured, matrix, level) ?? own;
    }

    /// <summary>The typical standard deviation of a listed parameter in the form of the check; null where none is listed.</summary>
    public static PriorSd? Typical(Measured measured, Matrix? matrix, double level)
    {
        if (measured.Key == Measured.Other || measured.Parameter.TypicalSd(matrix ?? Matrix.Seawater) is not { } typical)
            return null;
        if (Factor(measured) is not { } factor)
            return null;
        var sd = typical.At(level / factor) * factor;
        return sd > 0 ? new PriorSd(sd, TypicalDof, isTypical: true) : null;
    }

    /// <summary>From the parameter's default form to the form of the check; null where that needs the water's salinity.</summary>
    public static double? Factor(Measured measured)
    {
        return measured.FactorFrom(measured.Parameter.DefaultForm);
    }

    private static async Task<PriorSd?> Own(RecordsContext records, Guid method, Measured measured, double level, Tolerance tolerance, CancellationToken cancel)
    {
        var here = tolerance.At(level);
        var form = measured.Form.Text;
        var past = await (
            from c in records.Checks.AsNoTracking()
            where c.MethodId == method && c.State != CheckState.Open && c.Form == form
            join l in records.CheckLevels on c.Id equals l.CheckId
            where l.Sd != null && l.JudgedReplicates > 1 && !l.HasLimits
            join e in records.EstimateRows on l.EstimateId equals e.Id
            select new { Reference = e.Value, Sd = l.Sd!.Value, l.JudgedReplicates }).ToListAsync(cancel);
        double squares = 0, dof = 0;
        foreach (var at in past.Where(p => Math.Abs(p.Reference - level) <= 0.25 * level || (p.Reference <= here && level <= here)))
        {
            squares += at.Sd * at.Sd * (at.JudgedReplicates - 1);
            dof += at.JudgedReplicates - 1;
        }
        return dof > 0 && squares > 0 ? new PriorSd(Math.Sqrt(squares / dof), dof) : null;
    }
}
