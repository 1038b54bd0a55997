// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

Scene cut_through(bool counter, std::string no_far_side = "") {
    Scene scene;
    Invented letter;
    letter.pieces = {{"R", 0, 1, {}}};
    letter.strokes = {narrow(1.5)};
    letter.mark.mode = Mode::through;
    letter.counter = counter;
    letter.no_far_side = std::move(no_far_side);
    scene.add(letter, scene.face_towards({0, -1, 0}));
    return scene;
}

// Computed: what stands inside a closed outline is held by nothing once the outline is cut through.
TEST(Opening, ACounterFallsOut) {
    EXPECT_THAT(cut_through(false).findings("opening"), IsEmpty());
    const Scene scene = cut_through(true);
    ASSERT_THAT(scene.findings("opening"), ElementsAre(Blocks()));
    const auto finding = scene.findings("opening").at(0);
    expect_complete_and_helpful(scene, finding);
    EXPECT_THAT(scene.findings("opening", fix_of(finding, "engrave")->edit(scene.job).value()), IsEmpty());
}

TEST(Opening, OffersBridgesThatHoldIt) {
    const Scene scene = cut_through(true);
    const auto finding = scene.findings("opening").at(0);
    const rules::Fix* fix = fix_of(finding, "bridges");
    ASSERT_NE(fix, nullptr);
    const job::Job held = fix->edit(scene.job).value();
    EXPECT_EQ(held.marks.front().bridges, job::Bridging::automatic);
    EXPECT_THAT(scene.findings("opening", held), IsEmpty());
}

TEST(Opening, SaysWhyThereIsNoFarSide) {
    const Scene scene = cut_through(false, "There is no far side.");
    ASSERT_THAT(scene.findings("opening"), ElementsAre(Blocks()));
    EXPECT_EQ(scene.findings("opening").at(0).message, "There is no far side.");
    expect_complete_and_helpful(scene, scene.findings("opening").at(0));
}

} // namespace
} // namespace touchmark::test
