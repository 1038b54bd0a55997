// SPDX-License-Identifier: MIT
#pragma once

// The demo bracket for benchmarks: read once, before the clock starts.

#include "core/part/reader.h"
#include "core/pipeline/evaluate.h"

#include <benchmark/benchmark.h>
#include <iostream>

namespace touchmark::bench {

inline std::shared_ptr<part::Reader> reader; ///< there once run() has been called

inline const pipeline::Surroundings& around() {
    static const pipeline::Surroundings made = [] {
        const std::filesystem::path resources = TOUCHMARK_RESOURCES;
        return pipeline::Surroundings{reader->read(resources / "demo" / "sensor-bracket.step", Progress()).value(),
                                      content::FontLibrary::system().value(),
                                      std::make_shared<const std::vector<process::Process>>(
                                          process::load_processes(resources / "processes").value())};
    }();
    return made;
}

/// The largest flat face whose normal is this.
inline int face_towards(Vec3 normal) {
    int best = -1;
    double area = 0;
    for (const part::Face& face : around().part->faces())
        if (face.kind == part::FaceKind::plane && dot(face.frame.z, normal) > 0.999 && face.area_mm2 > area)
            best = face.index, area = face.area_mm2;
    return best;
}

/// The whole of main().
inline int run(int argc, char** argv) {
    auto started = part::Reader::start(); // forks, so before anything else
    if (!started) return std::cerr << started.error().message << '\n', 1;
    reader = *started;
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
    return 0;
}

} // namespace touchmark::bench
