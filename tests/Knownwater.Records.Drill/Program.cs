using Knownwater.Records.Drill;
using Knownwater.Records.Storage;

var store = await RecordsStore.Open(args[0]);
await DrillPath.Walk(store, step =>
{
    Console.Out.WriteLine($"done {step}");
    Console.Out.Flush();
});
// Wait for the kill: the process never ends by itself while somebody listens.
await Console.In.ReadToEndAsync();
