using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Knownwater.Web.Sheet;

/// <summary>Answers of the endpoints: a page made of its model, or the way to the next one.</summary>
internal static class Pages
{
    private const string WhoCookie = "knownwater-who";

    public static IResult Show<TPage>(object model, int status = StatusCodes.Status200OK)
        where TPage : IComponent =>
        new RazorComponentResult<TPage>(new Dictionary<string, object?>(StringComparer.Ordinal) { ["Model"] = model }) { StatusCode = status, PreventStreamingRendering = true };

    /// <summary>The form again, with what was typed and what is wrong with it.</summary>
    public static IResult Again<TPage>(object model)
        where TPage : IComponent => Show<TPage>(model, StatusCodes.Status422UnprocessableEntity);

    public static IResult GoTo(string address) => Results.Redirect(address);

    public static IResult Missing(string what) => Show<MissingPage>(what, StatusCodes.Status404NotFound);

    /// <summary>The initials last given on this device; they go with every act.</summary>
    public static string Who(HttpContext context) => context.Request.Cookies[WhoCookie] is { Length: <= 40 } who ? who : "";

    /// <summary>The initials typed in the form, kept for the next one.</summary>
    public static string Who(HttpContext context, FormState form)
    {
        var who = form["Who"].Trim();
        if (who.Length is 0 or > 40)
            return form["Who"].Trim();
        context.Response.Cookies.Append(WhoCookie, who, new CookieOptions { HttpOnly = true, SameSite = SameSiteMode.Strict, IsEssential = true, MaxAge = TimeSpan.FromDays(365) });
        return who;
    }
}
