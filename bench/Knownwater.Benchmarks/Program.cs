using Knownwater.Benchmarks;

return args switch
{
    ["operating-characteristics", .. var rest] => OperatingCharacteristics.Run(rest),
    ["levels", .. var rest] => Levels.Run(rest),
    ["digits", .. var rest] => Digits.Run(rest),
    ["intervals", .. var rest] => Intervals.Run(rest),
    ["monte-carlo", .. var rest] => MonteCarloSpeed.Run(rest),
    _ => Usage(),
};

static int Usage()
{
    Console.Error.WriteLine("usage: operating-characteristics|levels|digits|intervals [--trials N] [--out FOLDER], monte-carlo [--rounds N] [--out FOLDER]");
    return 2;
}
