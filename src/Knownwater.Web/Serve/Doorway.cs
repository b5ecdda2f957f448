namespace Knownwater.Web.Serve;

/// <summary>What the window of the program says to someone with a phone in the hand.</summary>
internal static class Doorway
{
    /// <summary>Prints addresses, a code and its square code; and a fresh code for every line of the input.</summary>
    public static async Task Show(LanDoor door, PairingCodes codes, TextWriter output, TextReader? input, CancellationToken stopping)
    {
        var coloured = ReferenceEquals(output, Console.Out) && !Console.IsOutputRedirected;
        await output.WriteLineAsync("\nA phone in the same network opens one of these addresses (the numbers always work, a name where the network knows it):");
        foreach (var address in door.Bases(door.IsSecured))
            await output.WriteLineAsync($"  {address}");
        if (door.Authority is { } authority)
        {
            await output.WriteLineAsync($"The first time, it opens {door.Bases(secure: false)[0]}/trust and is told to trust this machine.");
            await output.WriteLineAsync($"The fingerprint to compare there: {authority.Fingerprint}");
        }
        else
        {
            await output.WriteLineAsync("This is plain http; knownwater certificate makes https possible. Both are explained under /trust.");
        }

        await Code(door, codes, output, coloured);
        if (input is null)
        {
            await output.WriteLineAsync($"A new code: {Own(door)}/bench/phones, on this machine.");
            return;
        }

        await output.WriteLineAsync("A new code: press Enter here.");
        _ = Task.Run(async () =>
        {
            // a console cannot be asked to stop waiting: the thread ends with the program
            while (!stopping.IsCancellationRequested && await input.ReadLineAsync(CancellationToken.None) is not null && !stopping.IsCancellationRequested)
                await Code(door, codes, output, coloured);
        }, CancellationToken.None);
    }

    private static async Task Code(LanDoor door, PairingCodes codes, TextWriter output, bool coloured)
    {
        var code = codes.Make(onThisMachine: true)!.Code;
        foreach (var line in TerminalCode.Lines(door.Inviting(code), coloured))
            await output.WriteLineAsync(line);
        await output.WriteLineAsync($"Code: {PairingCodes.Grouped(code)}   It lets one phone in, within {PairingCodes.Life.TotalMinutes:0} minutes.");
    }

    private static string Own(LanDoor door) => $"http://127.0.0.1:{door.Port}";
}
