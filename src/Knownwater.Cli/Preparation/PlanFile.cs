using System.Globalization;
using System.Text.Json;
using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Cli.Preparation;

/// <summary>Reads a preparation from a plan file; unknown keys are refused by name.</summary>
/// <remarks>
/// Identities follow from the names in the file, so that two uses of one name are one piece, and reading a file twice gives the same
/// error sources.
/// </remarks>
internal static class PlanFile
{
    private static readonly Guid Space = new("6d1f2a54-0c3b-5e7d-9a41-7f6f0b1c2d3e");

    private static readonly Dictionary<string, GlasswareKind> Kinds = new(StringComparer.Ordinal)
    {
        ["flask"] = GlasswareKind.Flask,
        ["bulb_pipette"] = GlasswareKind.BulbPipette,
        ["graduated_pipette"] = GlasswareKind.GraduatedPipette,
        ["piston_pipette"] = GlasswareKind.PistonPipette,
        ["cylinder"] = GlasswareKind.Cylinder,
        ["burette"] = GlasswareKind.Burette,
        ["syringe"] = GlasswareKind.Syringe,
        ["balance"] = GlasswareKind.Balance,
    };

    /// <summary>Reads a plan.</summary>
    /// <exception cref="ArgumentException">The text is no plan; the message names the place, the value and what would do.</exception>
    /// <exception cref="FormatException">A quantity in it cannot be read.</exception>
    public static PreparationPlan Read(string json)
    {
        JsonDocument document;
        try
        {
            document = JsonDocument.Parse(json, new JsonDocumentOptions { AllowTrailingCommas = true, CommentHandling = JsonCommentHandling.Skip });
        }
        catch (JsonException fault)
        {
            throw new ArgumentException($"The plan is not JSON: line {fault.LineNumber + 1}, position {fault.BytePositionInLine + 1} cannot be read. Mend it there.", fault);
        }
        using (document)
        {
            var plan = new Part(document.RootElement, "the plan", "analyte", "form", "stock", "matrix", "steps", "glassware", "temperature", "mixing", "target");
            var pieces = Pieces(plan.Child("glassware"));
            var form = Form(plan, plan.Needed("stock"));
            var stockPart = new Part(plan.Needed("stock"), "stock", "name", "concentration", "tolerance", "distribution", "u", "expanded", "k", "salt", "mass", "mass_u", "with", "purity",
                "purity_half_range", "to", "in", "density", "density_u", "companions");
            var read = new PreparationPlan
            {
                Form = form,
                Stock = Stock(stockPart, form, pieces),
                Matrix = Water(plan.Child("matrix"), form),
                Steps = Steps(plan.Child("steps"), pieces),
                Temperature = Temperature(plan.Child("temperature")),
                Mixing = plan.Text("mixing") is { } mixing ? Ratio(mixing, "mixing") : 0,
            };
            return plan.Text("target") is { } target ? read with { Target = In(target, form, "target") } : read;
        }
    }

    private static ReportingForm Form(Part plan, JsonElement stock)
    {
        if (plan.Text("form") is { } given)
            return ReportingForm.Parse(given);
        var analyte = plan.Text("analyte") ?? throw new ArgumentException("The plan has no \"analyte\". Say what is known in the water, as in \"analyte\": \"NO3\".");
        var concentration = stock.ValueKind == JsonValueKind.Object && stock.TryGetProperty("concentration", out var c) && c.ValueKind == JsonValueKind.String ? c.GetString() : null;
        var own = concentration is null ? null : QuantityText.ReadUncertainQuantity(concentration, DecimalSign.Point).Form;
        if (analyte.Equals("alkalinity", StringComparison.OrdinalIgnoreCase))
            return own ?? ReportingForm.Parse("meq/L");
        if (own is not null && (own.Species is null || own.Species == ReportingForm.Parse($"mg/L {analyte}").Species))
            return own;
        return ReportingForm.Parse($"mg/L {analyte}");
    }

