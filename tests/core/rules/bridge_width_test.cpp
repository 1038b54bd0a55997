// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

Scene bridged(double width, Mode mode = Mode::through) {
    Scene scene;
    Invented letter;
    letter.pieces = {{"O", 0, 1, {}}};
    letter.strokes = {narrow(1.5)};
    letter.counter = true;
    letter.mark.mode = mode;
    letter.mark.bridges = job::Bridging::automatic;
    letter.mark.bridge_width = Mm(width);
    scene.add(letter, scene.face_towards({0, -1, 0}));
    return scene;
}

// Common practice, no source: two lines of 0.42 mm hold together, three bear handling.
TEST(BridgeWidth, IsJudgedAtItsLimitsFromBothSides) {
    EXPECT_THAT(bridged(0.83).findings("bridge_width"), ElementsAre(Blocks()));
    EXPECT_THAT(bridged(0.84).findings("bridge_width"), ElementsAre(Warns()));
    EXPECT_THAT(bridged(1.25).findings("bridge_width"), ElementsAre(Warns()));
    EXPECT_THAT(bridged(1.26).findings("bridge_width"), IsEmpty());
    EXPECT_THAT(bridged(0.1, Mode::engrave).findings("bridge_width"), IsEmpty()) << "nothing is cut through";
}

TEST(BridgeWidth, IsSetToTheLimit) {
    const Scene scene = bridged(0.4);
    const auto finding = scene.findings("bridge_width").at(0);
    expect_complete_and_helpful(scene, finding);
    EXPECT_EQ(finding.message, "Bridges are 0.40 mm wide; 0.84 mm holds together.");
    const rules::Fix* fix = fix_of(finding, "bridge_width");
    ASSERT_NE(fix, nullptr);
    EXPECT_EQ(fix->title, "Bridge width 0.4 → 1.3 mm");
    EXPECT_THAT(scene.findings("bridge_width", fix->edit(scene.job).value()), IsEmpty());
}

} // namespace
} // namespace touchmark::test
