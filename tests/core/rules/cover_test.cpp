// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

Scene under(double cover, Mode mode = Mode::hidden) {
    Scene scene;
    const auto mark = scene.add_letter(1.5);
    scene.job.marks[mark].mode = mode;
    scene.job.marks[mark].cover = Mm(cover);
    return scene;
}

// Assumed: one line of 0.42 mm closes over a void. Simulated: behind two lines strokes from 1 mm can be told apart
// against a light, behind three only much larger ones.
TEST(Cover, JudgesWhatLiesOverTheVoidAtItsLimitsFromBothSides) {
    EXPECT_THAT(under(0.41).findings("cover"), ElementsAre(Blocks()));
    EXPECT_THAT(under(0.42).findings("cover"), IsEmpty());
    EXPECT_THAT(under(0.84).findings("cover"), IsEmpty());
    EXPECT_THAT(under(0.85).findings("cover"), ElementsAre(Warns()));
    EXPECT_THAT(under(1.26).findings("cover"), ElementsAre(Warns()));
    EXPECT_THAT(under(1.27).findings("cover"), ElementsAre(Blocks()));
}

TEST(Cover, IsTheBusinessOfHiddenMarksAlone) {
    for (const Mode mode : {Mode::engrave, Mode::raise, Mode::inlay, Mode::through})
        EXPECT_THAT(under(5, mode).findings("cover"), IsEmpty()) << key_of(mode);
}

TEST(Cover, SetsTheCoverToTheLimit) {
    const Scene thin = under(0.2), thick = under(2);
    const auto words = [](const Scene& scene) {
        const auto finding = scene.findings("cover").at(0);
        expect_complete_and_helpful(scene, finding);
        return finding.message + " " + fix_of(finding, "cover")->title;
    };
    EXPECT_EQ(words(thin),
              "The hidden mark lies only 0.20 mm under the face; 0.42 mm closes over it. Cover 0.2 → 0.45 mm");
    EXPECT_EQ(words(thick), "The hidden mark lies 2.00 mm under the face; 1.26 mm is the most that light gets through. "
                            "Cover 2 → 0.8 mm");
}

} // namespace
} // namespace touchmark::test
