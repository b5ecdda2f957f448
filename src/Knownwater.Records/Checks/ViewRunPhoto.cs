using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>Shows one photo of a run.</summary>
public sealed class ViewRunPhoto(RecordsContext records)
{
    /// <summary>Reads it.</summary>
    /// <param name="check">The check whose run it belongs to.</param>
    /// <param name="photo">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The photo; null where this check has none of that key.</returns>
    public Task<RunPicture?> Handle(Guid check, Guid photo, CancellationToken cancel) => (
        from p in records.RunPhotos.AsNoTracking()
        where p.Id == photo
        join r in records.Runs on p.RunId equals r.Id
        where r.CheckId == check
        join c in records.Checks on r.CheckId equals c.Id
        select new RunPicture(p.ContentType, p.Content)).FirstOrDefaultAsync(cancel);
}

/// <summary>A photo.</summary>
/// <param name="ContentType">Its kind, told by its first bytes.</param>
/// <param name="Content">The picture.</param>
public sealed record RunPicture(string ContentType, ReadOnlyMemory<byte> Content);
