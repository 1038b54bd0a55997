// SPDX-License-Identifier: MIT
#include "core/content/lookalike.h"
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

Scene says(const std::string& text, double cap_height = 5, const std::string& family = "DejaVu Sans") {
    Scene scene;
    Invented written;
    written.strokes = {narrow(1.5)};
    written.compared = true;
    for (const char c : text)
        written.pieces.push_back({std::string(1, c), 0, 0, {}});
    written.mark.content = content::Text{.text = text, .family = family, .cap_height = Mm(cap_height)};
    scene.add(written, scene.face_towards({0, -1, 0}));
    return scene;
}

std::string all_messages(const Scene& scene) {
    std::string all;
    for (const rules::Finding& finding : scene.findings("lookalikes"))
        all += finding.message + "\n";
    return all;
}

geometry::Outline rectangle(Vec2 low, Vec2 high) {
    const std::vector<Vec2> corners{low, {high.x, low.y}, high, {low.x, high.y}};
    return {{geometry::Region{geometry::contour_of(corners), {}}}};
}

// The largest disc in a square has the diameter of its side.
TEST(Lookalikes, MeasureTheWidestThingThatOnlyOneHas) {
    const geometry::Outline bar = rectangle({0, 0}, {1, 5});
    for (const double side : {0.3, 0.8}) {
        const geometry::Outline flagged = geometry::united(bar, rectangle({-side, 4}, {0, 4 + side}));
        EXPECT_NEAR(content::widest_difference(bar, flagged), side, 0.03);
        EXPECT_NEAR(content::widest_difference(flagged, bar), side, 0.03);
    }
    EXPECT_NEAR(content::widest_difference(bar, bar), 0, 0.03);
}

// Common practice, no source: part numbers leave out O, I, S, B and Z, which read as 0, 1, 5, 8 and 2.
TEST(Lookalikes, NamesFiguresThatMayBeLettersInAPartNumber) {
    const std::string said = all_messages(says("AO7B-20"));
    EXPECT_THAT(said, AllOf(HasSubstr("'0' for 'O'"), HasSubstr("'8' for 'B'")));
    EXPECT_THAT(says("AO7B-20").findings("lookalikes"), testing::Each(Advises()));
}

TEST(Lookalikes, LeavesPlainWordsAndPlainFiguresAlone) {
    EXPECT_THAT(says("BOLT SIZE").findings("lookalikes"), IsEmpty());
    EXPECT_THAT(all_messages(says("10250", 8)), Not(HasSubstr("'O'"))) << "nobody expects a letter there";
    EXPECT_THAT(all_messages(says("MOD 250", 8)), Not(HasSubstr("'O'"))) << "word by word";
    EXPECT_THAT(says("NW-2207", 8).findings("lookalikes"), IsEmpty()) << "nor across a dash";
}

// Measured on the letters themselves: what tells them apart grows with them.
TEST(Lookalikes, GoByTheSizeOfWhatTellsThemApart) {
    const auto at = [](double height) {
        const auto findings = says("S5", height).findings("lookalikes");
        return findings.empty() ? 1e9 : findings.front().figure;
    };
    EXPECT_NEAR(at(4) / at(2), 2, 0.1);
    EXPECT_THAT(says("X8", 20).findings("lookalikes"), IsEmpty()) << "8 and B of 20 mm";
}

// DejaVu Sans Mono draws its zero with a dot inside; DejaVu Sans draws it as a narrow O (seen).
TEST(Lookalikes, GoByTheFace) {
    EXPECT_THAT(all_messages(says("X0", 6)), HasSubstr("'0' for 'O'"));
    EXPECT_THAT(all_messages(says("X0", 6, "DejaVu Sans Mono")), Not(HasSubstr("'0' for 'O'")));
    const Scene scene = says("X0", 6);
    const auto finding = scene.findings("lookalikes").at(0);
    ASSERT_NE(fix_of(finding, "family"), nullptr);
    EXPECT_EQ(fix_of(finding, "family")->title, "Font DejaVu Sans → DejaVu Sans Mono");
    expect_complete_and_helpful(scene, finding);
}

// Half a turn takes 6 to 9 and 8 to itself.
TEST(Lookalikes, NameWhatReadsOtherwiseUpsideDown) {
    EXPECT_THAT(all_messages(says("68")), HasSubstr("'68' reads '89'"));
    EXPECT_THAT(all_messages(says("666")), HasSubstr("'666' reads '999'"));
    EXPECT_THAT(all_messages(says("8-66")), HasSubstr("'8-66' reads '99-8'"));
    for (const char* plain : {"69", "88", "67", "168", "6A"}) // itself, itself, and three that show which way is up
        EXPECT_THAT(all_messages(says(plain)), Not(HasSubstr("Held the other way up"))) << plain;
}

TEST(Lookalikes, ExplainThemselves) {
    const Scene scene = says("AO7B-20 68");
    for (const rules::Finding& finding : scene.findings("lookalikes"))
        expect_complete_and_helpful(scene, finding);
}

} // namespace
} // namespace touchmark::test
