// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

/// One raised square on the part's highest face, as the bracket lies with its foot's upper side up.
Scene square_on_top(double side, Mode mode = Mode::raise) {
    Scene scene;
    Invented one;
    one.width_mm = one.height_mm = side;
    one.strokes = {narrow(side)};
    one.mark.mode = mode;
    scene.job.pose = plate::with_down({}, {0, 0, 1});
    scene.add(one, scene.face_towards({0, 0, -1}));
    return scene;
}

// The closed form: area over line width over speed, and a retraction. 0.42 mm, 50 mm/s, 0.1 s and 10 s are the
// profile's planning figures; no source.
TEST(IslandHeat, IsAreaInLinesAndARetractionAgainstTheLeastTimeOfALayer) {
    const auto findings = square_on_top(10).findings("island_heat");
    ASSERT_THAT(findings, ElementsAre(Warns()));
    EXPECT_NEAR(findings[0].figure, 100 / 0.42 / 50 + 0.1, 1e-9);
    EXPECT_EQ(findings[0].limit, 10);
    EXPECT_THAT(findings[0].message, HasSubstr("after 4.9 s"));
    EXPECT_THAT(square_on_top(14.4).findings("island_heat"), ElementsAre(Warns())); // 9.97 s
    EXPECT_THAT(square_on_top(14.5).findings("island_heat"), IsEmpty());            // 10.11 s
}

// Common practice, no source: on top cut rather than raise; a side wall before either.
TEST(IslandHeat, IsNoMatterOfACutOrAWall) {
    EXPECT_THAT(square_on_top(5, Mode::engrave).findings("island_heat"), IsEmpty());
    Scene wall;
    Invented one;
    one.mark.mode = Mode::raise;
    wall.add(one, wall.face_towards({0, -1, 0}));
    EXPECT_THAT(wall.findings("island_heat"), IsEmpty());
}

TEST(IslandHeat, OffersACut) {
    const Scene scene = square_on_top(10);
    const auto finding = scene.findings("island_heat").at(0);
    ASSERT_NE(fix_of(finding, "engrave"), nullptr);
    expect_complete_and_helpful(scene, finding);
}

TEST(IslandHeat, IsSharedByMarksOnTheSameFace) {
    Scene scene = square_on_top(10);
    Invented other;
    other.width_mm = other.height_mm = 12;
    other.strokes = {narrow(12)};
    other.mark.mode = Mode::raise;
    scene.add(other, scene.face_towards({0, 0, -1}), {20, 0});
    EXPECT_THAT(scene.findings("island_heat"), IsEmpty()); // 4.9 and 7 s
}

} // namespace
} // namespace touchmark::test
