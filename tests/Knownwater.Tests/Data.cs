namespace Knownwater.Tests;

/// <summary>Published values beside the tests.</summary>
internal static class Data
{
    public static string Path(string name) => System.IO.Path.Combine(AppContext.BaseDirectory, "data", name.Replace('/', System.IO.Path.DirectorySeparatorChar));
}
