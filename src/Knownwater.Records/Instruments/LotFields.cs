using NodaTime;

namespace Knownwater.Records.Instruments;

/// <summary>The fields of a lot as typed.</summary>
internal static class LotFields
{
    public static void Read(TypedFields fields, Lot lot, string name, string reagent, string openedOn, string expiresOn, LocalDate today)
    {
        lot.Name = fields.Needed("Name", name, "The lot has no name yet. Write what stands on the bottle.", 80);
        lot.Reagent = fields.Optional("Reagent", reagent, 80);
        lot.OpenedOn = fields.Day("OpenedOn", openedOn) ?? today;
        lot.ExpiresOn = fields.Day("ExpiresOn", expiresOn);
        if (lot.OpenedOn > today)
            fields.Fault("OpenedOn", $"{Words.DayAndYear(lot.OpenedOn)} has not come yet. Write the day on which it was opened.");
    }
}
