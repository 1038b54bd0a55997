// SPDX-License-Identifier: MIT
#include "core/pipeline/layers.h"

#include "tests/core/pipeline/bracket.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

print::Layers layers_of(const job::Job& job) {
    pipeline::Evaluator evaluator;
    const auto& process = *std::ranges::find(*bracket().processes, job.process, &process::Process::id);
    return pipeline::print_layers(*evaluated(evaluator, job), 0, process, Progress()).value();
}

TEST(LayersOfAJob, RunAcrossALineOfTextOnAWallOneALayerHeight) {
    const print::Layers out = layers_of(with_mark({}, {.text = "HHH", .cap_height = 5}));
    EXPECT_TRUE(out.across);
    // 5 mm in layers of 0.2 are 25, one more or less where they begin, and the one that hangs over the notches.
    EXPECT_NEAR(static_cast<double>(out.layers.size()), 25, 1.5);
    EXPECT_EQ(out.extra.islands, 0U);
    EXPECT_GT(out.extra.outline_mm, 0);
}

TEST(LayersOfAJob, OnTheHighestFaceARaisedMarkHasItsLayersToItself) {
    const job::Job raised =
        with_mark({}, {.text = "OO", .cap_height = 8, .mode = Mode::raise, .depth = 0.6, .normal = {0, 0, 1}});
    pipeline::Evaluator evaluator;
    const auto evaluation = evaluated(evaluator, raised);
    const auto& own = evaluation->marks[0];
    ASSERT_EQ(own.zone, Zone::top);
    const double height = evaluation->placement(own.map->point(raised.marks[0].anchor.at)).z;
    const print::Layers out = layers_of(raised);
    ASSERT_EQ(out.layers.size(), 3U);
    EXPECT_EQ(out.extra.raised_islands, 2U);
    EXPECT_EQ(out.extra.outlines, 3 * 4U); // each O is a ring
    const bool highest = height > evaluation->height_mm - 0.1;
    // The profile's least layer time is 10 s; two letters alone take less.
    EXPECT_EQ(out.extra.seconds >= 30 - 1e-9, highest);
    EXPECT_LT(out.layers[0].islands_s, 10);
}

TEST(LayersOfAJob, OfAMarkThatCannotBeDrawnAreRefused) {
    job::Job job = with_mark({}, {});
    job.marks[0].anchor.face = 9999;
    pipeline::Evaluator evaluator;
    const auto& process = *std::ranges::find(*bracket().processes, job.process, &process::Process::id);
    const auto out = pipeline::print_layers(*evaluated(evaluator, job), 0, process, Progress());
    ASSERT_FALSE(out);
    EXPECT_EQ(out.error().code, "pipeline.not_drawn");
}

} // namespace
} // namespace touchmark::test
