using System.Collections.Frozen;
using System.Security.Cryptography;
using Knownwater.Web.Serve;
using Microsoft.Net.Http.Headers;

namespace Knownwater.Web.Sheet;

/// <summary>The style sheet, the small modules and the icon: held in the assembly, so that every entry serves the same ones.</summary>
internal static class AssetFiles
{
    private static readonly FrozenDictionary<string, Asset> All = Read();

    /// <summary>The address of an asset with the digest of its content, so that a new one is fetched and an old one kept.</summary>
    public static string Address(string name) => $"/assets/{name}?v={All[name].Digest}";

    /// <summary>The bytes of an asset that is served at an address of its own.</summary>
    public static byte[] Content(string name) => All[name].Content;

    public static void MapAssets(this IEndpointRouteBuilder app)
    {
        app.MapGet("/assets/{name}", (string name, HttpContext context) =>
        {
            if (!All.TryGetValue(name, out var asset))
                return Results.NotFound();
            context.Response.Headers.CacheControl = "public, max-age=31536000, immutable";
            return Results.Bytes(asset.Content, asset.ContentType, entityTag: new EntityTagHeaderValue($"\"{asset.Digest}\""));
        }).WithMetadata(new OpenToAnyone());
        app.MapGet("/favicon.ico", () => Results.Redirect(Address("mark.svg"))).WithMetadata(new OpenToAnyone());
    }

    private static FrozenDictionary<string, Asset> Read()
    {
        var assembly = typeof(AssetFiles).Assembly;
        var assets = new Dictionary<string, Asset>(StringComparer.Ordinal);
        foreach (var name in assembly.GetManifestResourceNames().Where(n => !n.Contains('/', StringComparison.Ordinal)))
        {
            using var stream = assembly.GetManifestResourceStream(name)!;
            var content = new byte[stream.Length];
            stream.ReadExactly(content);
            var type = Path.GetExtension(name) switch
            {
                ".css" => "text/css; charset=utf-8",
                ".js" => "text/javascript; charset=utf-8",
                ".svg" => "image/svg+xml",
                _ => "application/octet-stream",
            };
            assets[name] = new Asset(content, type, Convert.ToHexStringLower(SHA256.HashData(content))[..12]);
        }

        return assets.ToFrozenDictionary(StringComparer.Ordinal);
    }

    private sealed record Asset(byte[] Content, string ContentType, string Digest);
}
