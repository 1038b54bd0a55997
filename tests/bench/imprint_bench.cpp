// SPDX-License-Identifier: MIT
// Marks put straight into the shell, with all their checks, against OpenCASCADE's boolean as it comes and at its best
// safe settings; side by side in one run; parts and marks are those of lettered.h.
#include "core/imprint/general.h"
#include "core/imprint/site.h"
#include "tests/bench/lettered.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <TopTools_ListOfShape.hxx>
#include <benchmark/benchmark.h>

#include <fstream>
#include <malloc.h>
#include <optional>
#include <string>

namespace {

using namespace touchmark;

using bench::footprint;
using bench::Kind;
using bench::part_for;

/// Most memory that the work takes beyond what the process holds at its start, from the kernel's own account.
class PeakMemory {
public:
    PeakMemory() {
        malloc_trim(0);
        std::ofstream("/proc/self/clear_refs") << '5'; // the peak starts anew
        start_ = kilobytes("VmRSS:");
    }
    [[nodiscard]] double megabytes() const { return (kilobytes("VmHWM:") - start_) / 1024; }

private:
    static double kilobytes(const std::string& row) {
        std::ifstream status("/proc/self/status");
        for (std::string word; status >> word;)
            if (double value = 0; word == row && status >> value) return value;
        return 0;
    }
    double start_ = 0;
};

void direct(benchmark::State& state) {
    const auto kind = static_cast<Kind>(state.range(0));
    const part::PartPtr part = part_for(kind);
    const imprint::Footprint mark = footprint(part, kind, static_cast<int>(state.range(1)));
    const part::Deflection deflection;
    benchmark::DoNotOptimize(part::tessellate(*part, deflection, Progress()).value()); // the desktop has it already
    const PeakMemory memory;
    for (auto _ : state) {
        auto made = imprint::imprint(part, std::span(&mark, 1), {}, Progress());
        state.PauseTiming(); // nobody waits for the old result to be thrown away
        if (!made || made->marks[0].route != imprint::Route::direct) state.SkipWithError("not made directly");
        made = imprint::Imprinted{};
        state.ResumeTiming();
    }
    state.counters["peak_MB"] = memory.megabytes();
}

void set_best(BRepAlgoAPI_Cut& cut) {
    cut.SetRunParallel(Standard_True);
    cut.SetUseOBB(Standard_True);
    cut.SetNonDestructive(Standard_True);
    cut.SetCheckInverted(Standard_False);
}

/// The boolean of OpenCASCADE, its result unchecked, with a tool a region.
void boolean(benchmark::State& state, bool at_its_best) {
    const auto kind = static_cast<Kind>(state.range(0));
    const part::PartPtr part = part_for(kind);
    const imprint::Footprint mark = footprint(part, kind, static_cast<int>(state.range(1)));
    const imprint::Site site = imprint::site_of(mark, {});
    const PeakMemory memory;
    for (auto _ : state) {
        TopTools_ListOfShape solids, tools;
        solids.Append(part::occurrence(*part, 0).shape);
        for (const geometry::Region& region : site.outline.regions)
            tools.Append(imprint::prism_of(site, region, site.extent.low, 0.1).value());
        std::optional<BRepAlgoAPI_Cut> cut(std::in_place);
        cut->SetArguments(solids);
        cut->SetTools(tools);
        if (at_its_best) set_best(*cut);
        cut->Build();
        benchmark::DoNotOptimize(cut->Shape());
        state.PauseTiming();
        state.counters["peak_MB"] = memory.megabytes();
        cut.reset();
        state.ResumeTiming();
    }
}
void boolean_as_it_comes(benchmark::State& state) {
    boolean(state, false);
}
void boolean_at_its_best(benchmark::State& state) {
    boolean(state, true);
}

void dragged(benchmark::State& state) {
    const auto kind = static_cast<Kind>(state.range(0));
    const part::PartPtr part = part_for(kind);
    const imprint::Footprint mark = footprint(part, kind, static_cast<int>(state.range(1)));
    for (auto _ : state)
        benchmark::DoNotOptimize(imprint::relief(mark));
}

constexpr int qr_3 = -3, qr_10 = -10;
BENCHMARK(direct)
    ->ArgsProduct({{bench::plane, bench::cylinder}, {10, 100, 1000, qr_3, qr_10}})
    ->ArgsProduct({{bench::spline}, {10, 100, qr_3}})
    ->Unit(benchmark::kMillisecond);
BENCHMARK(boolean_as_it_comes)
    ->ArgsProduct({{bench::plane, bench::cylinder}, {10, 100, qr_3, qr_10}})
    ->ArgsProduct({{bench::spline}, {10}})
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1);
BENCHMARK(boolean_at_its_best)
    ->ArgsProduct({{bench::plane, bench::cylinder}, {10, 100, qr_3, qr_10}})
    ->ArgsProduct({{bench::spline}, {10}})
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1);
/// A map about a new place, as each step of a drag wants it.
void laid(benchmark::State& state) {
    const part::PartPtr part = bench::waved_block();
    const auto whole = footprint(part, bench::spline, 1).map;
    double step = 0;
    for (auto _ : state)
        benchmark::DoNotOptimize(whole->about({step += 0.01, 0}, static_cast<Laying>(state.range(0))));
}

BENCHMARK(dragged)->ArgsProduct({{bench::plane, bench::cylinder, bench::spline}, {40}})->Unit(benchmark::kMillisecond);
BENCHMARK(laid)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

} // namespace

BENCHMARK_MAIN();
