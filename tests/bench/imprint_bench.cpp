// SPDX-License-Identifier: MIT
// Marks put straight into the shell, with all their checks, against OpenCASCADE's boolean as it comes; side by side in
// one run; parts and marks are those of lettered.h.
#include "core/imprint/general.h"
#include "core/imprint/site.h"
#include "tests/bench/lettered.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRep_Builder.hxx>
#include <TopoDS_Compound.hxx>
#include <benchmark/benchmark.h>

namespace {

using namespace touchmark;

using bench::footprint;
using bench::Kind;
using bench::part_for;

void direct(benchmark::State& state) {
    const auto kind = static_cast<Kind>(state.range(0));
    const part::PartPtr part = part_for(kind);
    const imprint::Footprint mark = footprint(part, kind, static_cast<int>(state.range(1)));
    const part::Deflection deflection;
    benchmark::DoNotOptimize(part::tessellate(*part, deflection, Progress()).value()); // the desktop has it already
    for (auto _ : state) {
        const auto made = imprint::imprint(part, std::span(&mark, 1), {}, Progress()).value();
        if (made.marks[0].route != imprint::Route::direct) state.SkipWithError("not made directly");
    }
}

void boolean_as_it_comes(benchmark::State& state) {
    const auto kind = static_cast<Kind>(state.range(0));
    const part::PartPtr part = part_for(kind);
    const imprint::Footprint mark = footprint(part, kind, static_cast<int>(state.range(1)));
    const imprint::Site site = imprint::site_of(mark, {});
    for (auto _ : state) {
        TopoDS_Compound tools;
        const BRep_Builder builder;
        builder.MakeCompound(tools);
        for (const geometry::Region& region : site.outline.regions)
            builder.Add(tools, imprint::prism_of(site, region, site.extent.low, 0.1).value());
        benchmark::DoNotOptimize(BRepAlgoAPI_Cut(part::occurrence(*part, 0).shape, tools).Shape());
    }
}

void dragged(benchmark::State& state) {
    const auto kind = static_cast<Kind>(state.range(0));
    const part::PartPtr part = part_for(kind);
    const imprint::Footprint mark = footprint(part, kind, static_cast<int>(state.range(1)));
    for (auto _ : state)
        benchmark::DoNotOptimize(imprint::relief(mark));
}

BENCHMARK(direct)->ArgsProduct({{bench::plane, bench::cylinder}, {10, 100, 1000}})->Unit(benchmark::kMillisecond);
BENCHMARK(boolean_as_it_comes)
    ->ArgsProduct({{bench::plane, bench::cylinder}, {10, 100}})
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

BENCHMARK(direct)->ArgsProduct({{bench::spline}, {10, 100}})->Unit(benchmark::kMillisecond);
BENCHMARK(boolean_as_it_comes)->ArgsProduct({{bench::spline}, {10}})->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK(dragged)->ArgsProduct({{bench::plane, bench::cylinder, bench::spline}, {40}})->Unit(benchmark::kMillisecond);
BENCHMARK(laid)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

} // namespace

BENCHMARK_MAIN();
