namespace Knownwater.Preparation;

/// <summary>Two ions that fall out together, or may.</summary>
/// <param name="Solid">Formula of what falls out.</param>
/// <param name="Name">Its name.</param>
/// <param name="Product">Ion product as it is compared, in mol/L to the power of the ions.</param>
/// <param name="Limit">Solubility product it is compared with.</param>
/// <param name="IsCertain">Whether the product exceeds the limit more than ten times: then it falls out at once. Below that it may take weeks (common practice).</param>
/// <param name="Sentence">What falls out, the values, the limit and what would do.</param>
public sealed record PrecipitationRisk(string Solid, string Name, double Product, double Limit, bool IsCertain, string Sentence);
