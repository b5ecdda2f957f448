using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Knownwater.Records.Storage;
using Knownwater.Web.Serve;

namespace Knownwater.Cli.Serve;

/// <summary><c>certificate</c>: a local authority, so that phones beside this machine can use https.</summary>
internal static class CertificateVerb
{
    public static Command Create(CommandLine line)
    {
        var verb = new Command("certificate", "Make a local authority and a certificate, so that phones reach this machine over https; renew what has run out.");
        verb.SetAction((parsed, _) =>
        {
            var folder = LocalAuthority.FolderIn(RecordsStore.FolderBeside(parsed.GetValue(line.Records)));
            var (machine, now) = (MachineNames.Read(), TimeProvider.System.GetUtcNow());
            using var kept = LocalAuthority.Open(folder);
            var fresh = kept?.IsGood(now) != true;
            using var authority = fresh ? LocalAuthority.Make(folder, machine, now) : kept!;
            var server = authority.Server(machine, now);
            using var certificate = server.Certificate;
            var json = new JsonObject
            {
                ["folder"] = folder,
                ["authority"] = new JsonObject
                {
                    ["name"] = authority.Name,
                    ["made_now"] = fresh,
                    ["file"] = authority.PublicPath,
                    ["sha256"] = authority.Fingerprint,
                    ["not_before"] = At(authority.NotBefore),
                    ["not_after"] = At(authority.NotAfter),
                },
                ["server"] = new JsonObject
                {
                    ["made_now"] = server.IsFresh,
                    ["names"] = new JsonArray([.. server.Names.Select(n => (JsonNode?)n)]),
                    ["addresses"] = new JsonArray([.. server.Addresses.Select(a => (JsonNode?)a)]),
                    ["not_after"] = At(new DateTimeOffset(certificate.NotAfter)),
                },
            };
            return Task.FromResult(line.Answer(parsed, json, text => Tell(text, folder, authority, server, fresh, replaced: kept is not null)));
        });
        return verb;
    }

    private static void Tell(TextWriter text, string folder, LocalAuthority authority, ServerCertificate server, bool fresh, bool replaced)
    {
        text.WriteLine(fresh
            ? $"An authority was made: “{authority.Name}”, good until {Day(authority.NotAfter)}.{(replaced ? " The one before had run out: every phone must trust this one anew." : "")}"
            : $"The authority “{authority.Name}” is good until {Day(authority.NotAfter)}.");
        text.WriteLine($"The certificate {(server.IsFresh ? "was made" : "still fits")}, for {(server.Names.Count + server.Addresses.Count > 0 ? string.Join(", ", server.Names.Concat(server.Addresses)) : "no address yet, as this machine is in no private network now")}. It is good until {Day(new DateTimeOffset(server.Certificate.NotAfter))} and renewed by itself.");
        text.WriteLine($"Fingerprint of the authority (SHA-256): {authority.Fingerprint}");
        text.WriteLine();
        text.WriteLine("Next:");
        text.WriteLine("  1. Start it: knownwater serve --lan");
        text.WriteLine("  2. On the phone, open the address with /trust that it prints. The page says how to trust this machine.");
        text.WriteLine("  3. Compare the fingerprint there with the one above, then pair the phone by the code.");
        text.WriteLine($"The keys lie in {folder}. Leave them there: they are for this machine alone. Only {authority.PublicPath} may be given away.");
    }

    private static string Day(DateTimeOffset at) => at.UtcDateTime.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);

    private static string At(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
}
