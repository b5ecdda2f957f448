using Knownwater.Web;

return await WebEntry.Run(args);

/// <summary>The web application's own entry; the command's <c>serve</c> calls <see cref="WebEntry"/> likewise.</summary>
public partial class Program;
