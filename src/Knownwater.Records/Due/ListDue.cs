using Knownwater.Checks;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Due;

/// <summary>Lists what needs doing now, each with its reason.</summary>
public sealed class ListDue(RecordsContext records, Clock clock)
{
    /// <summary>Reads what is due.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>What is due, the most urgent first.</returns>
    public Task<DueList> Handle(CancellationToken cancel) => throw new NotImplementedException();
}

/// <summary>What is due.</summary>
/// <param name="Items">Each with its reason, the most urgent first.</param>
/// <param name="TodayWords">“Thursday 3 September 2026”.</param>
/// <param name="Summary">“Four things are due, two of them now.”, or “Nothing is due. …”.</param>
public sealed record DueList(IReadOnlyList<DueItem> Items, string TodayWords, string Summary);

/// <summary>How soon.</summary>
public enum DueWhen
{
    /// <summary>Now.</summary>
    Now = 0,

    /// <summary>Within the next days.</summary>
    Soon = 1,
}

/// <summary>Why it is due.</summary>
public enum DueKind
{
    /// <summary>A check with readings missing.</summary>
    UnfinishedCheck = 0,

    /// <summary>A check that can't tell yet.</summary>
    CannotTell = 1,

    /// <summary>A method that reads high or low.</summary>
    ReadsWrong = 2,

    /// <summary>A method that was never checked.</summary>
    NeverChecked = 3,

    /// <summary>A method whose last check is old.</summary>
    CheckIsOld = 4,

    /// <summary>A lot opened since the last check.</summary>
    NewLot = 5,

    /// <summary>A lot at or past its date.</summary>
    LotExpires = 6,

    /// <summary>A known water at or past its date.</summary>
    WaterPastUse = 7,

    /// <summary>A quick verdict that was not kept yet.</summary>
    NotKept = 8,
}

/// <summary>What to do about it; the page makes a link of it.</summary>
public enum DueAct
{
    /// <summary>Open the check to go on reading.</summary>
    GoOn = 0,

    /// <summary>Open the check.</summary>
    OpenCheck = 1,

    /// <summary>Plan a check on the method.</summary>
    PlanCheck = 2,

    /// <summary>Open the instrument of the lot.</summary>
    OpenInstrument = 3,

    /// <summary>Open the water.</summary>
    OpenWater = 4,

    /// <summary>Keep the check and describe it.</summary>
    Keep = 5,
}

/// <summary>One thing that is due.</summary>
/// <param name="Kind">Why.</param>
/// <param name="When">How soon.</param>
/// <param name="Sentence">What to do or what is so, in a sentence.</param>
/// <param name="Reason">Why, in a sentence.</param>
/// <param name="Act">What the page offers.</param>
/// <param name="ActWords">What the link says.</param>
/// <param name="Check">The check concerned.</param>
/// <param name="Method">The method concerned.</param>
/// <param name="Instrument">The instrument concerned.</param>
/// <param name="Lot">The lot concerned.</param>
/// <param name="Water">The water concerned.</param>
/// <param name="Verdict">The verdict concerned, for its symbol.</param>
public sealed record DueItem(DueKind Kind, DueWhen When, string Sentence, string Reason, DueAct Act, string ActWords, Guid? Check = null, Guid? Method = null, Guid? Instrument = null, Guid? Lot = null, Guid? Water = null, Verdict? Verdict = null);
