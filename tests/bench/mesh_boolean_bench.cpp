// SPDX-License-Identifier: MIT
// Marks put straight into the shell, all checks included, against manifold-3d's boolean of triangle meshes doing the
// same cut on the tessellation (its boolean alone, meshes made before; as WebAssembly in node), side by side in one
// run. The environment variable TOUCHMARK_MANIFOLD names the folder that tests/support/fetch_manifold fills.
#include "tests/bench/lettered.h"
#include "tests/reference/mesh_boolean.h"

#include <benchmark/benchmark.h>

namespace {

using namespace touchmark;
using bench::Kind;

void direct(benchmark::State& state) {
    const auto kind = static_cast<Kind>(state.range(0));
    const part::PartPtr part = bench::part_for(kind);
    const imprint::Footprint mark = bench::footprint(part, kind, static_cast<int>(state.range(1)));
    benchmark::DoNotOptimize(part::tessellate(*part, {}, Progress()).value()); // the desktop has it already
    for (auto _ : state) {
        const auto made = imprint::imprint(part, std::span(&mark, 1), {}, Progress()).value();
        if (made.marks[0].route != imprint::Route::direct) state.SkipWithError("not made directly");
    }
}

void mesh_boolean(benchmark::State& state) {
    const auto kind = static_cast<Kind>(state.range(0));
    const part::PartPtr part = bench::part_for(kind);
    // As fine as a picture asks for, not as a measurement does.
    const test::MeshCase one{"bench", part, bench::footprint(part, kind, static_cast<int>(state.range(1))),
                             0.02,    2e-3, 0.5};
    for (auto _ : state) {
        const test::MeshResult result = test::mesh_booleans({one}, 3).front();
        if (result.status != "NoError") state.SkipWithError(result.status.c_str());
        state.SetIterationTime(result.milliseconds / 1000);
    }
}

constexpr auto sizes = [](benchmark::internal::Benchmark* bench) {
    bench->ArgNames({"cylinder", "glyphs"})
        ->Unit(benchmark::kMillisecond)
        ->ArgsProduct({{bench::plane, bench::cylinder}, {10, 100, 1000}});
};

BENCHMARK(direct)->Apply(sizes)->UseRealTime();
BENCHMARK(mesh_boolean)->Apply(sizes)->UseManualTime()->Iterations(3);

} // namespace

BENCHMARK_MAIN();
