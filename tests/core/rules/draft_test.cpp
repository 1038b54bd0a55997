// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

/// A bar, 1.5 mm wide.
Scene leaning(double draft, double depth, double rounding = 0, Mode mode = Mode::engrave) {
    Scene scene;
    Invented bar;
    bar.width_mm = 6;
    bar.height_mm = 1.5;
    const auto mark = scene.add(std::move(bar), scene.face_towards({0, -1, 0}));
    scene.job.marks[mark].mode = mode;
    scene.job.marks[mark].depth = Mm(depth);
    scene.job.marks[mark].draft = Degrees(draft);
    scene.job.marks[mark].floor_rounding = Mm(rounding);
    return scene;
}

// tan 30° is 0.577: at 1.25 mm the walls come in by 0.72 mm on each side of 1.5 mm, at 1.35 mm by 0.78 mm.
TEST(Draft, SpeaksWhereWallsWouldMeetBeforeTheFloor) {
    EXPECT_THAT(leaning(30, 1.25).findings("draft"), IsEmpty());
    EXPECT_THAT(leaning(30, 1.35).findings("draft"), ElementsAre(Blocks()));
    EXPECT_THAT(leaning(30, 1.35, 0, Mode::raise).findings("draft"), ElementsAre(Blocks()));
    EXPECT_THAT(leaning(0, 2, 0.7).findings("draft"), IsEmpty());
    EXPECT_THAT(leaning(0, 2, 0.8).findings("draft"), ElementsAre(Blocks()));
    EXPECT_THAT(leaning(0, 0.5, 0.6).findings("draft"), ElementsAre(Blocks())); // higher than the wall
}

TEST(Draft, IsSilentWhereWallsHaveNoShapeOfTheirOwn) {
    EXPECT_THAT(leaning(0, 2).findings("draft"), IsEmpty());
    for (const Mode mode : {Mode::hidden, Mode::through})
        EXPECT_THAT(leaning(30, 5, 1, mode).findings("draft"), IsEmpty()) << key_of(mode);
    EXPECT_THAT(leaning(0, 2, 1.2, Mode::raise).findings("draft"), IsEmpty()); // no floor to round
}

TEST(Draft, LowersTheDraftOrTheRounding) {
    const Scene steep = leaning(30, 1.35);
    const auto finding = steep.findings("draft").at(0);
    expect_complete_and_helpful(steep, finding);
    EXPECT_THAT(finding.message, HasSubstr("come in by 0.78 mm on each side"));
    // atan(0.745 / 1.35) = 28.9°
    EXPECT_EQ(fix_of(finding, "draft")->title, "Draft 30 → 28.5°");
    const Scene round = leaning(0, 2, 0.8);
    const auto other = round.findings("draft").at(0);
    expect_complete_and_helpful(round, other);
    EXPECT_EQ(fix_of(other, "floor_rounding")->title, "Floor radius 0.8 → 0.7 mm");
}

} // namespace
} // namespace touchmark::test
