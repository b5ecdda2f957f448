using System.Security.Cryptography;
using System.Text;

namespace Knownwater.Web.Serve;

/// <summary>The one-time code that lets a phone in: at most one at a time, good for ten minutes and for one phone.</summary>
/// <remarks>
/// Eight characters of 24, 1.1·10¹¹ codes. Five tries end a code, so that a guesser hits one in 2·10¹⁰ times; then only the machine
/// itself makes the next. Codes live in the memory of the program and end with it.
/// </remarks>
/// <param name="time">Where the time comes from.</param>
internal sealed class PairingCodes(TimeProvider time)
{
    /// <summary>Letters and digits that are not taken for one another: of 0 O, 1 I L, 2 Z, 5 S, 8 B none is there, of U V only one.</summary>
    public const string Alphabet = "ACDEFGHJKMNPQRTUWXY34679";

    public const int Length = 8, Tries = 5;

    public static readonly TimeSpan Life = TimeSpan.FromMinutes(10);

    private readonly Lock _door = new();
    private string? _code;
    private DateTimeOffset _until;
    private int _tries;
    private bool _guessed;

    /// <summary>The code that is good now; null where none is.</summary>
    public Shown? Current
    {
        get
        {
            lock (_door)
                return Show();
        }
    }

    /// <summary>Whether the last code died of wrong tries, so that only the machine itself makes the next.</summary>
    public bool WasGuessedAt
    {
        get
        {
            lock (_door)
                return _guessed;
        }
    }

    /// <summary>Makes a fresh code; the one before is good no more.</summary>
    /// <param name="onThisMachine">Whether it is asked for on the machine itself.</param>
    /// <returns>The code; null where only the machine itself may make it.</returns>
    public Shown? Make(bool onThisMachine)
    {
        lock (_door)
        {
            if (_guessed && !onThisMachine)
                return null;
            _code = RandomNumberGenerator.GetString(Alphabet, Length);
            _until = time.GetUtcNow() + Life;
            (_tries, _guessed) = (0, false);
            return Show();
        }
    }

    /// <summary>Tries a code as typed: small letters, spaces and hyphens do not matter. The right one is spent by it.</summary>
    public Tried Try(string typed)
    {
        var code = Read(typed);
        lock (_door)
        {
            if (Show() is null)
                return Tried.NoneIsGood;
            if (code.Length != Length || code.Any(c => !Alphabet.Contains(c, StringComparison.Ordinal)))
                return Tried.NoCode;
            if (CryptographicOperations.FixedTimeEquals(Encoding.ASCII.GetBytes(code), Encoding.ASCII.GetBytes(_code!)))
            {
                _code = null;
                return Tried.Right;
            }

            if (++_tries < Tries)
                return Tried.Wrong;
            (_code, _guessed) = (null, true);
            return Tried.Died;
        }
    }

    /// <summary>A code as a person reads it: two groups of four.</summary>
    public static string Grouped(string code) => code.Length == Length ? $"{code[..4]}-{code[4..]}" : code;

    private static string Read(string typed) =>
        string.Concat(typed.Where(c => !char.IsWhiteSpace(c) && c is not ('-' or '\u2010' or '\u2011' or '\u2013'))).ToUpperInvariant();

    private Shown? Show()
    {
        var left = _until - time.GetUtcNow();
        if (_code is null || left <= TimeSpan.Zero)
        {
            _code = null;
            return null;
        }

        return new Shown(_code, (int)Math.Ceiling(left.TotalMinutes), Tries - _tries);
    }

    /// <summary>A code that is good now.</summary>
    /// <param name="Code">Its eight characters.</param>
    /// <param name="Minutes">Minutes that are left, rounded up.</param>
    /// <param name="TriesLeft">Wrong tries that it still takes, the last of which ends it.</param>
    internal sealed record Shown(string Code, int Minutes, int TriesLeft);
}

/// <summary>How a try ends.</summary>
internal enum Tried
{
    /// <summary>It is the code, which is spent now.</summary>
    Right,

    /// <summary>It cannot be a code; nothing was compared.</summary>
    NoCode,

    /// <summary>It is another one.</summary>
    Wrong,

    /// <summary>It is another one, and the code died of it.</summary>
    Died,

    /// <summary>No code is good now.</summary>
    NoneIsGood,
}
