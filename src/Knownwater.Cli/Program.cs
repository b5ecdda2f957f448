using Knownwater.Cli;

return await new CommandLine(Console.Out, Console.Error).Run(args);
