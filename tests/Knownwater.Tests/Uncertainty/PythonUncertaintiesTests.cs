using System.Globalization;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Uncertainty;

/// <summary>Ten random models with shared inputs, evaluated by another implementation: tests/data/python-uncertainties/SOURCE.md.</summary>
public class PythonUncertaintiesTests
{
    [Fact]
    public void Ten_random_models_agree_in_value_uncertainty_and_every_covariance()
    {
        var cases = CheckData.Json("python-uncertainties/cases.json");
        var correlated = cases.GetProperty("correlated");
        var rows = correlated.GetProperty("covariance").EnumerateArray().Select(r => r.Numbers()).ToArray();
        var covariance = new double[3, 3];
        for (var i = 0; i < 9; i++)
            covariance[i / 3, i % 3] = rows[i / 3][i % 3];
        Estimate[] inputs =
        [
            .. cases.GetProperty("independent").EnumerateArray().Select((x, i) => Estimate.From(x.Number("value"), x.Number("u"), $"x{i}")),
            .. Estimate.Correlated(correlated.GetProperty("values").Numbers(), covariance, "x6 to x8"),
        ];

        var models = cases.GetProperty("models").EnumerateArray().ToArray();
        Assert.Equal(10, models.Length);
        var results = models.Select(m => Evaluate(m.GetProperty("model").GetString()!, inputs)).ToArray();
        for (var i = 0; i < models.Length; i++)
        {
            Assert.InRange(results[i].Value / models[i].Number("value"), 1 - 1e-12, 1 + 1e-12);
            Assert.InRange(results[i].StandardUncertainty / models[i].Number("u"), 1 - 1e-12, 1 + 1e-12);
        }
        var matrix = cases.GetProperty("covariance").EnumerateArray().Select(r => r.Numbers()).ToArray();
        for (var i = 0; i < models.Length; i++)
        {
            for (var j = 0; j < models.Length; j++)
                Assert.Equal(matrix[i][j], Estimate.Covariance(results[i], results[j]), 1e-12 * models[i].Number("u") * models[j].Number("u"));
        }
    }

    private static Estimate Evaluate(string model, Estimate[] inputs)
    {
        var stack = new Stack<Estimate>();
        foreach (var word in model.Split(' '))
        {
            if (word is "+" or "-" or "*" or "/")
            {
                var b = stack.Pop();
                var a = stack.Pop();
                stack.Push(word switch { "+" => a + b, "-" => a - b, "*" => a * b, _ => a / b });
                continue;
            }
            stack.Push(word switch
            {
                "sqrt" => Estimate.Sqrt(stack.Pop()),
                "exp" => Estimate.Exp(stack.Pop()),
                "log" => Estimate.Log(stack.Pop()),
                _ when word.StartsWith("pow:", StringComparison.Ordinal) => Estimate.Pow(stack.Pop(), double.Parse(word[4..], CultureInfo.InvariantCulture)),
                ['x', .. var index] => inputs[int.Parse(index, CultureInfo.InvariantCulture)],
                _ => double.Parse(word, CultureInfo.InvariantCulture),
            });
        }
        return Assert.Single(stack);
    }
}
