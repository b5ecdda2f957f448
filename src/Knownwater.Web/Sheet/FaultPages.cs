using Microsoft.AspNetCore.Diagnostics;

namespace Knownwater.Web.Sheet;

/// <summary>What stands where no page can: nothing there, a form that is too old, a failure.</summary>
internal static class FaultPages
{
    public static Task NotFound(HttpContext context) =>
        Pages.Missing("There is no page at this address.").ExecuteAsync(context);

    public static async Task Refused(StatusCodeContext answer)
    {
        var context = answer.HttpContext;
        if (context.Request.Path.StartsWithSegments("/assets", StringComparison.Ordinal))
            return;
        var status = context.Response.StatusCode;
        var page = status switch
        {
            StatusCodes.Status400BadRequest => new FaultPage.Content("This form was open for too long, or it came from elsewhere.", "Nothing was written. Go back, load the page again, and send it once more."),
            StatusCodes.Status404NotFound => null,
            StatusCodes.Status405MethodNotAllowed => new FaultPage.Content("This address takes forms only.", "Open the page that has the form."),
            StatusCodes.Status413PayloadTooLarge => new FaultPage.Content("That was too much to send at once.", "Nothing was written. Send less."),
            StatusCodes.Status429TooManyRequests => new FaultPage.Content("That was tried too often.", "Nothing was written. Wait a minute, then go back and try again."),
            _ => new FaultPage.Content("That could not be answered.", "Nothing was written."),
        };
        if (page is null)
            await NotFound(context);
        else
            await Pages.Show<FaultPage>(page, status).ExecuteAsync(context);
    }

    public static Task Failed(HttpContext context)
    {
        var page = new FaultPage.Content("Something in the program failed.", "What was acknowledged before is kept. Go back and try once more; if it fails again, the program's window says why.");
        return Pages.Show<FaultPage>(page, StatusCodes.Status500InternalServerError).ExecuteAsync(context);
    }
}