    private static Dictionary<string, Glassware> Pieces(JsonElement? glassware)
    {
        var pieces = new Dictionary<string, Glassware>(StringComparer.Ordinal);
        if (glassware is not { } all)
            return pieces;
        if (all.ValueKind != JsonValueKind.Object)
            throw new ArgumentException("\"glassware\" is a list of names, each with its piece, as in \"F100\": { \"kind\": \"flask\", \"tolerance\": \"0.1 mL\" }.");
        foreach (var entry in all.EnumerateObject())
        {
            var where = $"glassware {entry.Name}";
            var part = new Part(entry.Value, where, "kind", "tolerance", "distribution", "repeatability", "nominal", "least", "readability", "proof");
            var word = part.Text("kind") ?? throw new ArgumentException($"{where} has no \"kind\". Give one of {string.Join(", ", Kinds.Keys)}.");
            if (!Kinds.TryGetValue(word, out var kind))
                throw new ArgumentException($"The \"kind\" of {where} is “{word}”, which is not known here. Give one of {string.Join(", ", Kinds.Keys)}.");
            double Amount(string text) => kind == GlasswareKind.Balance ? QuantityText.ReadMassGrams(text, DecimalSign.Point) : QuantityText.ReadVolumeMillilitres(text, DecimalSign.Point);
            double? Size(string key) => part.Text(key) is { } text ? Amount(text) : null;
            var tolerance = part.Text("tolerance");
            var relative = tolerance?.TrimEnd().EndsWith('%') == true;
            pieces.Add(entry.Name, new Glassware
            {
                Id = SourceIdentity.Of(Space, where),
                Name = entry.Name,
                Kind = kind,
                Nominal = Size("nominal"),
                Least = Size("least"),
                Tolerance = tolerance is null ? 0 : relative ? Ratio(tolerance, "tolerance") : Amount(tolerance),
                ToleranceIsRelative = relative,
                Shape = Shape(part),
                Repeatability = Size("repeatability") ?? 0,
                Readability = Size("readability"),
                Proofs = part.Child("proof") is { } proof ? [Proof(proof, where, Amount)] : [],
            });
        }
        return pieces;
    }

    private static GlasswareProof Proof(JsonElement element, string where, Func<string, double> amount)
    {
        var part = new Part(element, $"proof of {where}", "setting", "bias", "bias_u", "bias_dof", "sd", "sd_dof");
        double Need(string key) => amount(part.Text(key) ?? throw new ArgumentException($"The proof of {where} has no \"{key}\". Give it with its unit."));
        double Signed(string text) => text.TrimStart() is ['-' or '−', .. var rest] ? -amount(rest) : amount(text);
        double Dof(string key) => part.Text(key) is { } text ? Numbers.Plain(text, key) : double.PositiveInfinity;
        return new GlasswareProof
        {
            Id = SourceIdentity.Of(Space, "proof of " + where),
            Setting = Need("setting"),
            Bias = Signed(part.Text("bias") ?? throw new ArgumentException($"The proof of {where} has no \"bias\". Give it with its unit.")),
            BiasU = Need("bias_u"),
            BiasDof = Dof("bias_dof"),
            Sd = Need("sd"),
            SdDof = Dof("sd_dof"),
        };
    }

    private static StockSolution Stock(Part part, ReportingForm form, Dictionary<string, Glassware> pieces)
    {
        var name = part.Text("name") ?? "stock";
        var stock = new StockSolution
        {
            Name = name,
            Density = part.Text("density") is { } density ? Density(density, part.Text("density_u")) : null,
            Companions = Companions(part.Child("companions")),
        };
        if (part.Text("salt") is { } salt)
        {
            if (part.Text("concentration") is not null)
                throw new ArgumentException("The stock has both a \"concentration\" and a \"salt\". Keep one of the two.");
            return stock with { Salt = Weighed(part, salt, stock.Density, pieces) };
        }
        var text = part.Text("concentration") ?? throw new ArgumentException("The stock has neither a \"concentration\" nor a \"salt\". Give one, as in \"1000 mg/L NO3\".");
        var known = QuantityText.ReadUncertainQuantity(text, DecimalSign.Point);
        var factor = known.Form == form ? 1 : FormConversion.Convert(1, known.Form, form).Factor;
        var (half, u, expanded) = (part.Text("tolerance"), part.Text("u"), part.Text("expanded"));
        var given = (known.Kind == DoubtKind.NotGiven ? 0 : 1) + (half is null ? 0 : 1) + (u is null ? 0 : 1) + (expanded is null ? 0 : 1);
        if (given > 1)
            throw new ArgumentException("The doubt of the stock is given more than once. Keep one of \"tolerance\", \"u\", \"expanded\" and ± behind the concentration.");
        if (expanded is null && part.Text("k") is not null)
            throw new ArgumentException("The stock has a \"k\" without \"expanded\". Give both, or neither.");
        var id = SourceIdentity.Of(Space, "stock certificate");
        ErrorSource? source = null;
        var label = $"{name}, certificate";
        double Size(string size) => DoubtIn(size, known.Value, known.Form) * factor;
        if (half is not null && Size(half) is > 0 and var a)
            source = Shape(part) == SourceShape.Triangular ? ErrorSource.Triangular(label, a, form.Text, id) : ErrorSource.Rectangular(label, a, form.Text, id);
        else if (u is not null && Size(u) is > 0 and var standard)
            source = ErrorSource.Normal(label, standard, form.Text, id: id);
        else if (expanded is not null && Size(expanded) is > 0 and var wide)
            source = ErrorSource.Expanded(label, wide, part.Text("k") is { } k ? Numbers.Plain(k, "k") : 2, form.Text, id: id);
        else if (known.Kind != DoubtKind.NotGiven && known.Doubt > 0)
            source = known.Kind == DoubtKind.Expanded ? ErrorSource.Expanded(label, known.Doubt * factor, known.CoverageFactor!.Value, form.Text, id: id) : ErrorSource.Rectangular(label, known.Doubt * factor, form.Text, id);
        return stock with { Concentration = source is null ? Estimate.Exact(known.Value * factor) : Estimate.From(known.Value * factor, source) };
    }

