// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <cmath>
#include <gtest/gtest.h>
#include <numbers>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Scene raised(double height, double draft = 0, double leans_back = 0) {
    Scene scene;
    const std::size_t mark = scene.add_letter(2);
    scene.job.marks[mark].mode = Mode::raise;
    scene.job.marks[mark].depth = Mm(height);
    scene.job.marks[mark].draft = Degrees(draft);
    const double angle = leans_back * std::numbers::pi / 180;
    scene.job.pose.down = {0, std::sin(angle), -std::cos(angle)};
    return scene;
}

// Common practice, no source: a line holds on half its width, 0.21 mm. Assumed: a line and a half, 0.63 mm, holds with
// some sag.
TEST(Ledge, JudgesAPlainLedgeByItsHeight) {
    EXPECT_THAT(raised(0.21).findings("ledge"), IsEmpty());
    EXPECT_THAT(raised(0.22).findings("ledge"), ElementsAre(Advises()));
    EXPECT_THAT(raised(0.63).findings("ledge"), ElementsAre(Advises()));
    EXPECT_THAT(raised(0.64).findings("ledge"), ElementsAre(Warns()));
}

// Plane geometry: an underside that rises at an angle d juts out t / tan d a layer; with t = 0.2 mm and 0.21 mm to
// spare d has to be atan(0.2 / 0.21) = 43.6°. That is the common 45° rule (no source).
TEST(Ledge, IsCarriedByDraft) {
    EXPECT_THAT(raised(0.8, 44).findings("ledge"), IsEmpty());
    const auto findings = raised(0.8, 43).findings("ledge");
    ASSERT_THAT(findings, ElementsAre(Advises()));
    EXPECT_NEAR(findings[0].figure, 0.2 / std::tan(43 * std::numbers::pi / 180), 1e-9);
}

TEST(Ledge, CountsWhatTheFaceLeansBack) {
    EXPECT_THAT(raised(0.8, 24, 19).findings("ledge"), ElementsAre(Advises())) << "43°";
    EXPECT_THAT(raised(0.8, 25, 19).findings("ledge"), IsEmpty()) << "44°";
}

TEST(Ledge, OfOneThatLeansOutIsItsWholeHeight) {
    const auto findings = raised(0.5, 10, -20).findings("ledge");
    ASSERT_THAT(findings, ElementsAre(Advises()));
    EXPECT_DOUBLE_EQ(findings[0].figure, 0.5);
}

TEST(Ledge, IsNoMatterOfCuts) {
    Scene scene = raised(0.5);
    scene.job.marks[0].mode = Mode::engrave;
    EXPECT_THAT(scene.findings("ledge"), IsEmpty());
}

TEST(Ledge, OffersDraftThatLeavesAFloorAndSaysWhatALowerHeightBrings) {
    const Scene scene = raised(0.5);
    const auto finding = scene.findings("ledge").at(0);
    ASSERT_NE(fix_of(finding, "draft"), nullptr);
    EXPECT_EQ(fix_of(finding, "draft")->title, "Draft 0 → 44°");
    ASSERT_NE(fix_of(finding, "lower"), nullptr);
    // 0.4 mm is the least that reads well: the finding of the lower height is worse than this advice.
    EXPECT_EQ(fix_of(finding, "lower")->title, "Height off the face 0.5 → 0.2 mm; then at risk: depth");
    EXPECT_THAT(finding.message, HasSubstr("0.21 mm is carried"));
    expect_complete_and_helpful(scene, finding);
}

} // namespace
} // namespace touchmark::test
