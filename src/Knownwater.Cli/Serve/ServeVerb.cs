using System.CommandLine;
using Knownwater.Web;

namespace Knownwater.Cli.Serve;

/// <summary><c>serve</c>: the web application on this machine, and for paired phones beside it.</summary>
internal static class ServeVerb
{
    public static Command Create(CommandLine line)
    {
        var urls = new Option<string?>("--urls") { Description = $"Address to serve, on this machine only; {WebEntry.DefaultAddress} unless given. With --lan, the private addresses to be reached at." };
        var lan = new Option<bool>("--lan") { Description = "Let phones in from the private network too, each paired once by a code; https where “knownwater certificate” was run." };
        var verb = new Command("serve", "Start the web application and print its address.") { urls, lan };
        verb.SetAction((parsed, cancel) =>
        {
            List<string> args = [];
            if (parsed.GetValue(line.Records) is { } records)
                args.AddRange(["--records", records]);
            if (parsed.GetValue(lan))
                args.AddRange(["--lan", "true"]);
            if (parsed.GetValue(urls) is { } address)
                args.AddRange([parsed.GetValue(lan) ? "--at" : "--urls", address]);
            return WebEntry.Run([.. args], parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error, line.ShowsProgress && !Console.IsInputRedirected ? Console.In : null, cancel);
        });
        return verb;
    }
}
