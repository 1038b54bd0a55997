// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <cmath>
#include <gtest/gtest.h>
#include <numbers>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

constexpr double degree = std::numbers::pi / 180;

/// On the front wall, the part tipped back until that lies `tilt` degrees from level.
Scene on_slope(double stroke, double tilt, double depth = 0.8, Mode mode = Mode::engrave) {
    Scene scene;
    const std::size_t mark = scene.add_letter(stroke);
    scene.job.marks[mark].depth = Mm(depth);
    scene.job.marks[mark].mode = mode;
    // The wall faces −y; that direction is to lie `tilt` from straight up.
    scene.job.pose.down = {0, std::cos(tilt * degree), -std::sin(tilt * degree)};
    return scene;
}

// Plane geometry: a layer t high shows on a face tilted by a from level as a step t / sin a long. With t = 0.2 mm and
// a = 30° that is 0.4 mm. Assumed: half a stroke is fine, a whole one is too much.
TEST(StairSteps, HoldsTheStepAgainstTheStroke) {
    EXPECT_THAT(on_slope(0.801, 30).findings("stair_steps"), IsEmpty());
    EXPECT_THAT(on_slope(0.799, 30).findings("stair_steps"), ElementsAre(Advises()));
    EXPECT_THAT(on_slope(0.401, 30).findings("stair_steps"), ElementsAre(Advises()));
    EXPECT_THAT(on_slope(0.399, 30).findings("stair_steps"), ElementsAre(Warns()));
    EXPECT_NEAR(on_slope(0.799, 30).findings("stair_steps").at(0).figure, 0.4 / 0.799, 1e-9);
}

// The same step stands t cos a off the face: 0.2 · cos 30° = 0.1732 mm.
TEST(StairSteps, HoldsItsHeightAgainstTheDepth) {
    const double step = 0.2 * std::cos(30 * degree);
    EXPECT_THAT(on_slope(1.5, 30, 2 * step + 1e-3).findings("stair_steps"), IsEmpty());
    EXPECT_THAT(on_slope(1.5, 30, 2 * step - 1e-3).findings("stair_steps"), ElementsAre(Advises()));
    EXPECT_THAT(on_slope(1.5, 30, step - 1e-3).findings("stair_steps"), ElementsAre(Warns()));
}

TEST(StairSteps, SaysNothingOnWallsAndLevelFacesAndOfHiddenMarks) {
    EXPECT_THAT(on_slope(0.3, 90, 0.1).findings("stair_steps"), IsEmpty()) << "a side wall";
    EXPECT_THAT(on_slope(0.3, 0, 0.1).findings("stair_steps"), IsEmpty()) << "level";
    EXPECT_THAT(on_slope(0.3, 30, 0.1, Mode::hidden).findings("stair_steps"), IsEmpty());
}

// 0.2 / sin 2° = 5.7 mm wide, 0.2 cos 2° = 0.2 mm high; the mark is 10 × 5 mm.
TEST(StairSteps, LooksAtTheHeightAloneOfTerracesOnANearlyLevelFace) {
    EXPECT_THAT(on_slope(1.5, 2, 0.8).findings("stair_steps"), IsEmpty());
    EXPECT_THAT(on_slope(1.5, 2, 0.3).findings("stair_steps"), ElementsAre(Advises()));
    // 0.2 / sin 0.5° = 23 mm: none need end under the mark.
    EXPECT_THAT(on_slope(1.5, 0.5, 0.3).findings("stair_steps"), IsEmpty());
}

TEST(StairSteps, OffersWhatHelps) {
    const Scene thin = on_slope(0.7, 30), shallow = on_slope(1.5, 30, 0.3);
    const auto wide = thin.findings("stair_steps").at(0), high = shallow.findings("stair_steps").at(0);
    EXPECT_NE(fix_of(wide, "cap_height"), nullptr);
    ASSERT_NE(fix_of(high, "depth"), nullptr);
    EXPECT_EQ(fix_of(high, "depth")->title, "Depth 0.3 → 0.35 mm");
    expect_complete_and_helpful(thin, wide);
    expect_complete_and_helpful(shallow, high);
}

} // namespace
} // namespace touchmark::test
