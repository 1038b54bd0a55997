// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

// Computed: the font has the character or it has not.
TEST(MissingCharacters, BlocksFromTheFirstOneOn) {
    Scene scene;
    Invented word;
    word.pieces = {{"R", 0, 1, {}}};
    word.strokes = {narrow(1.5)};
    std::get<content::Text>(word.mark.content).text = "R漢字漢";
    scene.add(word, scene.face_towards({0, -1, 0}));
    EXPECT_THAT(scene.findings("missing_characters"), IsEmpty());

    word.missing = {{"漢", U'漢', 0}, {"字", U'字', 0}, {"漢", U'漢', 0}};
    scene.add(word, scene.face_towards({0, -1, 0}));
    EXPECT_THAT(scene.findings("missing_characters"), ElementsAre(Blocks()));
    const auto finding = scene.findings("missing_characters").at(0);
    EXPECT_EQ(finding.message, "DejaVu Sans Book has no '漢' and '字'; they are left out.");
    EXPECT_EQ(finding.figure, 3);
    expect_complete_and_helpful(scene, finding);
    const rules::Fix* fix = fix_of(finding, "leave_out");
    ASSERT_NE(fix, nullptr);
    EXPECT_EQ(std::get<content::Text>(fix->edit(scene.job).value().marks[1].content).text, "R");
}

} // namespace
} // namespace touchmark::test