    private static WeighedSalt Weighed(Part part, string salt, Estimate? density, Dictionary<string, Glassware> pieces)
    {
        string Need(string key) => part.Text(key) ?? throw new ArgumentException($"The weighed salt has no \"{key}\". Give it, as in the worked plans.");
        var mass = QuantityText.ReadMassGrams(Need("mass"), DecimalSign.Point);
        var occasion = SourceIdentity.Of(Space, "salt weighed");
        Estimate weighed;
        if (part.Text("with") is { } balance)
            weighed = Piece(balance, pieces).Measure(mass, occasion);
        else
            weighed = part.Text("mass_u") is { } u && QuantityText.ReadMassGrams(u, DecimalSign.Point) is > 0 and var standard ? Estimate.From(mass, ErrorSource.Normal("mass weighed", standard, "g", id: SourceIdentity.Of(Space, "mass"))) : Estimate.Exact(mass);
        var purity = part.Text("purity") is { } p ? Ratio(p, "purity") : 1;
        var range = part.Text("purity_half_range") is { } r ? Ratio(r, "purity_half_range") : 0;
        return new WeighedSalt
        {
            Formula = ChemicalFormula.Parse(salt),
            Mass = weighed,
            Purity = range > 0 ? Estimate.From(purity, ErrorSource.Rectangular($"purity of {salt}", range, "", SourceIdentity.Of(Space, "purity"))) : Estimate.Exact(purity),
            Volume = MadeUp(),
        };

        Estimate MadeUp()
        {
            var (inside, made) = (Piece(Need("in"), pieces), SourceIdentity.Of(Space, "salt made up"));
            var size = Amount(Need("to"), inside);
            return size.IsMass ? WeighedSalt.VolumeOf(inside.Measure(size.Size, made), mass, density, made) : inside.Measure(size.Size, made);
        }
    }

    private static MatrixWater Water(JsonElement? element, ReportingForm form)
    {
        if (element is null)
            return new MatrixWater { Kind = Matrix.FreshWater };
        var part = new Part(element.Value, "matrix", "kind", "salinity", "temperature", "background", "background_u");
        var kind = (part.Text("kind") ?? "seawater").Replace('_', ' ').ToLowerInvariant();
        var matrix = kind switch
        {
            "seawater" => Matrix.Seawater,
            "fresh" or "fresh water" or "freshwater" or "pure water" => Matrix.FreshWater,
            _ => throw new ArgumentException($"The \"kind\" of the matrix is “{kind}”. Give seawater or fresh_water."),
        };
        if (matrix == Matrix.Seawater && part.Text("salinity") is null)
            throw new ArgumentException("The matrix is seawater without a \"salinity\". Give it as a plain number, as in 35.");
        var background = part.Text("background") is { } b ? In(b, form, "background") : 0;
        var u = part.Text("background_u") is { } text ? Math.Abs(In(text, form, "background_u")) : 0;
        return new MatrixWater
        {
            Kind = matrix,
            Salinity = part.Text("salinity") is { } s ? Numbers.Plain(s, "salinity") : 0,
            TemperatureCelsius = part.Text("temperature") is { } t ? QuantityText.ReadTemperatureCelsius(t, DecimalSign.Point) : 20,
            Background = u > 0 ? Estimate.From(background, ErrorSource.Normal("background of the matrix", u, form.Text, id: SourceIdentity.Of(Space, "background"))) : Estimate.Exact(background),
        };
    }

