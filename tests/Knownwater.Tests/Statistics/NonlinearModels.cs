using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Statistics;

/// <summary>The models of the nonlinear sets of NIST StRD: inputs are the parameters in their order, then the predictors. Derivatives by dual numbers.</summary>
internal static class NonlinearModels
{
    public static string[] Names =>
    [
        "Misra1a", "Chwirut2", "Chwirut1", "Lanczos3", "Gauss1", "Gauss2", "DanWood", "Misra1b", "Kirby2", "Hahn1", "Nelson", "MGH17", "Lanczos1", "Lanczos2", "Gauss3", "Misra1c", "Misra1d", "Roszman1", "ENSO",
        "MGH09", "Thurber", "BoxBOD", "Rat42", "MGH10", "Eckerle4", "Rat43", "Bennett5",
    ];

    public static NonlinearFit Fit(string name, StatisticalReferenceDatasets.Regression set, double[] start) => NonlinearLeastSquares.Fit(Response(name, set), start, Of(name, set.X));

    /// <summary>What the model is fitted to: the response, for Nelson its logarithm.</summary>
    public static double[] Response(string name, StatisticalReferenceDatasets.Regression set) => name == "Nelson" ? [.. set.Y.Select(y => Math.Log(y))] : set.Y;

    /// <summary>The model of a set at its predictors.</summary>
    public static NonlinearModel Of(string name, double[][] x) => name switch
    {
        "Misra1a" or "BoxBOD" => By(new Saturation(), x),
        "Chwirut1" or "Chwirut2" => By(new Chwirut(), x),
        "DanWood" => By(new DanWood(), x),
        "Rat42" => By(new Rat42(), x),
        "Rat43" => By(new Rat43(), x),
        "Misra1b" => By(new Misra1b(), x),
        "Misra1c" => By(new Misra1c(), x),
        "Misra1d" => By(new Misra1d(), x),
        "Lanczos1" or "Lanczos2" or "Lanczos3" => By(new Lanczos(), x),
        "Gauss1" or "Gauss2" or "Gauss3" => By(new Gauss(), x),
        "Kirby2" => By(new Kirby(), x),
        "Hahn1" or "Thurber" => By(new Cubics(), x),
        "Nelson" => By(new Nelson(), x),
        "Roszman1" => Roszman(x),
        "ENSO" => By(new Enso(), x),
        "MGH09" => By(new Mgh09(), x),
        "MGH10" => By(new Mgh10(), x),
        "MGH17" => By(new Mgh17(), x),
        "Eckerle4" => By(new Eckerle(), x),
        "Bennett5" => By(new Bennett(), x),
        _ => throw new ArgumentException($"No model is written down for {name}.", nameof(name)),
    };

    private static NonlinearModel By<M>(M model, double[][] x) where M : struct, IModel => (parameters, values, derivatives) =>
    {
        var inputs = new Dual<Real>[model.Inputs];
        for (var i = 0; i < x.Length; i++)
        {
            for (var j = 0; j < parameters.Length; j++)
                inputs[j] = parameters[j];
            for (var j = 0; j < x[i].Length; j++)
                inputs[parameters.Length + j] = x[i][j];
            for (var j = 0; j < parameters.Length; j++)
            {
                inputs[j] = new Dual<Real>(parameters[j], 1.0);
                var result = model.Evaluate<Dual<Real>>(inputs);
                inputs[j] = parameters[j];
                values[i] = result.Value.Value;
                derivatives[i, j] = result.Derivative.Value;
            }
        }
    };

    // its arctangent is the one function of the sets that models have not: derivatives by hand
    private static NonlinearModel Roszman(double[][] x) => (b, values, derivatives) =>
    {
        for (var i = 0; i < x.Length; i++)
        {
            double distance = x[i][0] - b[3], squares = distance * distance + b[2] * b[2];
            values[i] = b[0] - b[1] * x[i][0] - Math.Atan(b[2] / distance) / Math.PI;
            (derivatives[i, 0], derivatives[i, 1], derivatives[i, 2], derivatives[i, 3]) = (1, -x[i][0], -distance / squares / Math.PI, -b[2] / squares / Math.PI);
        }
    };

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

    private readonly struct Cubics : IModel
    {
        public int Inputs => 8;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => (v[0] + v[7] * (v[1] + v[7] * (v[2] + v[7] * v[3]))) / (1.0 + v[7] * (v[4] + v[7] * (v[5] + v[7] * v[6])));
    }

    private readonly struct Eckerle : IModel
    {
        public int Inputs => 4;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] / v[1] * T.Exp(-0.5 * ((v[3] - v[2]) / v[1]) * ((v[3] - v[2]) / v[1]));
    }

    private readonly struct Gauss : IModel
    {
        public int Inputs => 9;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T>
        {
            T first = (v[8] - v[3]) / v[4], second = (v[8] - v[6]) / v[7];
            return v[0] * T.Exp(-(v[1] * v[8])) + v[2] * T.Exp(-(first * first)) + v[5] * T.Exp(-(second * second));
        }
    }

    private readonly struct Kirby : IModel
    {
        public int Inputs => 6;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => (v[0] + v[5] * (v[1] + v[5] * v[2])) / (1.0 + v[5] * (v[3] + v[5] * v[4]));
    }

    private readonly struct Nelson : IModel
    {
        public int Inputs => 5;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] - v[1] * v[3] * T.Exp(-(v[2] * v[4]));
    }

    private readonly struct Enso : IModel
    {
        public int Inputs => 10;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T>
        {
            T turn = 2 * Math.PI * v[9], year = turn / 12.0, longer = turn / v[3], shorter = turn / v[6];
            return v[0] + v[1] * T.Cos(year) + v[2] * T.Sin(year) + v[4] * T.Cos(longer) + v[5] * T.Sin(longer) + v[7] * T.Cos(shorter) + v[8] * T.Sin(shorter);
        }
    }

    private readonly struct Bennett : IModel
    {
        public int Inputs => 4;

        public T Evaluate<T>(ReadOnlySpan<T> v) where T : IReal<T> => v[0] * T.Exp(-(T.Log(v[1] + v[3]) / v[2]));
    }
}
