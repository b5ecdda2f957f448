using System.Diagnostics;
using System.Net;
using Knownwater.Web.Serve;

namespace Knownwater.Web.Tests.Serve;

/// <summary>A private address of this machine that is not loopback, so that connections to it come from outside in the eyes of the program.</summary>
internal static class LanAddress
{
    private static readonly Lazy<IPAddress> Found = new(() =>
    {
        if (MachineNames.Read().Addresses is [var own, ..])
            return own;
        // a machine in no private network gets a stub of one, where it may
        foreach (var command in new[] { "link add knownwater0 type dummy", "address add 10.177.77.1/32 dev knownwater0", "link set knownwater0 up" })
        {
            using var ip = Process.Start(new ProcessStartInfo("ip", command) { RedirectStandardError = true, UseShellExecute = false });
            ip!.WaitForExit();
        }

        return MachineNames.Read().Addresses is [var made, ..] ? made : throw new InvalidOperationException("The tests of serve --lan need an address in a private network. Give this machine one: ip address add 10.177.77.1/32 dev lo0, say.");
    });

    public static IPAddress Any => Found.Value;
}
