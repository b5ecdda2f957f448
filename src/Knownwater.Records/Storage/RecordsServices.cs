using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Demo;
using Knownwater.Records.Drift;
using Knownwater.Records.Due;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Preparation;
using Knownwater.Records.Seawater;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tanks;
using Microsoft.Extensions.DependencyInjection;

namespace Knownwater.Records.Storage;

/// <summary>Registers the records and their use cases.</summary>
public static class RecordsServices
{
    private static readonly Type[] UseCases =
    [
        typeof(ViewBench), typeof(ChangeBench),
        typeof(PairDevice), typeof(RecogniseDevice), typeof(ListDevices), typeof(RemoveDevice),
        typeof(PlanReplicates), typeof(StartCheck), typeof(KeepReading), typeof(ChangeReading), typeof(ExcludeReading), typeof(IncludeReading),
        typeof(ExtendCheck), typeof(StopCheck), typeof(ChangePlannedReplicates), typeof(DescribeCheck), typeof(DiscardCheck), typeof(RepeatCheck),
        typeof(ViewCheck), typeof(ListChecks), typeof(ReadRunPlan), typeof(DiagnoseCheck),
        typeof(BeginRun), typeof(KeepRunEvents), typeof(KeepRunPhoto), typeof(ViewRun), typeof(ViewRunPhoto),
        typeof(ViewProcedure), typeof(ChangeProcedure), typeof(ReadGuards), typeof(PassGuards), typeof(ReadDosing), typeof(ResumeDosing),
        typeof(ListInstruments), typeof(ViewInstrument), typeof(AddInstrument), typeof(ChangeInstrument), typeof(RecordSetting), typeof(AddMethod),
        typeof(ChangeMethod), typeof(OpenLot), typeof(ChangeLot), typeof(EmptyLot), typeof(RemoveInstrument), typeof(RemoveMethod),
        typeof(AddReferenceWater), typeof(ListReferenceWaters), typeof(ViewReferenceWater), typeof(ChangeReferenceWater), typeof(RemoveReferenceWater),
        typeof(ViewShelf), typeof(DrawFromShelf), typeof(FindByCode), typeof(PourAsItIs),
        typeof(AddStock), typeof(WeighStock), typeof(AddStockValue), typeof(ChangeStock), typeof(OpenStock), typeof(ListStocks), typeof(ViewStock), typeof(RemoveStock),
        typeof(MixSeawater), typeof(AddNutrientFree), typeof(ChangeNutrientFree), typeof(NoteBackground), typeof(RemoveNutrientFree), typeof(ListNutrientFree),
        typeof(AddGlassware), typeof(ListGlassware), typeof(ViewGlassware), typeof(ChangeGlassware), typeof(RemoveGlassware),
        typeof(StartProof), typeof(KeepWeighing), typeof(ChangeWeighing), typeof(FinishProof), typeof(RemoveProof), typeof(ViewProof),
        typeof(PlanPreparation), typeof(ViewPreparation), typeof(ListPreparations), typeof(RecordAct), typeof(FinishPreparation), typeof(ReckonAnew),
        typeof(PlanRound), typeof(ListRounds), typeof(ViewRound), typeof(RemoveRound),
        typeof(LookAtWater),
        typeof(ViewDrift), typeof(ViewCharts), typeof(ListDrift), typeof(ChangeDriftWatch), typeof(CloseAlarm), typeof(ListDates), typeof(OpenCalendarFeed), typeof(CloseCalendarFeed), typeof(ReadCalendarFeed), typeof(ListDue), typeof(ListHistory), typeof(Undo), typeof(LoadDemo),
        typeof(AddTank), typeof(ChangeTank), typeof(RemoveTank), typeof(ListTanks), typeof(ViewTank), typeof(OfferEntryLines), typeof(EnterReadings), typeof(ChangeTankReading),
        typeof(RemoveTankReading), typeof(ListTankReadings), typeof(RecordDose), typeof(ChangeDose), typeof(RemoveDose), typeof(ListDoses),
        typeof(LookBack), typeof(ClearDoubt), typeof(LatestTankReading),
    ];

    /// <summary>Registers the store, its clock, a unit of work a scope on the default bench, and every use case.</summary>
    /// <param name="services">Where to register.</param>
    /// <param name="store">The open store.</param>
    /// <returns>The same collection.</returns>
    public static IServiceCollection AddRecords(this IServiceCollection services, RecordsStore store)
    {
        ArgumentNullException.ThrowIfNull(services);
        ArgumentNullException.ThrowIfNull(store);
        services.AddSingleton(store);
        services.AddSingleton(store.Clock);
        services.AddScoped(_ => store.NewContext());
        foreach (var useCase in UseCases)
            services.AddScoped(useCase);
        return services;
    }
}
