namespace Knownwater.Drift;

/// <summary>One check on the alarm chart.</summary>
/// <param name="Check">Its place in the history, from 0.</param>
/// <param name="Day">Its day.</param>
/// <param name="Score">Its forecast error as a normal score.</param>
/// <param name="Average">Moving average up to it, since the start, the last alarm or the last event that starts anew.</param>
/// <param name="Limit">Limit on either side of zero.</param>
public sealed record AlarmPoint(int Check, double Day, double Score, double Average, double Limit)
{
    /// <summary>Whether it raises the alarm.</summary>
    public bool Alarm => Math.Abs(Average) > Limit;
}
