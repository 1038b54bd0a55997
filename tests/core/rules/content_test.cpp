// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

// Computed: the bracket has the face, or not.
TEST(Content, BlocksAMarkWhoseFaceIsGone) {
    Scene scene;
    const auto mark = scene.add_letter(1.5);
    EXPECT_THAT(scene.findings("content"), IsEmpty());
    scene.job.marks[mark].anchor.face = static_cast<int>(scene.part->faces().size());
    EXPECT_THAT(scene.findings("content"), ElementsAre(Blocks()));
    EXPECT_THAT(scene.findings("zone"), IsEmpty());
    EXPECT_THAT(scene.findings("leaves_face"), IsEmpty());
}

TEST(Content, OffersASideWallInstead) {
    Scene scene;
    const auto mark = scene.add_letter(1.5);
    scene.job.marks[mark].anchor.face = static_cast<int>(scene.part->faces().size());
    const auto finding = scene.findings("content").at(0);
    const rules::Fix* fix = fix_of(finding, "side_wall_face");
    ASSERT_NE(fix, nullptr);
    EXPECT_THAT(fix->title, HasSubstr("a side wall"));
    EXPECT_THAT(scene.findings("content", fix->edit(scene.job).value()), IsEmpty());
}

} // namespace
} // namespace touchmark::test
