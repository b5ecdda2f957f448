using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;

namespace Knownwater.Web.Tests;

/// <summary>Gives requests of the test's client the far end of a connection, which a client within the process has not.</summary>
/// <param name="address">The address at the far end; null leaves it unknown. A request names another one in the header <c>test-from</c>.</param>
internal sealed class ComesFrom(string? address) : IStartupFilter
{
    public const string Header = "test-from";

    public Action<IApplicationBuilder> Configure(Action<IApplicationBuilder> next) => app =>
    {
        app.Use((HttpContext context, RequestDelegate answer) =>
        {
            var from = context.Request.Headers.TryGetValue(Header, out var named) ? named.ToString() : address;
            context.Connection.RemoteIpAddress = from is { Length: > 0 } ? IPAddress.Parse(from) : null;
            return answer(context);
        });
        next(app);
    };
}
