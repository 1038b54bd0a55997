// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Scene lit(double contrast, double wall_mm, bool measured = false) {
    Scene scene;
    Invented letter;
    letter.strokes = {narrow(1.5)};
    letter.pieces = {{"R", 0, 1, {}}};
    letter.mark.mode = Mode::hidden;
    auto print = std::make_shared<print::PrintedMark>();
    print->light.emplace();
    print->light->contrast = {1, contrast};
    print->light->thinnest_mm = 1;
    print->light->thickest_mm = wall_mm;
    print->light->measured = measured;
    letter.printed = print;
    scene.add(letter, scene.face_towards({0, -1, 0}));
    return scene;
}

// Assumed limits: 0.05 and 0.1, two and five times what an eye just tells apart.
TEST(Light, WantsContrast) {
    EXPECT_THAT(lit(0.1, 3).findings("light"), IsEmpty());
    EXPECT_THAT(lit(0.09, 3).findings("light"), ElementsAre(Warns()));
    EXPECT_THAT(lit(0.04, 3).findings("light"), ElementsAre(Blocks()));
    EXPECT_THAT(lit(0.04, 3).findings("light").at(0).message, HasSubstr("0.04 by the profile's planning figure"));
    EXPECT_THAT(lit(0.04, 3, true).findings("light").at(0).message, HasSubstr("by the shop's wedge"));
}

// Lambert and Beer with the profile's 1 / mm: a thousandth comes through 6.9 mm, a hundred-thousandth through 11.5 mm.
TEST(Light, WantsAWallThatLightComesThrough) {
    EXPECT_THAT(lit(1, 6.9).findings("light"), IsEmpty());
    EXPECT_THAT(lit(1, 6.95).findings("light"), ElementsAre(Warns()));
    EXPECT_THAT(lit(1, 11.6).findings("light"), ElementsAre(Blocks()));
    EXPECT_THAT(lit(1, 9).findings("light").at(0).message, HasSubstr("9.00 mm"));
}

} // namespace
} // namespace touchmark::test