    private static List<PreparationStep> Steps(JsonElement? element, Dictionary<string, Glassware> pieces)
    {
        var steps = new List<PreparationStep>();
        if (element is not { } all)
            return steps;
        if (all.ValueKind != JsonValueKind.Array)
            throw new ArgumentException("\"steps\" is a list, as in [ { \"aliquot\": \"1 mL\", \"with\": \"P1\", \"to\": \"100 mL\", \"in\": \"F100\" } ].");
        foreach (var each in all.EnumerateArray())
        {
            var where = $"step {steps.Count + 1}";
            var part = new Part(each, where, "aliquot", "with", "to", "into", "in", "diluent");
            string Need(string key) => part.Text(key) ?? throw new ArgumentException($"{where} has no \"{key}\". Give it, as in \"aliquot\": \"1 mL\", \"with\": \"P1\", \"to\": \"100 mL\", \"in\": \"F100\".");
            var (to, into) = (part.Text("to"), part.Text("into"));
            if (to is null == into is null)
                throw new ArgumentException($"{where} needs \"to\", the total it is made up to, or \"into\", the water it is poured into. Give one of the two.");
            var (with, inside) = (Piece(Need("with"), pieces), Piece(Need("in"), pieces));
            steps.Add(new PreparationStep
            {
                Id = SourceIdentity.Of(Space, where),
                Aliquot = Amount(Need("aliquot"), with),
                With = with,
                Made = Amount(to ?? into!, inside),
                IsTotal = to is not null,
                In = inside,
                Diluent = (part.Text("diluent") ?? "matrix") switch
                {
                    "matrix" => Diluent.Matrix,
                    "pure_water" or "pure water" => Diluent.PureWater,
                    var other => throw new ArgumentException($"The \"diluent\" of {where} is “{other}”. Give matrix or pure_water."),
                },
            });
        }
        return steps;
    }

    private static TemperatureRange? Temperature(JsonElement? element)
    {
        if (element is null)
            return null;
        var part = new Part(element.Value, "temperature", "at", "half_range", "coefficient");
        // the range of a difference: "4 C" is four kelvins, "7.2 F" too
        var text = part.Text("half_range") ?? "0 C";
        var half = QuantityText.ReadTemperatureCelsius(text, DecimalSign.Point) - (text.TrimEnd().EndsWith("F", StringComparison.OrdinalIgnoreCase) ? QuantityText.ReadTemperatureCelsius("0 F", DecimalSign.Point) : 0);
        if (half < 0)
            throw new ArgumentException($"The \"half_range\" of the temperature is {text}; it is a half-width, zero or above.");
        if (part.Text("at") is { } at)
            _ = QuantityText.ReadTemperatureCelsius(at, DecimalSign.Point);
        return new TemperatureRange(SourceIdentity.Of(Space, "temperature"), half, part.Text("coefficient") is { } c ? Numbers.Plain(c, "coefficient") : TemperatureRange.Water);
    }

    private static List<Companion> Companions(JsonElement? element)
    {
        var companions = new List<Companion>();
        if (element is not { } all)
            return companions;
        if (all.ValueKind != JsonValueKind.Array)
            throw new ArgumentException("\"companions\" is a list, as in [ { \"species\": \"nitrate\", \"in_stock\": \"19000 mg/L NO3\" } ].");
        foreach (var each in all.EnumerateArray())
        {
            var part = new Part(each, $"companion {companions.Count + 1}", "species", "in_stock");
            var text = part.Text("in_stock") ?? throw new ArgumentException($"Companion {companions.Count + 1} has no \"in_stock\". Say how much of it is in the stock, as in 19000 mg/L NO3.");
            var amount = QuantityText.ReadQuantity(text, DecimalSign.Point);
            companions.Add(new Companion(part.Text("species") ?? amount.Form.Species ?? amount.Form.Text, amount.Value, amount.Form));
        }
        return companions;
    }

    private static Glassware Piece(string name, Dictionary<string, Glassware> pieces) =>
        pieces.TryGetValue(name, out var piece) ? piece
        : throw new ArgumentException(pieces.Count == 0
            ? $"“{name}” is named, but the plan lists no glassware. Add \"glassware\" with its kind and tolerance."
            : $"“{name}” is not among the glassware of the plan ({string.Join(", ", pieces.Keys)}). Add it, or correct the name.");

