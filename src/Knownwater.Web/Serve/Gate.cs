using System.Net;
using Knownwater.Records.Benches;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Serve;

/// <summary>
/// Lets in this machine itself and paired devices. Everyone else gets what is marked as open to anyone, and for all other addresses the
/// page for pairing, or a bare refusal where no page was asked for.
/// </summary>
/// <remarks>
/// Who asks is judged by the address at the other end of the connection. What a request says about its origin (Forwarded, X-Forwarded-For)
/// is not looked at. A page of another site cannot use the trust in this machine: requests under a foreign host name are refused before,
/// and the names by which the network knows this machine, which a stranger in it can turn to loopback, are not trusted from there.
/// </remarks>
/// <param name="next">What answers.</param>
/// <param name="door">Where other machines reach this one.</param>
internal sealed class Gate(RequestDelegate next, LanDoor door)
{
    private const string Cookie = "knownwater-phone", SecureCookie = "__Host-knownwater-phone";

    public async Task Invoke(HttpContext context)
    {
        if (IsThisMachine(context))
        {
            await next(context);
            return;
        }

        var open = context.GetEndpoint()?.Metadata.GetMetadata<OpenToAnyone>();
        if (door.IsSecured && !context.Request.IsHttps)
        {
            if (open is { OverHttpToo: true })
                await next(context);
            else
                await Refuse(context, Pages.Show<TrustPage>(TrustPage.Content.Before(door, context), StatusCodes.Status401Unauthorized), "Over plain http nothing is answered here. Trust the machine's certificate, and use https.");
        }
        else if (open is not null || await IsPaired(context))
        {
            await next(context);
        }
        else
        {
            await Refuse(context, Pages.Show<PairPage>(new PairPage.Content(new FormState { ["To"] = HttpMethods.IsGet(context.Request.Method) ? context.Request.Path + context.Request.QueryString : "" }, door.IsOpen, context.Request.IsHttps), StatusCodes.Status401Unauthorized), "This device is not paired with this bench.");
        }
    }

    /// <summary>Whether the request comes from the machine that answers it, and asks for it by a name that no network decides on.</summary>
    public static bool IsThisMachine(HttpContext context) =>
        context.Connection.RemoteIpAddress is { } address && IPAddress.IsLoopback(address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address)
        && context.Request.Host.Host is "localhost" or "127.0.0.1" or "[::1]";

    /// <summary>Whether the request comes from a paired device.</summary>
    public static async Task<bool> IsPaired(HttpContext context)
    {
        var secure = context.Request.IsHttps;
        var pass = context.Request.Cookies[secure ? SecureCookie : Cookie];
        return pass is not null && await context.RequestServices.GetRequiredService<RecogniseDevice>().Handle(pass, secure, context.RequestAborted) is not null;
    }

    /// <summary>Gives the device its pass. Over https it carries a name that no page over http can overwrite.</summary>
    public static void Give(HttpContext context, string pass)
    {
        var secure = context.Request.IsHttps;
        context.Response.Cookies.Append(secure ? SecureCookie : Cookie, pass, new CookieOptions
        {
            HttpOnly = true, SameSite = SameSiteMode.Strict, Secure = secure, IsEssential = true, Path = "/", MaxAge = TimeSpan.FromDays(365),
        });
    }

    private static async Task Refuse(HttpContext context, IResult page, string sentence)
    {
        context.Response.Headers.CacheControl = "no-store";
        context.Response.Headers.WWWAuthenticate = "Pairing realm=\"Knownwater\"";
        var asksForPage = context.Request.Headers.Accept.Any(a => a?.Contains("text/html", StringComparison.OrdinalIgnoreCase) == true);
        await (asksForPage ? page : Results.Json(new Dictionary<string, string>(StringComparer.Ordinal) { ["refused"] = sentence }, statusCode: StatusCodes.Status401Unauthorized)).ExecuteAsync(context);
    }
}
