// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Common practice, no source: with a 0.4 mm nozzle strokes below 0.5 mm do not print. A published guideline of one
// print service: cut lettering on vertical faces at least 0.8 mm wide.
TEST(StrokeWidth, BlocksBelowHalfAMillimetreAndNotAbove) {
    Scene below, above;
    below.add_letter(0.499);
    above.add_letter(0.501);
    EXPECT_THAT(below.findings("stroke_width"), ElementsAre(Blocks()));
    EXPECT_THAT(above.findings("stroke_width"), ElementsAre(Warns()));
}

TEST(StrokeWidth, WarnsBelowTheComfortableWidthAndIsSilentFromThere) {
    Scene below, above;
    below.add_letter(0.799);
    above.add_letter(0.8);
    EXPECT_THAT(below.findings("stroke_width"), ElementsAre(Warns()));
    EXPECT_THAT(above.findings("stroke_width"), IsEmpty());
}

TEST(StrokeWidth, TakesTheLimitOfTheMode) {
    Scene scene; // the same guideline: raised lettering on vertical faces at least 1 mm wide
    const auto mark = scene.add_letter(0.9);
    EXPECT_THAT(scene.findings("stroke_width"), IsEmpty());
    scene.job.marks[mark].mode = Mode::raise;
    EXPECT_THAT(scene.findings("stroke_width"), ElementsAre(Warns()));
}

TEST(StrokeWidth, SaysWhatItIsAndWhatItHasToBe) {
    Scene scene;
    scene.add_letter(0.38);
    const auto finding = scene.findings("stroke_width").at(0);
    EXPECT_EQ(finding.message, "Strokes of 'R' are 0.38 mm; 0.50 mm prints.");
    EXPECT_DOUBLE_EQ(finding.figure, 0.38);
    EXPECT_DOUBLE_EQ(finding.limit, 0.5);
    EXPECT_EQ(finding.comfortable, 0.8);
    EXPECT_EQ(finding.unit, "mm");
    expect_complete_and_helpful(scene, finding);
}

TEST(StrokeWidth, NeverPrintsTheFigureLikeTheLimitItMisses) {
    Scene scene;
    scene.add_letter(0.4996);
    EXPECT_EQ(scene.findings("stroke_width").at(0).message, "Strokes of 'R' are 0.4996 mm; 0.50 mm prints.");
}

TEST(StrokeWidth, NamesEachLetterOnceAndCountsTheRest) {
    Scene scene;
    Invented word;
    for (std::uint32_t i = 0; i < 8; ++i) {
        const std::string letters = "Reception";
        word.pieces.push_back({letters.substr(i, 1), i, 1, {}});
        word.strokes.push_back(narrow(0.3 + 0.01 * i, i, i));
    }
    scene.add(word, scene.face_towards({0, -1, 0}));
    EXPECT_EQ(scene.findings("stroke_width").at(0).message, // R e c p t i o: seven letters, the e twice
              "Strokes of 'R', 'e' and 5 more are down to 0.30 mm; 0.50 mm prints.");
}

TEST(StrokeWidth, ShowsTheWorstSpotFirstWhereTheMarkReallyIs) {
    Scene scene;
    Invented letter;
    letter.pieces = {{"R", 0, 1, {}}};
    letter.strokes = {narrow(0.3), narrow(0.4)};
    letter.strokes[0].at = {2, 0};
    letter.strokes[1].at = {0, 1};
    const auto mark = scene.add(letter, scene.face_towards({0, -1, 0}), {-3, 4});
    scene.job.marks[mark].anchor.turn = Degrees(90);
    const auto finding = scene.findings("stroke_width").at(0);
    ASSERT_EQ(finding.where.size(), 2u);
    EXPECT_NEAR(finding.where[0].x, -3, 1e-12); // turned by 90°: (2, 0) → (0, 2)
    EXPECT_NEAR(finding.where[0].y, 6, 1e-12);
    EXPECT_NEAR(finding.where[1].x, -4, 1e-12);
    EXPECT_NEAR(finding.where_on_part[0].y, 0, 1e-9); // the front wall is y = 0
}

