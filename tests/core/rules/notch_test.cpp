// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using job::ClearReason;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Scene cut(double depth, double rest, std::optional<ClearReason> kept = {}, double rounding = 0) {
    Scene scene;
    Invented letter;
    letter.strokes = {narrow(2)};
    letter.pieces = {{"R", 0, 1, {}}};
    letter.wall_mm = rest;
    letter.mark.depth = Mm(depth);
    letter.mark.floor_rounding = Mm(rounding);
    const int face = scene.face_towards({0, -1, 0});
    scene.add(letter, face);
    if (kept) scene.job = job::keep_clear(scene.job, {face, {}, *kept, {}}).value();
    return scene;
}

// Arithmetic; that half of a wall may go, and two thirds is too much, is assumed.
TEST(Notch, JudgesTheShareOfTheWallThatACutTakes) {
    EXPECT_THAT(cut(1.0, 1.01).findings("notch"), IsEmpty());
    EXPECT_THAT(cut(1.0, 0.99).findings("notch"), ElementsAre(Advises()));
    EXPECT_THAT(cut(1.0, 0.50).findings("notch"), ElementsAre(Advises())) << "66.7 %";
    EXPECT_THAT(cut(1.0, 0.49).findings("notch"), ElementsAre(Warns())) << "67.1 %";
    EXPECT_NEAR(cut(0.6, 0.4).findings("notch").at(0).figure, 60, 1e-9);
}

TEST(Notch, IsAtRiskInALoadedFaceFromTheStart) {
    EXPECT_THAT(cut(1.0, 0.99, ClearReason::load_bearing, 0.3).findings("notch"), ElementsAre(Warns()));
    EXPECT_THAT(cut(1.0, 0.99, ClearReason::sealing, 0.3).findings("notch"), ElementsAre(Advises()));
}

// Common practice, no source: sharp inner corners start cracks. Assumed: half a line, 0.21 mm, is the sharpest that a
// line lays.
TEST(Notch, SpeaksOfSharpCornersInALoadedFaceOnly) {
    EXPECT_THAT(cut(0.5, 5).findings("notch"), IsEmpty());
    EXPECT_THAT(cut(0.5, 5, ClearReason::mating).findings("notch"), IsEmpty());
    EXPECT_THAT(cut(0.5, 5, ClearReason::load_bearing).findings("notch"), ElementsAre(Warns()));
    EXPECT_THAT(cut(0.5, 5, ClearReason::load_bearing, 0.20).findings("notch"), ElementsAre(Warns()));
    EXPECT_THAT(cut(0.5, 5, ClearReason::load_bearing, 0.21).findings("notch"), IsEmpty());
}

TEST(Notch, OffersLessDepthAndARoundedFloor) {
    const Scene thin = cut(1.0, 0.8), sharp = cut(0.5, 5, ClearReason::load_bearing);
    const auto share = thin.findings("notch").at(0), corner = sharp.findings("notch").at(0);
    ASSERT_NE(fix_of(share, "shallower"), nullptr);
    EXPECT_EQ(fix_of(share, "shallower")->title, "Depth 1 → 0.9 mm");
    ASSERT_NE(fix_of(corner, "floor_rounding"), nullptr);
    EXPECT_EQ(fix_of(corner, "floor_rounding")->title, "Floor radius 0 → 0.25 mm");
    EXPECT_THAT(corner.message, HasSubstr("for the engineer responsible for it to say"));
    expect_complete_and_helpful(thin, share);
    expect_complete_and_helpful(sharp, corner);
}

} // namespace
} // namespace touchmark::test
