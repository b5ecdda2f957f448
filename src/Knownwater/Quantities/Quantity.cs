using System.Globalization;

namespace Knownwater.Quantities;

/// <summary>A number in a reporting form, as read from text: 5.2 mg/L NO3-N.</summary>
/// <param name="Value">The number; finite.</param>
/// <param name="Form">The form it is in.</param>
/// <exception cref="ArgumentOutOfRangeException">The number is NaN or infinite.</exception>
public sealed record Quantity(double Value, ReportingForm Form)
{
    /// <summary>The number, in <see cref="Form"/>.</summary>
    public double Value { get; } = double.IsFinite(Value)
        ? Value
        : throw new ArgumentOutOfRangeException(nameof(Value), Value, $"{Value} is no quantity; only finite numbers are.");

    /// <summary>The form the number is in.</summary>
    public ReportingForm Form { get; } = Form ?? throw new ArgumentNullException(nameof(Form));

    /// <summary>Number and form with a decimal point and full precision; <see cref="QuantityText.ReadQuantity"/> reads it back exactly.</summary>
    /// <returns>"5.2 mg/L NO3-N".</returns>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Value:R} {Form.Text}");
}