TEST(StrokeWidth, SizesUpToTheSmallestCleanTenthOfAMillimetre) {
    Scene scene;
    const auto mark = scene.add_letter(0.38); // at 5 mm; 0.8 mm needs 10.526 mm
    const auto finding = scene.findings("stroke_width").at(0);
    const rules::Fix* fix = fix_of(finding, "cap_height");
    ASSERT_NE(fix, nullptr);
    EXPECT_EQ(fix->title, "Cap height 5 → 10.6 mm");
    const auto fixed = fix->edit(scene.job).value();
    EXPECT_DOUBLE_EQ(std::get<content::Text>(fixed.marks[mark].content).cap_height.value, 10.6);
    EXPECT_THAT(scene.findings("stroke_width", fixed), IsEmpty());
    job::Job smaller = fixed;
    std::get<content::Text>(smaller.marks[mark].content).cap_height = Mm(10.5);
    EXPECT_THAT(scene.findings("stroke_width", smaller), ElementsAre(Warns()));
}

TEST(StrokeWidth, SizesUpFarEnoughForTheGapsAsWell) {
    Scene scene;
    scene.add_letter(0.7, 0.4); // strokes need 5.72 mm, gaps (0.6 mm, assumed) 7.5 mm
    const auto finding = scene.findings("stroke_width").at(0);
    ASSERT_NE(fix_of(finding, "cap_height"), nullptr);
    EXPECT_EQ(fix_of(finding, "cap_height")->title, "Cap height 5 → 7.5 mm");
}

TEST(StrokeWidth, DoesNotSizeUpBeyondTheFace) {
    Scene scene;
    Invented huge;
    huge.pieces = {{"R", 0, 1, {}}};
    huge.strokes = {narrow(0.1)}; // would have to grow eightfold: 80 × 40 mm does not fit beside the bore
    scene.add(huge, scene.face_towards({0, -1, 0}));
    EXPECT_EQ(fix_of(scene.findings("stroke_width").at(0), "cap_height"), nullptr);
}

TEST(StrokeWidth, MovesInwardWhatWouldGrowOverTheEdge) {
    Scene scene;
    Invented letter;
    letter.pieces = {{"R", 0, 1, {}}};
    letter.strokes = {narrow(0.5)};
    const int wall = scene.face_towards({0, -1, 0});
    const Vec2 edge = surface::map_face(*scene.part, wall).value()->locate({0, 0, 20}); // the wall begins at x = 0
    const auto mark = scene.add(letter, wall, {edge.x + 6, edge.y});
    const auto finding = scene.findings("stroke_width").at(0);
    const rules::Fix* fix = fix_of(finding, "cap_height");
    ASSERT_NE(fix, nullptr);
    EXPECT_THAT(fix->title, testing::HasSubstr("inward"));
    const auto fixed = fix->edit(scene.job).value();
    EXPECT_GT(fixed.marks[mark].anchor.at.x, scene.job.marks[mark].anchor.at.x);
    EXPECT_THAT(scene.findings("leaves_face", fixed), IsEmpty());
    EXPECT_THAT(scene.findings("edge_margin", fixed), IsEmpty());
}

TEST(StrokeWidth, OffersAHeavierWeightOnlyWhereItMeasuresWider) {
    Scene wider, same;
    for (Scene* scene : {&wider, &same}) {
        Invented letter;
        letter.pieces = {{"R", 0, 1, {}}};
        letter.strokes = {narrow(0.45)};
        letter.heavier_strokes = scene == &wider ? 2 : 1;
        std::get<content::Text>(letter.mark.content).weight = 400;
        scene->add(letter, scene->face_towards({0, -1, 0}));
    }
    const auto finding = wider.findings("stroke_width").at(0);
    ASSERT_NE(fix_of(finding, "weight"), nullptr);
    EXPECT_EQ(fix_of(finding, "weight")->title, "Weight Book → Bold");
    expect_complete_and_helpful(wider, finding);
    EXPECT_EQ(fix_of(same.findings("stroke_width").at(0), "weight"), nullptr);
}

TEST(StrokeWidth, AFixChangesOnlyItsOwnValueEvenIfTheMarkWasEditedSince) {
    Scene scene;
    const auto mark = scene.add_letter(0.38);
    const auto finding = scene.findings("stroke_width").at(0);
    std::get<content::Text>(scene.job.marks[mark].content).text = "Changed";
    const auto fixed = fix_of(finding, "cap_height")->edit(scene.job).value();
    EXPECT_EQ(std::get<content::Text>(fixed.marks[mark].content).text, "Changed");
}

} // namespace
} // namespace touchmark::test
