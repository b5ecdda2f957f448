using Knownwater.Records;
using Knownwater.Records.Benches;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Serve;

/// <summary>Pairing a phone, trusting this machine, and the list of phones.</summary>
internal static class PairEndpoints
{
    public const string Limited = "pairing";

    /// <summary>Posts of the form for pairing that are looked at in a minute, from everywhere together.</summary>
    public const int TriesAMinute = 10;

    public static void MapPairing(this IEndpointRouteBuilder app)
    {
        app.MapGet("/pair", async (string? code, HttpContext context, LanDoor door) =>
            Gate.IsThisMachine(context) ? Pages.GoTo("/bench/phones")
            : await Gate.IsPaired(context) ? Pages.GoTo("/")
            : Pages.Show<PairPage>(new PairPage.Content(new FormState { ["Code"] = PairingCodes.Grouped(code ?? "") }, door.IsOpen, context.Request.IsHttps))).WithMetadata(new OpenToAnyone(OverHttpToo: false));

        app.MapPost("/pair", async (IFormCollection posted, HttpContext context, LanDoor door, PairingCodes codes, PairDevice pair, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            form.Faults = PairDevice.FaultsOf(form["Name"]);
            if (form.Faults.Count == 0 && Wrong(codes.Try(form["Code"]), form["Code"], codes) is { } sentence)
                form.Faults = [new FieldFault("Code", sentence)];
            if (form.Faults.Count > 0)
                return Pages.Again<PairPage>(new PairPage.Content(form, door.IsOpen, context.Request.IsHttps));
            var outcome = await pair.Handle(new PairDevice.Command { Name = form["Name"], OverHttps = context.Request.IsHttps, Who = Pages.Who(context) }, cancel);
            Gate.Give(context, ((PairDevice.Outcome.Paired)outcome).Pass);
            return Pages.GoTo(Within(form["To"]));
        }).WithMetadata(new OpenToAnyone(OverHttpToo: false)).RequireRateLimiting(Limited);

        app.MapGet("/trust", (HttpContext context, LanDoor door) => Pages.Show<TrustPage>(TrustPage.Content.Asked(door, context))).WithMetadata(new OpenToAnyone());

        app.MapGet("/trust/knownwater.crt", (LanDoor door) =>
            door.Authority is { } authority ? Results.Bytes(authority.PublicCertificate.ToArray(), "application/x-x509-ca-cert")
            : Pages.Show<TrustPage>(TrustPage.Content.None(door), StatusCodes.Status404NotFound)).WithMetadata(new OpenToAnyone());

        app.MapGet("/bench/phones", async (Guid? done, HttpContext context, LanDoor door, PairingCodes codes, ListDevices list, CancellationToken cancel) =>
            Pages.Show<PhonesPage>(Phones(await list.Handle(cancel), context, door, codes, done, new FormState())));

        app.MapPost("/bench/phones/code", async (IFormCollection posted, HttpContext context, LanDoor door, PairingCodes codes, ListDevices list, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            if (!door.IsOpen)
                form.Faults = [new FieldFault("", "No phone reaches this machine now: it was started for itself alone. Stop it and start it with knownwater serve --lan.")];
            else if (codes.Make(Gate.IsThisMachine(context)) is null)
                form.Faults = [new FieldFault("", "The last code was tried wrongly five times. Make the next one on the machine itself.")];
            else
                return Pages.GoTo("/bench/phones");
            return Pages.Again<PhonesPage>(Phones(await list.Handle(cancel), context, door, codes, null, form));
        });

        app.MapPost("/bench/phones/{id:guid}/remove", async (Guid id, IFormCollection posted, HttpContext context, RemoveDevice remove, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            return await remove.Handle(new RemoveDevice.Command { Device = id, Who = Pages.Who(context), RequestId = form.RequestId }, cancel) is RemoveDevice.Outcome.Removed removed
                ? Pages.GoTo($"/bench/phones?done={removed.HistoryEntry}")
                : Pages.Missing("This phone is not paired any more.");
        });
    }

    private static PhonesPage.Content Phones(IReadOnlyList<DeviceView> devices, HttpContext context, LanDoor door, PairingCodes codes, Guid? done, FormState form) => new(
        devices,
        door.IsOpen ? new PhonesPage.Reached(door.Bases(door.IsSecured), door.IsSecured, $"{door.Bases(secure: false)[0]}/trust") : null,
        codes.Current is { } code ? new PhonesPage.OpenCode(PairingCodes.Grouped(code.Code), door.Inviting(code.Code), code.Minutes) : null,
        codes.WasGuessedAt, Gate.IsThisMachine(context), done, form);

    /// <summary>What to say to a code that does not let in; null for the right one.</summary>
    private static string? Wrong(Tried tried, string typed, PairingCodes codes) => tried switch
    {
        Tried.Right => null,
        Tried.NoCode when typed.Trim().Length == 0 => "The code is missing. It stands in the window of the program, on the machine itself.",
        Tried.NoCode => $"“{typed.Trim()}” is no code: a code has eight letters and digits, and none of 0 O 1 I L 2 Z 5 S 8 B V.",
        Tried.Wrong => $"That is not the code. It takes {Tries(codes.Current?.TriesLeft ?? 0)} more.",
        Tried.Died => "That is not the code, and it was the fifth wrong one: the code is good no more. Make a new one on the machine itself.",
        _ => "No code is good now: each one serves one phone, for ten minutes. Make a new one on the machine itself.",
    };

    private static string Tries(int left) => left == 1 ? "one try" : $"{left} tries";

    /// <summary>A page of this program; the first page for anything else.</summary>
    private static string Within(string address) =>
        address.Length is > 1 and < 500 && address[0] == '/' && address[1] is not ('/' or '\\') && !address.Any(char.IsControl) && address != "/pair" && !address.StartsWith("/pair?", StringComparison.Ordinal) ? address : "/";
}
