// SPDX-License-Identifier: MIT
// How long a frame takes while a mark is dragged (new relief, overlay on the kept base, pixels read back), beside a
// frame of the same scene without any mark, both drawn anew and over the same kept base. The goal is at most 1.2 times
// as long as the frame drawn anew. still_frame: one of the eight that make a still picture smooth.
// Run interleaved: --benchmark_repetitions=9 --benchmark_enable_random_interleaving=true, and compare real medians.
// TOUCHMARK_OPEN_PARTS: the folder of the open set.
#include "app/viewport/pixel_buffer.h"
#include "app/viewport/scene.h"
#include "core/content/content.h"
#include "core/imprint/imprint.h"
#include "core/part/reader.h"
#include "core/surface/face_map.h"
#include "tests/support/open_parts.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <stdexcept>
#include <string_view>

namespace {

using namespace touchmark;

constexpr std::string_view demo = "sensor-bracket.step";
std::shared_ptr<part::Reader> reader;

/// A part, and on which kind of its faces the mark lies.
struct Case {
    const char* file;
    part::FaceKind kind = part::FaceKind::plane;
};

/// A real part in view with 40 characters on its largest face of a kind.
struct Bench {
    explicit Bench(const Case& of) {
        const char* file = of.file;
        const std::filesystem::path path = std::string_view(file) == demo
                                               ? std::filesystem::path(TOUCHMARK_RESOURCES) / "demo" / demo
                                               : test::open_part(file);
        const auto part = reader->read(path, Progress());
        if (!part) throw std::runtime_error(part.error().message);
        const plate::Meshes meshes = part::tessellate(**part, {}, Progress()).value();
        for (const auto& mesh : meshes)
            triangles += mesh->triangles.size();
        buffer.host().resize(1280, 800);
        scene.set_part(meshes, {});
        scene.set_placement(plate::placement_of({}, meshes));
        camera.azimuth = 0.6;
        camera.elevation = 0.45;
        camera = viewport::fitted(camera, scene.box(), 1.6);

        std::vector<const part::Face*> faces;
        for (const part::Face& face : (*part)->faces())
            if (face.kind == of.kind) faces.push_back(&face);
        const auto largest = std::ranges::max_element(faces, {}, &part::Face::area_mm2);
        footprint.map = surface::map_face(**part, (*largest)->index).value();
        const auto fonts = content::FontLibrary::system().value();
        const content::Text words{.text = "The quick brown fox jumps over lazy dogs"};
        letters = content::draw(words, *fonts).value().outline;
    }

    viewport::MarkShape mark_at(double along) {
        footprint.outline =
            geometry::transformed(letters, surface::placement({std::sin(along), std::cos(along)}, Degrees(along)));
        viewport::MarkShape shape;
        shape.relief = imprint::relief(footprint);
        shape.selected = true;
        return shape;
    }
    void frame() {
        scene.prepare(camera, 1);
        benchmark::DoNotOptimize(buffer.draw().constBits());
    }

    viewport::PixelBuffer buffer;
    viewport::Scene scene{buffer.host()};
    viewport::Camera camera;
    imprint::Footprint footprint;
    geometry::Outline letters;
    std::size_t triangles = 0;
};

Bench& bench_of(const Case& of) {
    static std::map<std::string, std::unique_ptr<Bench>> benches;
    auto& bench = benches[of.file];
    if (!bench) bench = std::make_unique<Bench>(of);
    return *bench;
}

/// The scene with no mark, drawn as while the view is turned.
void bare_frame(benchmark::State& state, const Case& of) {
    Bench& bench = bench_of(of);
    bench.scene.set_marks({});
    bench.buffer.host().set_base_kept(false);
    bench.frame();
    for (auto _ : state)
        bench.frame();
    state.counters["triangles"] = static_cast<double>(bench.triangles);
}

/// The same over a kept base: what a drag would cost if it showed nothing.
void kept_frame(benchmark::State& state, const Case& of) {
    Bench& bench = bench_of(of);
    bench.scene.set_marks({});
    bench.buffer.host().set_base_kept(true);
    bench.frame();
    for (auto _ : state)
        bench.frame();
    bench.buffer.host().set_base_kept(false);
}

void still_frame(benchmark::State& state, const Case& of) {
    Bench& bench = bench_of(of);
    bench.buffer.host().set_base_kept(false);
    bench.scene.set_marks({bench.mark_at(0)});
    bench.frame();
    for (auto _ : state) {
        bench.buffer.host().refine();
        bench.frame();
    }
}

/// A step of the hand: the relief at a new place, drawn over the kept base.
void dragged_frame(benchmark::State& state, const Case& of) {
    Bench& bench = bench_of(of);
    bench.buffer.host().set_base_kept(true);
    bench.scene.set_marks({bench.mark_at(0)});
    bench.frame();
    double along = 0;
    for (auto _ : state) {
        bench.scene.set_marks({bench.mark_at(along += 0.1)});
        bench.frame();
    }
    bench.buffer.host().set_base_kept(false);
    state.counters["triangles"] = static_cast<double>(bench.triangles);
}

/// Of that, the relief alone.
void relief_alone(benchmark::State& state, const Case& of) {
    Bench& bench = bench_of(of);
    double along = 0;
    for (auto _ : state)
        benchmark::DoNotOptimize(bench.mark_at(along += 0.1));
}

} // namespace

int main(int argc, char** argv) {
    auto started = part::Reader::start(); // forks, so before anything else
    if (!started) {
        std::fprintf(stderr, "%s\n", started.error().message.c_str());
        return 1;
    }
    reader = *started;
    const std::pair<const char*, void (*)(benchmark::State&, const Case&)> measured[] = {
        {"bare_frame", bare_frame},   {"dragged_frame", dragged_frame}, {"kept_frame", kept_frame},
        {"still_frame", still_frame}, {"relief_alone", relief_alone},
    };
    for (const Case& of : {Case{demo.data()}, Case{"as1-oc-214.stp"}, Case{"frame.step"},
                           Case{"sg1-c5-214.stp", part::FaceKind::cylinder}})
        for (const auto& [name, run] : measured) {
            const std::string where = std::string(of.file) + ", " + std::string(part::key_of(of.kind)) + "/" + name;
            benchmark::RegisterBenchmark(where.c_str(), [run, of](benchmark::State& state) { run(state, of); })
                ->Unit(benchmark::kMillisecond)
                ->UseRealTime();
        }
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
    return 0;
}
