using System.Globalization;

namespace Knownwater.Web.Checks;

/// <summary>Ordinal numbers in words.</summary>
internal static class Ordinals
{
    public static string Word(int n) => n switch
    {
        1 => "first", 2 => "second", 3 => "third", 4 => "fourth", 5 => "fifth", 6 => "sixth", 7 => "seventh", 8 => "eighth", 9 => "ninth", 10 => "tenth",
        _ => n.ToString(CultureInfo.InvariantCulture) + "th",
    };
}
