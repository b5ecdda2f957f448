using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using System.Text.RegularExpressions;

namespace Knownwater.Web.Serve;

/// <summary>How other machines on a private network call this one: its private addresses, and its names.</summary>
/// <param name="Addresses">Private addresses, the likeliest one first.</param>
/// <param name="Names">Host names in small letters; a network may know some, all or none of them.</param>
public sealed partial record MachineNames(IReadOnlyList<IPAddress> Addresses, IReadOnlyList<string> Names)
{
    /// <summary>Address blocks that are not routed on the internet: RFC 1918, link-local RFC 3927, unique local RFC 4193.</summary>
    internal static IReadOnlyList<IPNetwork> PrivateBlocks { get; } =
        [.. new[] { "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "fc00::/7" }.Select(IPNetwork.Parse)];

    /// <summary>Reads them from the system as they are now.</summary>
    /// <returns>Addresses and names; no address where the machine is in no private network.</returns>
    public static MachineNames Read() => new(ReadAddresses(), Of(Dns.GetHostName()));

    /// <summary>Whether an address is of a private network.</summary>
    /// <param name="address">The address.</param>
    /// <returns>Whether it is not routed on the internet; loopback is not meant.</returns>
    public static bool IsPrivate(IPAddress address)
    {
        ArgumentNullException.ThrowIfNull(address);
        return PrivateBlocks.Any(block => block.Contains(address));
    }

    /// <summary>The names that follow from a host name: itself, its first part, and that under <c>.local</c>.</summary>
    /// <param name="host">The host name as the system says it.</param>
    /// <returns>The names; none where it is no name that a certificate may carry.</returns>
    public static IReadOnlyList<string> Of(string host)
    {
        ArgumentNullException.ThrowIfNull(host);
        var name = host.Trim('.').ToLowerInvariant();
        var first = name.Split('.')[0];
        return HostName().IsMatch(name) && first != "localhost" && !IPAddress.TryParse(name, out _) ? [.. new[] { name, first, first + ".local" }.Distinct(StringComparer.Ordinal)] : [];
    }

    private static IReadOnlyList<IPAddress> ReadAddresses()
    {
        try
        {
            var found = from network in NetworkInterface.GetAllNetworkInterfaces()
                        where network.OperationalStatus is OperationalStatus.Up or OperationalStatus.Unknown && network.NetworkInterfaceType != NetworkInterfaceType.Loopback
                        let properties = network.GetIPProperties()
                        let leadsOn = properties.GatewayAddresses.Any(g => !g.Address.Equals(IPAddress.Any) && !g.Address.Equals(IPAddress.IPv6Any))
                        from unicast in properties.UnicastAddresses
                        where IsPrivate(unicast.Address)
                        orderby leadsOn descending, unicast.Address.AddressFamily == AddressFamily.InterNetwork descending, PrivateBlocks[3].Contains(unicast.Address)
                        select unicast.Address;
            return [.. found.Distinct()];
        }
        catch (NetworkInformationException)
        {
            return [];
        }
    }

    [GeneratedRegex(@"^(?=.{1,253}$)[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)*$", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex HostName();
}
