using Knownwater.Benchmarks;

return args switch
{
    ["operating-characteristics", .. var rest] => OperatingCharacteristics.Run(rest),
    _ => Usage(),
};

static int Usage()
{
    Console.Error.WriteLine("usage: operating-characteristics [--trials N] [--out FOLDER]");
    return 2;
}
