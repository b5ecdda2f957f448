using System.CommandLine;
using Knownwater.Web;

namespace Knownwater.Cli;

/// <summary><c>serve</c>: the web application on this machine.</summary>
internal static class ServeVerb
{
    public static Command Create(CommandLine line)
    {
        var urls = new Option<string?>("--urls") { Description = $"Address to serve, on this machine only; {WebEntry.DefaultAddress} unless given." };
        var verb = new Command("serve", "Start the web application and print its address.") { urls };
        verb.SetAction((parsed, cancel) =>
        {
            List<string> args = [];
            if (parsed.GetValue(line.Records) is { } records)
                args.AddRange(["--records", records]);
            if (parsed.GetValue(urls) is { } address)
                args.AddRange(["--urls", address]);
            return WebEntry.Run([.. args], parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error, cancel);
        });
        return verb;
    }
}
