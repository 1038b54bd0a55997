// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

/// A mark 0.5 mm deep with this much material behind it.
Scene with_wall(double wall) {
    Scene scene;
    Invented letter;
    letter.pieces = {{"R", 0, 1, {}}};
    letter.strokes = {narrow(1.5)};
    letter.wall_mm = wall;
    scene.add(letter, scene.face_towards({0, -1, 0}));
    return scene;
}

// Assumed, in the profile: two lines of 0.42 mm, a front and a back, have to fit into the wall; three are comfortable.
TEST(RemainingWall, JudgesTheWallAtItsLimitsFromBothSides) {
    EXPECT_THAT(with_wall(0.839).findings("remaining_wall"), ElementsAre(Blocks()));
    EXPECT_THAT(with_wall(0.841).findings("remaining_wall"), ElementsAre(Warns()));
    EXPECT_THAT(with_wall(1.259).findings("remaining_wall"), ElementsAre(Warns()));
    EXPECT_THAT(with_wall(1.26).findings("remaining_wall"), IsEmpty());
}

TEST(RemainingWall, CutsShallowerByWhatIsLacking) {
    const Scene scene = with_wall(1.1); // lacks 0.16 mm of 1.26 mm: 0.34 mm, rounded down
    const auto finding = scene.findings("remaining_wall").at(0);
    EXPECT_EQ(finding.message, "Behind the cut 1.10 mm of wall remain; 1.26 mm is comfortable.");
    const rules::Fix* fix = fix_of(finding, "shallower");
    ASSERT_NE(fix, nullptr);
    EXPECT_EQ(fix->title, "Depth 0.5 → 0.3 mm");
    EXPECT_THAT(scene.findings("remaining_wall", fix->edit(scene.job).value()), IsEmpty());
    expect_complete_and_helpful(scene, finding);
}

TEST(RemainingWall, DoesNotOfferADepthThatCannotBeMadeOut) {
    const Scene scene = with_wall(0.3); // would have to be less than nothing
    const auto finding = scene.findings("remaining_wall").at(0);
    EXPECT_EQ(fix_of(finding, "shallower"), nullptr);
    ASSERT_NE(fix_of(finding, "raise"), nullptr);
    expect_complete_and_helpful(scene, finding);
}

TEST(RemainingWall, SaysPlainlyThatACutGoesThrough) {
    EXPECT_EQ(with_wall(-0.2).findings("remaining_wall").at(0).message,
              "The cut goes through the wall behind it; 0.84 mm has to remain.");
}

// Computed: a mark as high as the room above it touches the face opposite.
TEST(RemainingWall, ARaisedMarkNeedsRoomAboveIt) {
    Scene scene;
    Invented letter;
    letter.pieces = {{"R", 0, 1, {}}};
    letter.strokes = {narrow(1.5)};
    letter.mark.mode = Mode::raise;
    letter.room_above_mm = 0.5;
    const auto mark = scene.add(letter, scene.face_towards({0, -1, 0}));
    EXPECT_THAT(scene.findings("remaining_wall"), ElementsAre(Blocks()));
    const auto finding = scene.findings("remaining_wall").at(0);
    EXPECT_NE(fix_of(finding, "shallower"), nullptr);
    expect_complete_and_helpful(scene, finding);
    scene.job.marks[mark].depth = Mm(0.45);
    EXPECT_THAT(scene.findings("remaining_wall"), IsEmpty());
}

} // namespace
} // namespace touchmark::test
