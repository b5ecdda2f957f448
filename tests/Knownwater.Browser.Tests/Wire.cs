using System.Net;
using System.Net.Sockets;

namespace Knownwater.Browser.Tests;

/// <summary>What a wire lets through.</summary>
public enum WireState
{
    Whole,

    /// <summary>Nothing gets through.</summary>
    Cut,

    /// <summary>What is asked arrives; what is answered is lost.</summary>
    AnswersLost,
}

/// <summary>The network between a browser and the program, as real connections that can be cut.</summary>
public sealed class Wire : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _over = new();
    private readonly Lock _lock = new();
    private readonly List<Socket> _open = [];
    private readonly int _to;
    private readonly Task _accepting;
    private WireState _state;

    /// <summary>A wire to the program.</summary>
    /// <param name="to">Port of the program on this machine.</param>
    public Wire(int to)
    {
        _to = to;
        _listener.Start();
        _accepting = Accept();
    }

    /// <summary>Where the browser finds the program.</summary>
    public Uri Address => new($"http://127.0.0.1:{((IPEndPoint)_listener.LocalEndpoint).Port}");

    public WireState State
    {
        get => _state;
        set
        {
            lock (_lock)
            {
                _state = value;
                foreach (var socket in _open)
                    Break(socket);
                _open.Clear();
            }
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _over.CancelAsync();
        _listener.Stop();
        State = WireState.Cut;
        await _accepting;
        _over.Dispose();
    }

    private async Task Accept()
    {
        try
        {
            while (true)
                _ = Carry(await _listener.AcceptSocketAsync(_over.Token));
        }
        catch (Exception fault) when (fault is OperationCanceledException or SocketException or ObjectDisposedException)
        {
            // the wire is taken down
        }
    }

    private async Task Carry(Socket browser)
    {
        using var program = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        using (browser)
        {
            try
            {
                if (!Opened(browser))
                    return;
                await program.ConnectAsync(IPAddress.Loopback, _to, _over.Token);
                if (!Opened(program))
                    return;
                await Task.WhenAny(Pump(browser, program, answers: false), Pump(program, browser, answers: true));
            }
            catch (Exception fault) when (fault is OperationCanceledException or SocketException or ObjectDisposedException)
            {
                // broken at one of its ends
            }
            finally
            {
                lock (_lock)
                {
                    _open.Remove(browser);
                    _open.Remove(program);
                }
            }
        }
    }

    private bool Opened(Socket socket)
    {
        lock (_lock)
        {
            if (_state != WireState.Cut)
            {
                _open.Add(socket);
                return true;
            }
            Break(socket);
            return false;
        }
    }

    private async Task Pump(Socket from, Socket to, bool answers)
    {
        var piece = new byte[65_536];
        int count;
        while ((count = await from.ReceiveAsync(piece, _over.Token)) > 0)
        {
            if (answers && _state == WireState.AnswersLost)
            {
                Break(to);
                return;
            }
            await to.SendAsync(piece.AsMemory(0, count), _over.Token);
        }
    }

    /// <summary>Ends a connection at once, as when the other side is gone.</summary>
    private static void Break(Socket socket)
    {
        try
        {
            socket.LingerState = new LingerOption(true, 0);
            socket.Close();
        }
        catch (Exception fault) when (fault is SocketException or ObjectDisposedException)
        {
            // it is closed already
        }
    }
}
