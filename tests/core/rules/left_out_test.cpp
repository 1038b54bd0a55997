// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Computed: what the reader of the drawing counted.
TEST(LeftOut, NamesWhatTheDrawingLoses) {
    Scene scene;
    Invented art;
    art.pieces = {{"badge.svg", 0, 1, {}}};
    art.strokes = {narrow(1.5)};
    scene.add(art, scene.face_towards({0, -1, 0}));
    EXPECT_THAT(scene.findings("left_out"), IsEmpty());

    art.notes = {{"text", 2, true}, {"half-transparent parts, made solid", 1, false}};
    scene.add(art, scene.face_towards({0, -1, 0}));
    EXPECT_THAT(scene.findings("left_out"), ElementsAre(Warns(), Advises()));
    const auto finding = scene.findings("left_out").at(0);
    EXPECT_EQ(finding.message, "Of the drawing is left out: text (2).");
    EXPECT_EQ(finding.figure, 2);
    EXPECT_EQ(scene.findings("left_out").at(1).message,
              "Of the drawing is changed: half-transparent parts, made solid.");
}

} // namespace
} // namespace touchmark::test
