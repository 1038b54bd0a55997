// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Scene read_from(double away, double cap_height) {
    Scene scene;
    Invented letter;
    letter.strokes = {narrow(1.5)};
    letter.pieces = {{"R", 0, 1, {}}};
    letter.mark.content = content::Text{.text = "R", .cap_height = Mm(cap_height)};
    letter.mark.reading_distance = Mm(away);
    scene.add(letter, scene.face_towards({0, -1, 0}));
    return scene;
}

// ISO 9241-3 (published): characters fill at least 16 minutes of arc, 20 to 22 are preferred. h = 2 D tan(α / 2) gives
// 2.33 and 2.91 mm at 500 mm (computed: 2.327 and 2.909).
TEST(ReadingDistance, HoldsTheCapHeightAgainstTheVisualAngle) {
    EXPECT_THAT(read_from(500, 2.32).findings("reading_distance"), ElementsAre(Warns()));
    EXPECT_THAT(read_from(500, 2.33).findings("reading_distance"), ElementsAre(Advises()));
    EXPECT_THAT(read_from(500, 2.90).findings("reading_distance"), ElementsAre(Advises()));
    EXPECT_THAT(read_from(500, 2.91).findings("reading_distance"), IsEmpty());
    // In proportion: twice as far, twice as high.
    EXPECT_THAT(read_from(1000, 4.65).findings("reading_distance"), ElementsAre(Warns()));
    EXPECT_THAT(read_from(1000, 5.82).findings("reading_distance"), IsEmpty());
}

TEST(ReadingDistance, IsNotJudgedWhereNobodySaidIt) {
    EXPECT_THAT(read_from(0, 1).findings("reading_distance"), IsEmpty());
}

TEST(ReadingDistance, NamesTheHeightAndOffersIt) {
    const Scene scene = read_from(600, 2.5);
    const auto finding = scene.findings("reading_distance").at(0);
    EXPECT_THAT(finding.message, HasSubstr("From 600 mm away capitals of 2.50 mm"));
    EXPECT_THAT(finding.message, HasSubstr("2.79 mm")); // 2 · 600 · tan 8′
    ASSERT_NE(fix_of(finding, "cap_height"), nullptr);
    // 2 · 600 · tan 10′ = 3.491 mm, rounded up to tenths.
    EXPECT_EQ(fix_of(finding, "cap_height")->title, "Cap height 2.5 → 3.5 mm");
    expect_complete_and_helpful(scene, finding);
}

} // namespace
} // namespace touchmark::test
