// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <cmath>
#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

geometry::Contour square(Vec2 at, double side) {
    const double half = side / 2;
    const std::vector<Vec2> corners{at + Vec2{-half, -half}, at + Vec2{half, -half}, at + Vec2{half, half},
                                    at + Vec2{-half, half}};
    return geometry::contour_of(corners);
}

/// So many squares of 1.2 mm side, 2 mm apart; each with a square hole in its middle where `hole` is not 0.
Scene squares(int count, Mode mode, Vec3 face, double hole = 0, double side = 1.2) {
    Scene scene;
    Invented many;
    many.outline.emplace();
    for (int i = 0; i < count; ++i) {
        const Vec2 at{2.0 * (i % 10) - 9, 2.0 * (i / 10) - 6};
        geometry::Region region{square(at, side), {}};
        if (hole > 0) region.holes.push_back(geometry::reversed(square(at, hole)));
        many.outline->regions.push_back(std::move(region));
        many.pieces.push_back({std::string(1, 'A'), static_cast<std::size_t>(i), 1, {}});
    }
    many.strokes = {narrow(1.2)};
    many.mark.mode = mode;
    scene.add(many, scene.face_towards(face));
    return scene;
}

constexpr Vec3 top{0, 0, 1}, bottom{0, 0, -1}, wall{0, -1, 0};

// Planning figures of the profile: 20 islands run without a thought, 60 are usual.
TEST(Islands, CountsStrokesOfARaisedMarkOnTop) {
    EXPECT_THAT(squares(20, Mode::raise, top).findings("islands"), IsEmpty());
    EXPECT_THAT(squares(21, Mode::raise, top).findings("islands"), ElementsAre(Advises()));
    EXPECT_THAT(squares(60, Mode::raise, top).findings("islands"), ElementsAre(Advises()));
    EXPECT_THAT(squares(61, Mode::raise, top).findings("islands"), ElementsAre(Warns()));
}

TEST(Islands, CountsCountersOfACutAndOfAHiddenMarkAndBothOfAnInlay) {
    EXPECT_THAT(squares(30, Mode::engrave, top).findings("islands"), IsEmpty()) << "no counters";
    EXPECT_EQ(squares(30, Mode::engrave, top, 0.9).findings("islands").at(0).figure, 30);
    EXPECT_EQ(squares(30, Mode::hidden, top, 0.9).findings("islands").at(0).figure, 30);
    EXPECT_EQ(squares(30, Mode::inlay, top, 1.2, 1.6).findings("islands").at(0).figure, 60);
    EXPECT_THAT(squares(30, Mode::through, top, 0.9).findings("islands"), IsEmpty()) << "they fall out: opening";
}

// Common practice, no source: on a side wall every layer draws the outline of the wall, and a stroke is no island.
TEST(Islands, HasNothingToSayOnASideWall) {
    EXPECT_THAT(squares(61, Mode::raise, wall, 0.3).findings("islands"), IsEmpty());
}

// A square's area is its side squared. Assumed: 0.18 mm² (a line squared) is laid, 0.71 mm² (four times that) stays.
TEST(Islands, JudgesTheSmallestByItsArea) {
    EXPECT_THAT(squares(2, Mode::engrave, top, std::sqrt(0.711)).findings("islands"), IsEmpty());
    EXPECT_THAT(squares(2, Mode::engrave, top, std::sqrt(0.709)).findings("islands"), ElementsAre(Warns()));
    EXPECT_THAT(squares(2, Mode::engrave, top, std::sqrt(0.181)).findings("islands"), ElementsAre(Warns()));
    EXPECT_THAT(squares(2, Mode::engrave, top, std::sqrt(0.179)).findings("islands"), ElementsAre(Blocks()));
}

TEST(Islands, OfARaisedMarkAreWhatItsHolesLeave) {
    // 1.44 − 0.74 mm² and 1.44 − 0.72 mm².
    EXPECT_THAT(squares(2, Mode::raise, top, std::sqrt(0.74)).findings("islands"), ElementsAre(Warns()));
    EXPECT_THAT(squares(2, Mode::raise, top, std::sqrt(0.72)).findings("islands"), IsEmpty());
}

// Assumed: on the plate less than 1 mm² comes off, 2 mm² is safe.
TEST(Islands, AskForMoreOnThePlate) {
    EXPECT_THAT(squares(2, Mode::engrave, bottom, 1.42, 1.9).findings("islands"), IsEmpty());
    EXPECT_THAT(squares(2, Mode::engrave, bottom, 1.41, 1.9).findings("islands"), ElementsAre(Warns()));
    EXPECT_THAT(squares(2, Mode::engrave, bottom, 0.99).findings("islands"), ElementsAre(Blocks()));
}

TEST(Islands, TakesStrokesInACounterOffItsArea) {
    Scene scene = squares(1, Mode::engrave, top, 1.1);
    Invented ring;
    ring.outline = geometry::Outline{{{square({}, 1.9), {geometry::reversed(square({}, 1.5))}}, {square({}, 1.3), {}}}};
    ring.pieces = {{"@", 0, 2, {}}};
    ring.strokes = {narrow(1.3)};
    scene = Scene();
    scene.add(ring, scene.face_towards(top));
    const auto finding = scene.findings("islands").at(0);
    EXPECT_NEAR(finding.figure, 1.5 * 1.5 - 1.3 * 1.3, 1e-9);
    EXPECT_THAT(finding.message, HasSubstr("The inside of '@'"));
}

TEST(Islands, OffersWhatHelps) {
    for (const Scene& scene : {squares(25, Mode::raise, top), squares(2, Mode::engrave, top, 0.6)}) {
        const auto finding = scene.findings("islands").at(0);
        EXPECT_FALSE(finding.fixes.empty());
        expect_complete_and_helpful(scene, finding);
    }
    const Scene raised = squares(25, Mode::raise, top);
    EXPECT_NE(fix_of(raised.findings("islands").at(0), "engrave"), nullptr);
}

} // namespace
} // namespace touchmark::test
