using System.Text;
using QRCoder;

namespace Knownwater.Web.Serve;

/// <summary>A square code in the letters of a terminal, two rows a line.</summary>
internal static class TerminalCode
{
    private const string WhiteOnBlack = "\u001b[97;40m", Reset = "\u001b[0m";

    /// <summary>The lines of the code.</summary>
    /// <param name="text">What it holds.</param>
    /// <param name="coloured">Whether the terminal takes colours: then light is white and dark is black on any of them. Else light is ink, which is right on a dark terminal.</param>
    public static IReadOnlyList<string> Lines(string text, bool coloured)
    {
        using var data = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.L);
        var rows = data.ModuleMatrix;
        bool Light(int y, int x) => y >= rows.Count || !rows[y][x];
        List<string> lines = [];
        for (var y = 0; y < rows.Count; y += 2)
        {
            var line = new StringBuilder(coloured ? WhiteOnBlack : "");
            for (var x = 0; x < rows.Count; x++)
            {
                line.Append((Light(y, x), Light(y + 1, x)) switch
                {
                    (true, true) => '█',
                    (true, false) => '▀',
                    (false, true) => '▄',
                    _ => ' ',
                });
            }

            lines.Add(line.Append(coloured ? Reset : "").ToString());
        }

        return lines;
    }
}
