namespace Knownwater.Web.Sheet;

/// <summary>The headers of every answer, pages of failures too: nothing from elsewhere, nothing inline, no frame.</summary>
/// <param name="next">What answers.</param>
internal sealed class PageHeaders(RequestDelegate next)
{
    public const string ContentSecurityPolicy =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

    public Task Invoke(HttpContext context)
    {
        context.Response.OnStarting(() =>
        {
            var headers = context.Response.Headers;
            headers.ContentSecurityPolicy = ContentSecurityPolicy;
            headers.XContentTypeOptions = "nosniff";
            headers.XFrameOptions = "DENY";
            headers["Referrer-Policy"] = "same-origin";
            headers["Cross-Origin-Opener-Policy"] = "same-origin";
            headers["Cross-Origin-Resource-Policy"] = "same-origin";
            headers["Permissions-Policy"] = "camera=(), geolocation=(), microphone=(), payment=(), usb=()";
            headers.Remove("blazor-enhanced-nav");
            return Task.CompletedTask;
        });
        return next(context);
    }
}
