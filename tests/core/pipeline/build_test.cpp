// SPDX-License-Identifier: MIT
#include "tests/core/pipeline/bracket.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

std::shared_ptr<const pipeline::Marked> built(pipeline::Evaluator& evaluator, const job::Job& job) {
    return evaluator.build(job, bracket(), Progress()).value();
}

job::Job three_marks() {
    job::Job job = with_mark({}, {.text = "NW-2207", .at = {-8, 8}});
    job = with_mark(job, {.text = "LOT 48", .mode = Mode::raise, .at = {-8, -4}});
    return with_mark(job, {.text = "TOP", .cap_height = 4, .normal = {0, 0, 1}});
}

// Computed: a prism's volume is its base times its height.
TEST(Build, ChangesTheVolumeByOutlineAreaTimesDepth) {
    pipeline::Evaluator evaluator;
    const job::Job job = three_marks();
    const auto evaluation = evaluated(evaluator, job);
    const auto marked = built(evaluator, job);
    ASSERT_EQ(marked->marks.size(), 3u);
    double sum = 0;
    for (std::size_t i = 0; i < 3; ++i) {
        const double sign = job.marks[i].mode == Mode::engrave ? -1 : 1;
        const double wanted = sign * geometry::area(evaluation->marks[i].placed) * job.marks[i].depth.value;
        EXPECT_NEAR(marked->marks[i].volume_change_mm3, wanted, 1e-6 * std::abs(wanted));
        sum += wanted;
    }
    EXPECT_NEAR(marked->volume_change_mm3, sum, 1e-6 * std::abs(sum));
    EXPECT_NEAR(marked->volume_after_mm3 - marked->volume_before_mm3, sum, 1e-6 * marked->volume_before_mm3);
    EXPECT_EQ(marked->route, imprint::Route::direct);
}

TEST(Build, ChangingTheLastMarkKeepsTheSolidOfTheOnesBefore) {
    pipeline::Evaluator evaluator;
    job::Job job = three_marks();
    (void)built(evaluator, job);
    job::Job first_two = job;
    first_two.marks.pop_back();
    const auto before = built(evaluator, first_two)->part;
    job.marks.back().depth = Mm(0.8);
    const auto changed = built(evaluator, job);
    EXPECT_EQ(built(evaluator, first_two)->part, before);
    EXPECT_EQ(built(evaluator, job)->part, changed->part);
}

TEST(Build, ComesOutTheSameStepByStepAndAtOnce) {
    pipeline::Evaluator stepwise, at_once;
    const job::Job job = three_marks();
    for (std::size_t count = 1; count <= job.marks.size(); ++count) {
        job::Job some = job;
        some.marks.resize(count);
        (void)built(stepwise, some);
    }
    const auto a = built(stepwise, job), b = built(at_once, job);
    EXPECT_EQ(a->part->faces().size(), b->part->faces().size());
    EXPECT_NEAR(a->volume_after_mm3, b->volume_after_mm3, 1e-9 * b->volume_after_mm3);
    EXPECT_NEAR(a->volume_change_mm3, b->volume_change_mm3, 1e-9 * std::abs(b->volume_change_mm3));
}

TEST(Build, WithoutMarksIsThePartItself) {
    pipeline::Evaluator evaluator;
    const auto marked = built(evaluator, {});
    EXPECT_EQ(marked->part, bracket().part);
    EXPECT_EQ(marked->volume_change_mm3, 0);
}

TEST(Build, RefusesMarksThatLieOnEachOther) {
    pipeline::Evaluator evaluator;
    const job::Job job = with_mark(with_mark({}, {.at = {-4, 0}}), {.text = "LOT 48", .at = {-3, 1}});
    const auto marked = evaluator.build(job, bracket(), Progress());
    ASSERT_FALSE(marked);
    EXPECT_EQ(marked.error().code, "imprint.overlap");
}

} // namespace
} // namespace touchmark::test
