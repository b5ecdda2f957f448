using Knownwater.Benchmarks;

return args switch
{
    ["operating-characteristics", .. var rest] => OperatingCharacteristics.Run(rest),
    ["levels", .. var rest] => Levels.Run(rest),
    ["digits", .. var rest] => Digits.Run(rest),
    ["intervals", .. var rest] => Intervals.Run(rest),
    ["hand-kits", .. var rest] => HandKits.Run(rest),
    ["same-water", .. var rest] => SameWater.Run(rest),
    ["monte-carlo", .. var rest] => MonteCarloSpeed.Run(rest),
    ["comparison", .. var rest] => MethodComparison.Run(rest),
    ["drift-study", .. var rest] => DriftStudy.Run(rest),
    ["demo-seeds", .. var rest] => DemoSeeds.Run(rest),
    ["comparison-speed", .. var rest] => ComparisonSpeed.Run(rest),
    ["seawater", .. var rest] => SeawaterSpeed.Run(rest),
    ["run-lengths", .. var rest] => RunLengthSpeed.Run(rest),
    ["drift-page", .. var rest] => DriftPageSpeed.Run(rest),
    ["faults", .. var rest] => FaultStudy.Run(rest),
    _ => Usage(),
};

static int Usage()
{
    Console.Error.WriteLine("usage: operating-characteristics|levels|digits|intervals|comparison|hand-kits|same-water|drift-study|demo-seeds [--trials N] [--out FOLDER], faults [--histories N] [--threads N] [--out FOLDER], monte-carlo|comparison-speed|seawater|run-lengths|drift-page [--rounds N] [--out FOLDER]");
    return 2;
}
