using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Statistics;

/// <summary>The models of the nonlinear sets of NIST StRD: inputs are the parameters in their order, then x. Derivatives by dual numbers.</summary>
internal static class NonlinearModels
{
    public static string[] Names => ["Misra1a", "Misra1b", "Chwirut2", "Lanczos2", "Lanczos3", "DanWood", "Misra1c", "Misra1d", "MGH17", "MGH09", "Thurber", "BoxBOD", "Rat42", "MGH10", "Eckerle4", "Rat43"];

    public static NonlinearFit Fit(string name, StatisticalReferenceDatasets.Regression set, double[] start) => Fit(name, [.. set.X.Select(r => r[0])], set.Y, start);

    private static NonlinearFit Fit(string name, double[] x, double[] y, double[] start) => name switch
    {
        "Misra1a" or "BoxBOD" => Fit(new Saturation(), x, y, start),
        "Chwirut2" => Fit(new Chwirut(), x, y, start),
        "DanWood" => Fit(new DanWood(), x, y, start),
        "Rat42" => Fit(new Rat42(), x, y, start),
        "Rat43" => Fit(new Rat43(), x, y, start),
        "Misra1b" => Fit(new Misra1b(), x, y, start),
        "Misra1c" => Fit(new Misra1c(), x, y, start),
        "Misra1d" => Fit(new Misra1d(), x, y, start),
        "Lanczos2" or "Lanczos3" => Fit(new Lanczos(), x, y, start),
        "MGH09" => Fit(new Mgh09(), x, y, start),
        "MGH10" => Fit(new Mgh10(), x, y, start),
        "MGH17" => Fit(new Mgh17(), x, y, start),
        "Thurber" => Fit(new Thurber(), x, y, start),
        "Eckerle4" => Fit(new Eckerle(), x, y, start),
        _ => throw new ArgumentException($"No model is written down for {name}.", nameof(name)),
    };

    private static NonlinearFit Fit<M>(M model, double[] x, double[] y, double[] start) where M : struct, IModel => NonlinearLeastSquares.Fit(y, start, (parameters, values, derivatives) =>
    {
        var inputs = new Dual<Real>[parameters.Length + 1];
        for (var i = 0; i < x.Length; i++)
        {
            for (var j = 0; j < parameters.Length; j++)
                inputs[j] = parameters[j];
            inputs[^1] = x[i];
            for (var j = 0; j < parameters.Length; j++)
            {
                inputs[j] = new Dual<Real>(parameters[j], 1.0);
                var result = model.Evaluate<Dual<Real>>(inputs);
                inputs[j] = parameters[j];
                values[i] = result.Value.Value;
                derivatives[i, j] = result.Derivative.Value;
            }
        }
    });

    private readonly struct Saturation : IModel
    {
        public int Inputs => 3;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] * (1.0 - T.Exp(-(v[1] * v[2])));
    }

    private readonly struct Chwirut : IModel
    {
        public int Inputs => 4;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => T.Exp(-(v[0] * v[3])) / (v[1] + v[2] * v[3]);
    }

    private readonly struct DanWood : IModel
    {
        public int Inputs => 3;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] * T.Exp(v[1] * T.Log(v[2]));
    }

    private readonly struct Rat42 : IModel
    {
        public int Inputs => 4;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] / (1.0 + T.Exp(v[1] - v[2] * v[3]));
    }

    private readonly struct Rat43 : IModel
    {
        public int Inputs => 5;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] * T.Exp(-(T.Log(1.0 + T.Exp(v[1] - v[2] * v[4])) / v[3]));
    }

    private readonly struct Misra1b : IModel
    {
        public int Inputs => 3;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] * (1.0 - T.Pow(1.0 + v[1] * v[2] / 2.0, -2));
    }

    private readonly struct Misra1c : IModel
    {
        public int Inputs => 3;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] * (1.0 - 1.0 / T.Sqrt(1.0 + 2.0 * v[1] * v[2]));
    }

    private readonly struct Misra1d : IModel
    {
        public int Inputs => 3;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] * v[1] * v[2] / (1.0 + v[1] * v[2]);
    }

    private readonly struct Lanczos : IModel
    {
        public int Inputs => 7;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] * T.Exp(-(v[1] * v[6])) + v[2] * T.Exp(-(v[3] * v[6])) + v[4] * T.Exp(-(v[5] * v[6]));
    }

    private readonly struct Mgh09 : IModel
    {
        public int Inputs => 5;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] * (v[4] * v[4] + v[4] * v[1]) / (v[4] * v[4] + v[4] * v[2] + v[3]);
    }

    private readonly struct Mgh10 : IModel
    {
        public int Inputs => 4;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] * T.Exp(v[1] / (v[3] + v[2]));
    }

    private readonly struct Mgh17 : IModel
    {
        public int Inputs => 6;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] + v[1] * T.Exp(-(v[5] * v[3])) + v[2] * T.Exp(-(v[5] * v[4]));
    }

    private readonly struct Thurber : IModel
    {
        public int Inputs => 8;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => (v[0] + v[7] * (v[1] + v[7] * (v[2] + v[7] * v[3]))) / (1.0 + v[7] * (v[4] + v[7] * (v[5] + v[7] * v[6])));
    }

    private readonly struct Eckerle : IModel
    {
        public int Inputs => 4;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] / v[1] * T.Exp(-0.5 * ((v[3] - v[2]) / v[1]) * ((v[3] - v[2]) / v[1]));
    }
}
