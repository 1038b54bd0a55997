// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

/// A symbol of 10 × 10 mm with a margin of four modules of 0.5 mm: a QR code's (ISO/IEC 18004, 9.1).
Invented symbol(double quiet_mm = 2) {
    Invented code;
    code.width_mm = code.height_mm = 10;
    code.pieces = {{"QR code", 0, 1, {}}};
    code.strokes = {narrow(1.5)};
    const double half = 5 + quiet_mm;
    code.code = content::ModulePlaces{0.5, {}, {}, {{-half, -half}, {half, half}}, quiet_mm};
    return code;
}

/// Its dark modules this far from the left edge of the bracket's front wall.
Scene from_left_edge(double inside, double quiet_mm = 2) {
    Scene scene;
    const int wall = scene.face_towards({0, -1, 0});
    const Vec2 edge = surface::map_face(*scene.part, wall).value()->locate({0, 0, 20});
    scene.add(symbol(quiet_mm), wall, {edge.x + inside + 5, edge.y});
    return scene;
}

TEST(QuietZone, AsksForTheWholeMarginFromBothSides) {
    EXPECT_THAT(from_left_edge(2.001).findings("quiet_zone"), IsEmpty());
    EXPECT_THAT(from_left_edge(1.999).findings("quiet_zone"), ElementsAre(Warns()));
    EXPECT_THAT(from_left_edge(0.9).findings("edge_margin"), IsEmpty()) << "the edge alone would be fine";
    EXPECT_THAT(from_left_edge(0.9, 0).findings("quiet_zone"), IsEmpty()) << "the margin is marked itself";
}

TEST(QuietZone, SaysHowFarItReachesOverAndMovesInward) {
    const Scene scene = from_left_edge(0.8);
    const auto finding = scene.findings("quiet_zone").at(0);
    EXPECT_NEAR(finding.figure, 0.8, 1e-3);
    EXPECT_NEAR(finding.limit, 2, 1e-9);
    EXPECT_THAT(finding.message, HasSubstr("reaches 1.2"));
    EXPECT_THAT(finding.message, HasSubstr("2.00 mm (4 modules)"));
    const rules::Fix* fix = fix_of(finding, "move_inward");
    ASSERT_NE(fix, nullptr);
    const job::Job fixed = fix->edit(scene.job).value();
    EXPECT_THAT(scene.findings("quiet_zone", fixed), IsEmpty());
    EXPECT_NEAR(distance(fixed.marks[0].anchor.at, scene.job.marks[0].anchor.at), 1.2, 1e-2)
        << "no further than needed";
    expect_complete_and_helpful(scene, finding);
}

TEST(QuietZone, NamesTheMarkThatStandsInIt) {
    for (const auto& [apart, count] : {std::pair(1.9, 1u), std::pair(2.1, 0u)}) {
        Scene scene;
        const int wall = scene.face_towards({0, -1, 0});
        scene.add(symbol(), wall);
        Invented letter;
        letter.width_mm = 2, letter.height_mm = 2;
        letter.strokes = {narrow(1.5)};
        letter.pieces = {{"R", 0, 1, {}}};
        letter.mark.name = "Serial";
        scene.add(letter, wall, {5 + apart + 1, 0});
        const auto findings = scene.findings("quiet_zone");
        ASSERT_EQ(findings.size(), count) << apart;
        if (count == 0) continue;
        EXPECT_THAT(findings[0].message, HasSubstr("'Serial' stands in the free margin"));
        EXPECT_NEAR(findings[0].figure, apart, 1e-2);
        expect_complete_and_helpful(scene, findings[0]);
    }
}

} // namespace
} // namespace touchmark::test
