// SPDX-License-Identifier: MIT
#include "core/rules/narrow.h"
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

#include <cmath>

namespace touchmark::rules {
namespace {

using geometry::Stretch;
using test::Scene;

constexpr double half = 0.5; // mm; common practice, no source: what a stroke needs with a 0.4 mm nozzle

Stretch leaning(double degrees, double width) {
    const double angle = degrees * std::numbers::pi / 180;
    return {width, 1, 0, {std::cos(angle), std::sin(angle)}};
}

// A layer cuts a stroke of width w that leans by an angle from the level at w / sin(angle): elementary geometry.
TEST(Layering, AsksForTheWidthThatALayerCuts) {
    const Layering upright{Vec2{0, 1}, 0.2};
    for (const double degrees : {30.0, 45.0, 60.0, 90.0, 120.0}) {
        const double needed = half * std::sin(degrees * std::numbers::pi / 180);
        EXPECT_TRUE(upright.too_narrow(leaning(degrees, needed - 0.01), half)) << degrees;
        EXPECT_FALSE(upright.too_narrow(leaning(degrees, needed + 0.01), half)) << degrees;
    }
}

TEST(Layering, AsksForALayersHeightOfALevelStroke) {
    const Layering upright{Vec2{0, 1}, 0.2};
    EXPECT_TRUE(upright.too_narrow(leaning(0, 0.19), half));
    EXPECT_FALSE(upright.too_narrow(leaning(0, 0.21), half));
}

TEST(Layering, TakesAllWaysForAlikeWhereLayersLieLikeTheFace) {
    for (const double degrees : {0.0, 45.0, 90.0}) {
        EXPECT_TRUE(Layering().too_narrow(leaning(degrees, 0.49), half));
        EXPECT_FALSE(Layering().too_narrow(leaning(degrees, 0.51), half));
    }
}

TEST(Layering, FollowsThePartAndTheMarksTurn) {
    Scene scene;
    scene.add_letter(1);
    const auto up = [&](double turn, Vec3 down) {
        scene.job.marks[0].anchor.turn = Degrees(turn);
        scene.job.pose = plate::with_down({}, down);
        const MarkView view = scene.view(scene.job, 0, Need::widths);
        return layering_of({scene.job, *scene.part, scene.process, *scene.fonts, scene.meshes, {}}, view).up;
    };
    const Vec2 upright = up(0, {0, 0, -1}).value(), turned = up(90, {0, 0, -1}).value();
    EXPECT_NEAR(upright.y, 1, 1e-9);
    EXPECT_NEAR(turned.x, 1, 1e-9); // turned to the left, the letters' right side looks up
    EXPECT_NEAR(std::abs(up(0, {1, 0, 0}).value().x), 1, 1e-9) << "the part on its side";
    EXPECT_FALSE(up(0, {0, 1, 0})) << "the face is a bottom";
}

// An E of which the stem is 1 long and each of three bars 0.6: 1 / 2.8 of its strokes run up.
TEST(NarrowShare, OfAThinLetterOnAWallIsWhatRunsUp) {
    const std::vector<Stretch> letter{
        {0.4, 1, 0, {0, 1}}, {0.4, 0.6, 0, {1, 0}}, {0.4, 0.6, 0, {1, 0}}, {0.4, 0.6, 0, {-1, 0}}};
    EXPECT_NEAR(narrow_share(letter, letter, half, {Vec2{0, 1}, 0.2}), 1 / 2.8, 1e-12);
    EXPECT_NEAR(narrow_share(letter, letter, half, {Vec2{1, 0}, 0.2}), 1.8 / 2.8, 1e-12) << "on its side";
    EXPECT_EQ(narrow_share(letter, letter, half, {}), 1);
}

TEST(NarrowShare, OfGapsIsTheirLengthOverTheStrokes) {
    const std::vector<Stretch> strokes{{1, 10, 0, {1, 0}}}, gaps{{0.2, 2, 0, {1, 0}}, {2, 5, 0, {1, 0}}};
    EXPECT_NEAR(narrow_share(gaps, strokes, half, {}), 0.2, 1e-12);
    EXPECT_EQ(narrow_share(gaps, {}, half, {}), 0);
}

} // namespace
} // namespace touchmark::rules
