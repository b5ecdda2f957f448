namespace Knownwater.Records.Instruments;

/// <summary>When a step of a procedure applies.</summary>
public enum ProcedureWhen
{
    /// <summary>Once, before the first replicate.</summary>
    Start = 0,

    /// <summary>In the first replicate of each level, where the water changes.</summary>
    FirstReplicate = 1,

    /// <summary>In each replicate.</summary>
    EachReplicate = 2,

    /// <summary>Once, after the last replicate.</summary>
    End = 3,
}
