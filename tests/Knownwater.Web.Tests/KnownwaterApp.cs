using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace Knownwater.Web.Tests;

/// <summary>The web application over its own SQLite file in a temporary folder.</summary>
public sealed class KnownwaterApp : WebApplicationFactory<Program>
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("knownwater-web-");

    protected override void ConfigureWebHost(IWebHostBuilder builder) =>
        builder.UseSetting("records", Path.Combine(folder.FullName, "records.db")).ConfigureServices(services => services.AddSingleton<IStartupFilter>(new ComesFrom("127.0.0.1")));

    /// <summary>A browser without script: follows redirects, keeps cookies.</summary>
    public Reader Open() => new(CreateClient());

    protected override void Dispose(bool disposing)
    {
        base.Dispose(disposing);
        if (disposing && folder.Exists)
        {
            try
            {
                folder.Delete(recursive: true);
            }
            catch (IOException)
            {
                // a pooled connection still holds the file; the folder is a temporary one
            }
        }
    }
}
