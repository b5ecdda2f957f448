using System.Text.RegularExpressions;
using Knownwater.Preparation;
using Knownwater.Quantities;

namespace Knownwater.Tests.Preparation;

public sealed class StockMediumTests
{
    // row of commercial_standard_media.csv (counted from 0), medium key, salt, form and strength of the standard
    private static readonly (int Row, string Medium, string? Salt, string Form, double Value)[] Standards =
    [
        (0, "nitric-1", null, "mg/L K", 0), (1, "nitric-2", null, "mg/L K", 0), (2, "nitric-5", null, "mg/L K", 0), (3, "nitric-2-mass", null, "mg/L K", 0), (4, "nitric-half-molar", null, "mg/L K", 0),
        (5, "hydrochloric-2", null, "mg/L K", 0), (6, "hydrochloric-tenth-molar", null, "mg/L K", 0), (7, "sulfuric-twentieth-molar", null, "mg/L K", 0), (8, "hydroxide-tenth-molar", null, "mg/L K", 0),
        (9, "water", "NaNO3", "mg/L NO3", 1000), (10, "water", "KNO3", "mg/L NO3", 1000), (12, "water", "NaNO2", "mg/L NO2", 1000), (13, "water", "KH2PO4", "mg/L PO4", 1000),
        (14, "water", "NH4H2PO4", "mg/L PO4-P", 1000), (15, "nitric-half", "H3PO4", "mg/L PO4-P", 1000), (16, "water", "NH4Cl", "mg/L NH4", 1000), (17, "hydroxide-tenth-molar", "Na2SiO3", "mg/L Si", 1000),
        (18, "water", "(NH4)2SiF6", "mg/L Si", 1000), (19, "water", "Na2SiO3", "mg/L SiO2", 1000), (20, "water", "H3BO3", "mg/L B", 1000), (21, "water", "KI", "mg/L I", 1000), (22, "water", "KIO3", "mg/L I", 1000),
        (23, "water", "Na2CO3", "meq/L", 100), (24, "water", "CaCl2", "mg/L Ca", 1000), (25, "hydrochloric-tenth-molar", "CaCl2", "mg/L Ca", 1000), (26, "water", "NaCl", "mg/L Cl", 1000),
        (27, "water", "Na2SO4", "mg/L SO4", 1000), (28, "water", "KCl", "mg/L K", 1000), (29, "nitric-2", "KNO3", "mg/L K", 1000), (30, "nitric-2", "Ca(NO3)2", "mg/L Ca", 1000), (31, "nitric-2", "Mg(NO3)2", "mg/L Mg", 1000),
        (32, "nitric-2", "Sr(NO3)2", "mg/L Sr", 1000), (33, "nitric-2", "Fe(NO3)3", "mg/L Fe", 1000), (34, "nitric-2", "Cu(NO3)2", "mg/L Cu", 1000), (35, "nitric-2", "Ca(NO3)2", "mg/L Ca", 10000),
        (36, "sulfuric-twentieth-molar", "(NH4)2Fe(SO4)2", "mg/L Fe", 1000),
    ];

    public static TheoryData<int> Cases => [.. Enumerable.Range(0, Standards.Length)];

