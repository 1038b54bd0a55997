// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

/// "rt" with this gap between the letters.
Scene pair_with_gap(double gap, std::size_t* index = nullptr) {
    Scene scene;
    Invented pair;
    pair.pieces = {{"r", 0, 1, {}}, {"t", 1, 1, {}}};
    pair.strokes = {narrow(0.9)};
    pair.gaps = {narrow(gap, 0, 1)};
    const auto mark = scene.add(pair, scene.face_towards({0, -1, 0}));
    if (index) *index = mark;
    return scene;
}

// Assumed: the rib between two cuts is at least one line of 0.42 mm wide. Simulated with a geometric model of the bead,
// not calibrated against prints: a rib of 0.6 mm keeps 98 % of its height.
TEST(GapWidth, BlocksBelowOneLineAndNotAbove) {
    EXPECT_THAT(pair_with_gap(0.419).findings("gap_width"), ElementsAre(Blocks()));
    EXPECT_THAT(pair_with_gap(0.421).findings("gap_width"), ElementsAre(Warns()));
}

TEST(GapWidth, WarnsBelowTheComfortableWidthAndIsSilentFromThere) {
    EXPECT_THAT(pair_with_gap(0.599).findings("gap_width"), ElementsAre(Warns()));
    EXPECT_THAT(pair_with_gap(0.6).findings("gap_width"), IsEmpty());
}

TEST(GapWidth, NamesTheLettersOnEitherSide) {
    const Scene scene = pair_with_gap(0.12);
    const auto finding = scene.findings("gap_width").at(0);
    EXPECT_EQ(finding.message, "The gap between 'r' and 't' is 0.12 mm; 0.42 mm stays open.");
    expect_complete_and_helpful(scene, finding);
}

TEST(GapWidth, SpacesLettersByTheSmallestCleanStep) {
    std::size_t mark = 0;
    const Scene scene = pair_with_gap(0.43, &mark); // lacks 0.17 mm of 0.6 mm
    const auto finding = scene.findings("gap_width").at(0);
    const rules::Fix* fix = fix_of(finding, "letter_spacing");
    ASSERT_NE(fix, nullptr);
    EXPECT_EQ(fix->title, "Letter spacing 0 → 0.2 mm");
    job::Job fixed = fix->edit(scene.job).value();
    EXPECT_THAT(scene.findings("gap_width", fixed), IsEmpty());
    std::get<content::Text>(fixed.marks[mark].content).letter_spacing = Mm(0.15);
    EXPECT_THAT(scene.findings("gap_width", fixed), ElementsAre(Warns()));
}

TEST(GapWidth, DoesNotSpaceLettersToOpenACounter) {
    Scene scene;
    scene.add_letter(0.9, 0.3);
    const auto finding = scene.findings("gap_width").at(0);
    EXPECT_EQ(finding.message, "The gap in 'R' is 0.30 mm; 0.42 mm stays open.");
    EXPECT_EQ(fix_of(finding, "letter_spacing"), nullptr);
    ASSERT_NE(fix_of(finding, "cap_height"), nullptr);
    EXPECT_EQ(fix_of(finding, "cap_height")->title, "Cap height 5 → 10 mm");
    expect_complete_and_helpful(scene, finding);
}

TEST(GapWidth, SizingUpSpacedLettersFindsTheSmallestCleanHeightToo) {
    Scene scene;
    Invented pair;
    pair.pieces = {{"r", 0, 1, {}}, {"t", 1, 1, {}}};
    pair.strokes = {narrow(0.9)};
    pair.gaps = {narrow(0.4, 0, 1)}; // 0.1 mm at 5 mm is the face's own, the rest is spacing
    std::get<content::Text>(pair.mark.content).letter_spacing = Mm(0.3);
    const auto mark = scene.add(pair, scene.face_towards({0, -1, 0}));
    const auto finding = scene.findings("gap_width").at(0);
    const rules::Fix* fix = fix_of(finding, "cap_height");
    ASSERT_NE(fix, nullptr);
    job::Job fixed = fix->edit(scene.job).value();
    EXPECT_THAT(scene.findings("gap_width", fixed), IsEmpty());
    std::get<content::Text>(fixed.marks[mark].content).cap_height =
        std::get<content::Text>(fixed.marks[mark].content).cap_height - Mm(0.1);
    EXPECT_FALSE(scene.findings("gap_width", fixed).empty());
}

} // namespace
} // namespace touchmark::test
