using Knownwater.Records.Drill;
using Knownwater.Records.Storage;

// Arguments: stores, each with the step behind which it waits, as in 3=file.db. When all wait, the word "waiting" is said; after a line
// of input all go on at once, to their ends.
var goOn = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
void Say(string line)
{
    lock (goOn)
    {
        Console.Out.WriteLine(line);
        Console.Out.Flush();
    }
}

var walks = new List<Task>();
foreach (var (argument, index) in args.Select((a, i) => (a, i)))
{
    var parts = argument.Split('=', 2);
    var (until, where) = (int.Parse(parts[0], System.Globalization.CultureInfo.InvariantCulture), parts[1]);
    var arrived = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
    walks.Add(Task.Run(async () =>
    {
        try
        {
            await DrillPath.Walk(await RecordsStore.Open(where), async step =>
            {
                Say($"done {index} {step}");
                if (step != until)
                    return;
                arrived.SetResult();
                await goOn.Task;
            });
        }
        catch (Exception fault)
        {
            Say($"failed {index} {fault.Message}");
            arrived.TrySetResult();
        }
    }));
    await arrived.Task;
}
Say("waiting");
await Console.In.ReadLineAsync();
goOn.SetResult();
await Task.WhenAll(walks);
Say("finished");
await Console.In.ReadToEndAsync();
