using System.Security.Cryptography.X509Certificates;

namespace Knownwater.Web.Serve;

/// <summary>The server's certificate of a program that runs on: it is looked after once a day, and renewed before it runs out.</summary>
internal sealed class RenewedCertificate
{
    private static readonly TimeSpan Between = TimeSpan.FromDays(1);

    private readonly LocalAuthority _authority;
    private readonly MachineNames _machine;
    private readonly TimeProvider _time;
    private readonly Lock _one = new();
    private X509Certificate2 _current;
    private DateTimeOffset _next;

    /// <summary>Begins with the certificate that is there, or a fresh one.</summary>
    /// <exception cref="IOException">There is none to begin with.</exception>
    public RenewedCertificate(LocalAuthority authority, MachineNames machine, TimeProvider time)
    {
        (_authority, _machine, _time) = (authority, machine, time);
        _current = authority.Server(machine, time.GetUtcNow()).Certificate;
        _next = time.GetUtcNow() + Between;
    }

    public X509Certificate2 Current
    {
        get
        {
            lock (_one)
            {
                var now = _time.GetUtcNow();
                if (now < _next)
                    return _current;
                _next = now + Between;
                try
                {
                    // a handshake may still use the one before, so that it is left to the collector
                    _current = _authority.Server(_machine, now).Certificate;
                }
                catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
                {
                    // the one before serves on, and tomorrow it is tried again
                }

                return _current;
            }
        }
    }
}