    // What 1 mL in 1 L adds, four digits in the table; alkalinity and ions in a litre of stock are a thousand times that.
    [Theory]
    [MemberData(nameof(Cases))]
    public void What_a_standard_brings_agrees_with_the_table(int which)
    {
        var (at, medium, salt, form, value) = Standards[which];
        var row = Table.Rows("standards/commercial_standard_media.csv")[at];
        var analyte = ReportingForm.Parse(form);
        var companions = StockMedium.Find(medium)!.Companions(analyte, value, salt is null ? null : ChemicalFormula.Parse(salt));
        double PerMillilitre(string species, string inForm) =>
            companions.Where(c => c.Species == species).Sum(c => FormConversion.Convert(c.PerLitreOfStock, c.Form, ReportingForm.Parse(inForm), parameter: species == "alkalinity" ? Parameter.Find(species) : null).Value) / 1000;
        void Same(double expected, double computed) => Assert.Equal(expected, computed, 6e-4 * Math.Abs(expected));

        Same(Table.Number(row[6]) - (analyte.Species == "NO3" ? value / 1000 : 0), PerMillilitre("nitrate", "mg/L NO3"));
        Same(analyte.Text == "meq/L" ? 0 : Table.Number(row[7]), PerMillilitre("alkalinity", "meq/L"));
        Same(analyte.Text == "meq/L" ? 0 : Table.Number(row[8]), PerMillilitre("alkalinity", "dKH"));
        // the analyte's own nitrogen is no companion
        Same(analyte.Species == "NH4" ? 0 : Table.Number(row[10]), PerMillilitre("total ammonia", "mg/L NH3-N"));
        foreach (Match ion in Regex.Matches(row[9], @"(\w+) (\d[\d.]*)", RegexOptions.None, TimeSpan.FromSeconds(1)))
        {
            var (name, unit) = ion.Groups[1].Value switch
            {
                "Na" => ("sodium", "mg/L Na"), "K" => ("potassium", "mg/L K"), "Cl" => ("chloride", "mg/L Cl"), "SO4" => ("sulfate", "mg/L SO4"), "NH4" => ("total ammonia", "mg/L NH4"), "F" => ("fluoride", "mg/L F"),
                _ => ("", ""),
            };
            // rows that offer two salts list the ion of the other one behind “or”
            if (name.Length > 0 && !(row[9].Contains(" or ", StringComparison.Ordinal) && name == "potassium"))
                Same(Table.Number(ion.Groups[2].Value), PerMillilitre(name, unit));
        }
    }

    // the table names what each spoils; pH stands there only beside strong acid and alkali, here always beside alkalinity. Row 16 is an ammonium standard, row 19 says none below 0.05 meq/L
    [Theory]
    [MemberData(nameof(Cases))]
    public void What_a_standard_spoils_agrees_with_the_table(int which)
    {
        var (at, medium, salt, form, value) = Standards[which];
        var said = Table.Rows("standards/commercial_standard_media.csv")[at][11];
        var spoiled = StockMedium.Spoiled(StockMedium.Find(medium)!.Companions(ReportingForm.Parse(form), value, salt is null ? null : ChemicalFormula.Parse(salt)));
        Assert.Equal(said.Contains("alkalinity", StringComparison.Ordinal), spoiled.Contains("alkalinity"));
        Assert.Equal(said.StartsWith("total ammonia", StringComparison.Ordinal), spoiled.Contains("total ammonia"));
        if (at is not (12 or 14))
            Assert.Equal(said.Split(';')[0] == "nitrate", spoiled.Contains("nitrate"));
    }

    // 1.409 kg/L × 0.69 / 63.012 g/mol = 15.43 mol/L; 2 % of it 0.3086 mol/L, one for one against alkalinity
    [Fact]
    public void Nitric_acid_of_two_percent_takes_alkalinity_and_brings_nitrate()
    {
        var acid = StockMedium.Find("nitric-2")!;
        Assert.Equal(0.3086, acid.MolesPerLitre, 5e-5);
        Assert.Equal(["nitrate", "alkalinity", "pH"], StockMedium.Spoiled(acid.Companions(ReportingForm.Parse("mg/L K"), 1000)));
        Assert.Empty(StockMedium.Find("water")!.Companions(ReportingForm.Parse("mg/L K"), 1000));
        Assert.Empty(StockMedium.Spoiled(StockMedium.Find("water")!.Companions(ReportingForm.Parse("mg/L K"), 1000, ChemicalFormula.Parse("KCl"))));
    }

    [Fact]
    public void A_medium_of_one_s_own_has_a_strength_within_limits()
    {
        var own = StockMedium.Other(ChemicalFormula.Parse("KOH"), 0.2);
        var companions = own.Companions(ReportingForm.Parse("mg/L SiO2"), 0);
        Assert.Equal(200, companions.Single(c => c.Species == "alkalinity").PerLitreOfStock, 1e-9);
        Assert.Contains("25 mol/L", Assert.Throws<PreparationException>(() => StockMedium.Other(ChemicalFormula.Parse("HCl"), 25)).Message);
        Assert.Throws<PreparationException>(() => StockMedium.Other(ChemicalFormula.Parse("HCl"), double.NaN));
    }
}
