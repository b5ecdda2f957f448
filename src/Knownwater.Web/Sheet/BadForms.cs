namespace Knownwater.Web.Sheet;

/// <summary>A form that cannot be read, or without its token, is a slip of the sender and no failure of the program: a status, no log entry.</summary>
/// <param name="next">What answers.</param>
internal sealed class BadForms(RequestDelegate next)
{
    public async Task Invoke(HttpContext context)
    {
        try
        {
            await next(context);
        }
        catch (BadHttpRequestException fault) when (!context.Response.HasStarted)
        {
            context.Response.Clear();
            context.Response.StatusCode = fault.StatusCode;
        }
    }
}
