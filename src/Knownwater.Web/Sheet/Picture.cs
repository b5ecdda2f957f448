using System.Text;
using Knownwater.Figures;
using SkiaSharp;
using Svg.Skia;
using Svg.Skia.TypefaceProviders;

namespace Knownwater.Web.Sheet;

/// <summary>A figure as a picture to take away: SVG, or PNG at twice its size with the letters of the one font that is shipped.</summary>
internal static class Picture
{
    /// <summary>The figure as a file; nothing where the ending is neither <c>svg</c> nor <c>png</c>.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="title">The line above it, and with it the file's name.</param>
    /// <param name="ending"><c>svg</c> or <c>png</c>.</param>
    public static IResult Of(IFigure figure, string title, string ending)
    {
        var svg = PictureFile.Render(figure.Draw(), figure.Key(), title);
        return ending switch
        {
            "svg" => Results.File(Encoding.UTF8.GetBytes(svg), "image/svg+xml; charset=utf-8", FileName(title) + ".svg"),
            "png" => Results.File(Png(svg), "image/png", FileName(title) + ".png"),
            _ => Results.NotFound(),
        };
    }

    internal static byte[] Png(string svg)
    {
        using var drawn = new SKSvg();
        drawn.Settings.TypefaceProviders!.Clear();
        drawn.Settings.TypefaceProviders.Add(Letters.Shipped);
        if (drawn.FromSvg(svg) is null)
            throw new InvalidOperationException("The picture could not be drawn from its SVG.");
        using var png = new MemoryStream();
        drawn.Save(png, SKColors.White, SKEncodedImageFormat.Png, 100, 2, 2);
        return png.ToArray();
    }

    private static string FileName(string title)
    {
        var name = string.Concat(title.Select(c => char.IsLetterOrDigit(c) ? char.ToLowerInvariant(c) : '-'));
        return string.Join('-', name.Split('-', StringSplitOptions.RemoveEmptyEntries));
    }

    /// <summary>One font for every family, so that a picture has the same letters on any machine.</summary>
    private sealed class Letters : ITypefaceProvider
    {
        public static readonly Letters Shipped = new();

        private readonly SKTypeface _sans = Read();

        public SKTypeface? FromFamilyName(string fontFamily, SKFontStyleWeight fontWeight, SKFontStyleWidth fontWidth, SKFontStyleSlant fontStyle) => _sans;

        private static SKTypeface Read()
        {
            using var stream = typeof(Letters).Assembly.GetManifestResourceStream("fonts/DejaVuSans.ttf")!;
            return SKTypeface.FromStream(stream) ?? throw new InvalidOperationException("The font of the pictures could not be read.");
        }
    }
}
