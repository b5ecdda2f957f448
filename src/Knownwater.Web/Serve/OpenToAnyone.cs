namespace Knownwater.Web.Serve;

/// <summary>Marks what a machine may have that is not paired: the page for pairing, how to trust, and what they are made of. All else is refused to it.</summary>
/// <param name="OverHttpToo">Whether it is also answered over http where phones use https.</param>
internal sealed record OpenToAnyone(bool OverHttpToo = true);
