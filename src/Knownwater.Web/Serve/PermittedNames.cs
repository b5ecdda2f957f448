using System.Formats.Asn1;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;

namespace Knownwater.Web.Serve;

/// <summary>The names for which an authority may vouch, as its certificate states them.</summary>
/// <remarks>
/// Name constraints of RFC 5280, 4.2.1.10: permitted subtrees of host names and of addresses. Systems that heed them trust the
/// authority for nothing else, so that its stolen key could not forge a bank's page. Not every system heeds them in an authority that
/// its owner installed.
/// </remarks>
internal sealed class PermittedNames
{
    private const string Identifier = "2.5.29.30";
    private static readonly Asn1Tag Permitted = new(TagClass.ContextSpecific, 0, isConstructed: true), HostTag = new(TagClass.ContextSpecific, 2), AddressTag = new(TagClass.ContextSpecific, 7);

    private readonly List<string> _hosts;
    private readonly List<IPNetwork> _blocks;

    private PermittedNames(List<string> hosts, List<IPNetwork> blocks) => (_hosts, _blocks) = (hosts, blocks);

    /// <summary>Private addresses, names under .local and .home.arpa, and the names of this machine.</summary>
    public static PermittedNames Of(MachineNames machine) =>
        new(["local", "home.arpa", .. machine.Names.Where(n => !n.EndsWith(".local", StringComparison.Ordinal))], [.. MachineNames.PrivateBlocks]);

    /// <summary>What an authority's certificate states; nothing is permitted where it states nothing.</summary>
    public static PermittedNames Of(X509Certificate2 authority)
    {
        List<string> hosts = [];
        List<IPNetwork> blocks = [];
        if (authority.Extensions.FirstOrDefault(e => e.Oid?.Value == Identifier) is { } extension)
        {
            var subtrees = new AsnReader(extension.RawData, AsnEncodingRules.DER).ReadSequence().ReadSequence(Permitted);
            while (subtrees.HasData)
            {
                var subtree = subtrees.ReadSequence();
                if (subtree.PeekTag() == HostTag)
                {
                    hosts.Add(subtree.ReadCharacterString(UniversalTagNumber.IA5String, HostTag));
                }
                else
                {
                    var block = subtree.ReadOctetString(AddressTag);
                    var half = block.Length / 2;
                    blocks.Add(new IPNetwork(new IPAddress(block.AsSpan(0, half)), block.Skip(half).Sum(b => int.PopCount(b))));
                }
            }
        }

        return new PermittedNames(hosts, blocks);
    }

    public bool Permits(string host) => _hosts.Exists(h => host == h || host.EndsWith("." + h, StringComparison.Ordinal));

    public bool Permits(IPAddress address) => _blocks.Exists(b => b.Contains(address));

    public X509Extension ToExtension()
    {
        var writer = new AsnWriter(AsnEncodingRules.DER);
        using (writer.PushSequence())
        using (writer.PushSequence(Permitted))
        {
            foreach (var host in _hosts)
            {
                using (writer.PushSequence())
                    writer.WriteCharacterString(UniversalTagNumber.IA5String, host, HostTag);
            }

            foreach (var block in _blocks)
            {
                using (writer.PushSequence())
                    writer.WriteOctetString([.. block.BaseAddress.GetAddressBytes(), .. Mask(block)], AddressTag);
            }
        }

        return new X509Extension(Identifier, writer.Encode(), critical: true);
    }

    private static byte[] Mask(IPNetwork block)
    {
        var mask = new byte[block.BaseAddress.AddressFamily == AddressFamily.InterNetwork ? 4 : 16];
        for (var bit = 0; bit < block.PrefixLength; bit++)
            mask[bit / 8] |= (byte)(0x80 >> (bit % 8));
        return mask;
    }
}
