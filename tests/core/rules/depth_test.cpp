// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

Scene with_depth(double depth, Mode mode = Mode::engrave) {
    Scene scene;
    const auto mark = scene.add_letter(1.5);
    scene.job.marks[mark].depth = Mm(depth);
    scene.job.marks[mark].mode = mode;
    return scene;
}

// Assumed: one layer of 0.2 mm can be made out. Common practice, no source: cut 0.5 mm deep, not shallower.
TEST(Depth, JudgesAShallowCutAtItsLimitsFromBothSides) {
    EXPECT_THAT(with_depth(0.19).findings("depth"), ElementsAre(Blocks()));
    EXPECT_THAT(with_depth(0.2).findings("depth"), ElementsAre(Warns()));
    EXPECT_THAT(with_depth(0.49).findings("depth"), ElementsAre(Warns()));
    EXPECT_THAT(with_depth(0.5).findings("depth"), IsEmpty());
}

// Published guideline of one print service: cut lettering on vertical faces at most 1 mm deep, raised at most 0.6 mm
// high. Assumed: twice the cut, and 1 mm raised, do not print.
TEST(Depth, JudgesADeepCutAtItsLimitsFromBothSides) {
    EXPECT_THAT(with_depth(1.0).findings("depth"), IsEmpty());
    EXPECT_THAT(with_depth(1.01).findings("depth"), ElementsAre(Warns()));
    EXPECT_THAT(with_depth(2.0).findings("depth"), ElementsAre(Warns()));
    EXPECT_THAT(with_depth(2.01).findings("depth"), ElementsAre(Blocks()));
}

TEST(Depth, JudgesARaisedMarkAtItsLimitsFromBothSides) {
    EXPECT_THAT(with_depth(0.6, Mode::raise).findings("depth"), IsEmpty());
    EXPECT_THAT(with_depth(0.61, Mode::raise).findings("depth"), ElementsAre(Warns()));
    EXPECT_THAT(with_depth(1.01, Mode::raise).findings("depth"), ElementsAre(Blocks()));
}

TEST(Depth, SetsTheDepthToTheLimit) {
    const Scene shallow = with_depth(0.1), deep = with_depth(3.0), high = with_depth(0.9, Mode::raise);
    const auto titles = [](const Scene& scene) {
        const auto finding = scene.findings("depth").at(0);
        expect_complete_and_helpful(scene, finding);
        return finding.message + " " + fix_of(finding, "depth")->title;
    };
    EXPECT_EQ(titles(shallow), "The cut is only 0.10 mm deep; 0.20 mm can be made out. Depth 0.1 → 0.5 mm");
    EXPECT_EQ(titles(deep), "The cut is 3.00 mm deep; 2.00 mm is the most that prints. Depth 3 → 1 mm");
    EXPECT_EQ(titles(high), "The mark is 0.90 mm high; 0.60 mm is plenty. Height off the face 0.9 → 0.6 mm");
}

} // namespace
} // namespace touchmark::test