    private static Portion Amount(string text, Glassware piece)
    {
        try
        {
            return piece.IsBalance ? Portion.Mass(QuantityText.ReadMassGrams(text, DecimalSign.Point)) : Portion.Volume(QuantityText.ReadVolumeMillilitres(text, DecimalSign.Point));
        }
        catch (QuantityFormatException fault)
        {
            throw new ArgumentException($"{fault.Message} {piece.Name} is a {(piece.IsBalance ? "balance, which measures grams" : "piece that measures volumes")}.", fault);
        }
    }

    private static SourceShape Shape(Part part) => part.Text("distribution") switch
    {
        null or "rectangular" => SourceShape.Rectangular,
        "triangular" => SourceShape.Triangular,
        var other => throw new ArgumentException($"The \"distribution\" of {part.Where} is “{other}”. Give rectangular or triangular."),
    };

    private static Estimate Density(string text, string? doubt)
    {
        double Of(string density)
        {
            var at = density.IndexOf("g/mL", StringComparison.OrdinalIgnoreCase);
            var kilograms = density.IndexOf("kg/m3", StringComparison.OrdinalIgnoreCase);
            return at > 0 ? Numbers.Plain(density[..at].Trim(), "density") : kilograms > 0 ? Numbers.Plain(density[..kilograms].Trim(), "density") / 1000
                : throw new ArgumentException($"The density “{density}” has no known unit. Write it as in 1.012 g/mL.");
        }
        var value = Of(text);
        return doubt is null ? Estimate.Exact(value) : Estimate.From(value, ErrorSource.Normal("density of the stock", Of(doubt), "g/mL", id: SourceIdentity.Of(Space, "density")));
    }

    /// <summary>A part of one: “0.2 %” or 0.002.</summary>
    private static double Ratio(string text, string name) => text.TrimEnd() is [.. var number, '%'] ? Numbers.Plain(number, name) / 100 : Numbers.Plain(text, name);

    /// <summary>A doubt of the stock: percent of it, a number with its unit, or a quantity.</summary>
    private static double DoubtIn(string text, double value, ReportingForm form) =>
        Numbers.Size(text.TrimEnd().EndsWith(form.Unit, StringComparison.OrdinalIgnoreCase) ? $"{text} {form.Species}" : text, new Quantity(value, form), "the doubt of the stock");

    private static double In(string text, ReportingForm form, string name)
    {
        var quantity = QuantityText.ReadQuantity(text.TrimEnd().EndsWith(form.Unit, StringComparison.OrdinalIgnoreCase) && form.Species is not null ? $"{text} {form.Species}" : text, DecimalSign.Point);
        try
        {
            return quantity.Form == form ? quantity.Value : FormConversion.Convert(quantity.Value, quantity.Form, form).Value;
        }
        catch (FormConversionException fault)
        {
            throw new ArgumentException($"The {name} “{text}” does not fit a preparation in {form.Text}: {fault.Message}", fault);
        }
    }

    /// <summary>One object of the plan whose keys are known.</summary>
    private readonly struct Part
    {
        private readonly JsonElement _element;

        public Part(JsonElement element, string where, params ReadOnlySpan<string> keys)
        {
            if (element.ValueKind != JsonValueKind.Object)
                throw new ArgumentException($"{Capital(where)} is {element.GetRawText()}, but an object in braces belongs there.");
            _element = element;
            Where = where;
            foreach (var property in element.EnumerateObject())
            {
                if (!keys.Contains(property.Name))
                    throw new ArgumentException($"“{property.Name}” is not a key of {where}. Known are {string.Join(", ", keys.ToArray())}.");
            }
        }

        public string Where { get; }

        public JsonElement? Child(string key) => _element.TryGetProperty(key, out var child) && child.ValueKind != JsonValueKind.Null ? child : null;

        public JsonElement Needed(string key) => Child(key) ?? throw new ArgumentException($"The plan has no \"{key}\". Give it, as in the worked plans.");

        public string? Text(string key) => Child(key) switch
        {
            null => null,
            { ValueKind: JsonValueKind.String } text => text.GetString(),
            { ValueKind: JsonValueKind.Number } number => number.GetDouble().ToString("R", CultureInfo.InvariantCulture),
            { } other => throw new ArgumentException($"\"{key}\" of {Where} is {other.GetRawText()}, but a text or a number belongs there."),
        };

        private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
    }
}
