// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

Scene turned(double turn, Vec3 face = {0, -1, 0}) {
    Scene scene;
    Invented letter;
    letter.strokes = {narrow(1.5)};
    letter.pieces = {{"R", 0, 1, {}}};
    letter.mark.anchor.turn = Degrees(turn);
    scene.add(letter, scene.face_towards(face));
    return scene;
}

// Assumed: vertical lettering is read with the head tilted; beyond 135° it stands on its head.
TEST(UpsideDown, SpeaksOfLetteringOnItsHead) {
    for (const double turn : {0.0, 90.0, -90.0, 134.9, -134.9})
        EXPECT_THAT(turned(turn).findings("upside_down"), IsEmpty()) << turn;
    for (const double turn : {135.1, -135.1, 180.0})
        EXPECT_THAT(turned(turn).findings("upside_down"), ElementsAre(Advises())) << turn;
}

TEST(UpsideDown, GoesByThePose) {
    Scene scene = turned(0);
    scene.job.pose.down = {0, 0, 1};
    EXPECT_THAT(scene.findings("upside_down"), ElementsAre(Advises()));
    EXPECT_NEAR(scene.findings("upside_down")[0].figure, 180, 1e-9);
    scene.job.pose.down = {1, 0, 0}; // on its side
    EXPECT_THAT(scene.findings("upside_down"), IsEmpty());
}

TEST(UpsideDown, KnowsNoUpOnFacesThatLookUpOrDown) {
    EXPECT_THAT(turned(180, {0, 0, 1}).findings("upside_down"), IsEmpty());
    EXPECT_THAT(turned(180, {0, 0, -1}).findings("upside_down"), IsEmpty());
}

TEST(UpsideDown, TurnsItRound) {
    for (const double turn : {180.0, -150.0, 150.0}) {
        const Scene scene = turned(turn);
        const auto finding = scene.findings("upside_down").at(0);
        ASSERT_NE(fix_of(finding, "turn"), nullptr);
        EXPECT_EQ(fix_of(finding, "turn")->title, "Turn by 180°");
        expect_complete_and_helpful(scene, finding);
    }
}

} // namespace
} // namespace touchmark::test
