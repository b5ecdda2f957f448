using System.Net;
using System.Net.Sockets;

namespace Knownwater.Web.Serve;

/// <summary>Where other machines reach this one; shut unless it was asked for.</summary>
internal sealed class LanDoor
{
    private const int PortsTried = 20;

    /// <summary>Served to this machine alone.</summary>
    public static readonly LanDoor Shut = new([], [], 0, 0, null);

    private LanDoor(IReadOnlyList<IPAddress> addresses, IReadOnlyList<string> names, int port, int securePort, LocalAuthority? authority) =>
        (Addresses, Names, Port, SecurePort, Authority) = (addresses, names, port, securePort, authority);

    /// <summary>The addresses that are listened on, beside loopback.</summary>
    public IReadOnlyList<IPAddress> Addresses { get; }

    /// <summary>The names by which the network may know the machine.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <summary>Port of http.</summary>
    public int Port { get; }

    /// <summary>Port of https; zero without.</summary>
    public int SecurePort { get; }

    /// <summary>Who vouches for https; null without.</summary>
    public LocalAuthority? Authority { get; }

    public bool IsOpen => Addresses.Count > 0;

    /// <summary>Whether phones use https; then http tells how to trust it, and nothing else.</summary>
    public bool IsSecured => Authority is not null;

    /// <summary>The address to begin at.</summary>
    public string First => Bases(IsSecured)[0];

    /// <summary>The address that brings a code with it, for a square code.</summary>
    public string Inviting(string code) => $"{First}/pair?code={code}";

    /// <summary>Opens it on the private addresses of the machine, or on those of them that were asked for.</summary>
    /// <param name="asked">Addresses with their port, divided by semicolons; null for all private ones and a free port.</param>
    /// <param name="machine">The machine.</param>
    /// <param name="authority">Who vouches for https; null for http alone.</param>
    /// <exception cref="FormatException">An address is none of the machine's private ones, or there is none.</exception>
    public static LanDoor Open(string? asked, MachineNames machine, LocalAuthority? authority)
    {
        if (machine.Addresses.Count == 0)
            throw new FormatException("This machine has no address in a private network now. Join the network that the phone is in and try again, or serve this machine alone: knownwater serve.");
        var (addresses, port) = string.IsNullOrWhiteSpace(asked) ? (machine.Addresses, WebEntry.DefaultPort) : Asked(asked, machine);
        IReadOnlyList<IPAddress> all = [IPAddress.Loopback, .. addresses];
        var free = string.IsNullOrWhiteSpace(asked) || port == 0 ? FreePort(all, port) : port;
        return new LanDoor(addresses, machine.Names, free, authority is null ? 0 : FreePort(addresses, port == 0 ? 0 : free + 1), authority);
    }

    /// <summary>Everything that one can type, numbers first.</summary>
    /// <param name="secure">Whether for https.</param>
    public IReadOnlyList<string> Bases(bool secure) =>
        [.. Addresses.Select(Host).Concat(Names).Select(host => $"{(secure ? "https" : "http")}://{host}:{(secure ? SecurePort : Port)}")];

    /// <summary>Hosts that a request may name.</summary>
    public IReadOnlyList<string> Hosts => [.. Addresses.Select(Host), .. Names];

    /// <summary>The same place over https.</summary>
    public string Secured(HostString host, string pathAndQuery) => $"https://{(host.Host.Length > 0 ? host.Host : Host(Addresses[0]))}:{SecurePort}{pathAndQuery}";

    private static string Host(IPAddress address) => address.AddressFamily == AddressFamily.InterNetworkV6 ? $"[{address}]" : address.ToString();

    private static (IReadOnlyList<IPAddress> Addresses, int Port) Asked(string asked, MachineNames machine)
    {
        List<IPAddress> addresses = [];
        int? port = null;
        foreach (var text in asked.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (!Uri.TryCreate(text, UriKind.Absolute, out var uri) || uri.Scheme != Uri.UriSchemeHttp)
                throw new FormatException($"“{text}” is not an address that can be served. Write it as http://{Host(machine.Addresses[0])}:{WebEntry.DefaultPort}; https is added by itself once knownwater certificate was run.");
            if (port is { } other && other != uri.Port)
                throw new FormatException($"{asked} names the ports {other} and {uri.Port}. Serve all addresses on one.");
            port = uri.Port;
            if (uri.IsLoopback)
                continue; // served in any case
            if (!IPAddress.TryParse(uri.Host.Trim('[', ']'), out var address) || !machine.Addresses.Contains(address))
                throw new FormatException($"{text} is none of this machine's private addresses. It has {string.Join(", ", machine.Addresses.Select(Host))}.");
            addresses.Add(address);
        }

        return (addresses.Count > 0 ? [.. addresses.Distinct()] : machine.Addresses, port!.Value);
    }

    /// <summary>The first port from one on that is free on every address; any free one where that is zero.</summary>
    private static int FreePort(IReadOnlyList<IPAddress> addresses, int from)
    {
        for (var tried = 0; tried < PortsTried; tried++)
        {
            List<TcpListener> listeners = [];
            try
            {
                var port = from == 0 ? 0 : from + tried;
                foreach (var address in addresses)
                {
                    var listener = new TcpListener(address, port);
                    listeners.Add(listener);
                    listener.Start();
                    port = ((IPEndPoint)listener.LocalEndpoint).Port;
                }

                return port;
            }
            catch (SocketException)
            {
                // taken on one of them: the next one
            }
            finally
            {
                listeners.ForEach(l => l.Dispose());
            }
        }

        throw new IOException($"The ports {from} to {from + PortsTried - 1} are all in use. Stop what uses them, or name another one: --urls http://127.0.0.1:PORT.");
    }
}
