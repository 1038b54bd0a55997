// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::HasSubstr;

/// A raised letter on the front wall.
Scene raised(double height, double stroke) {
    Scene scene;
    const std::size_t mark = scene.add_letter(stroke);
    scene.job.marks[mark].mode = Mode::raise;
    scene.job.marks[mark].depth = Mm(height);
    return scene;
}

TEST(SideEffects, AreSaidInTheTitleOfAFix) {
    const Scene scene = raised(0.5, 2);
    const auto finding = scene.findings("ledge").at(0);
    ASSERT_EQ(finding.severity, rules::Severity::advice);
    const rules::Fix* lower = fix_of(finding, "lower");
    ASSERT_NE(lower, nullptr);
    EXPECT_THAT(lower->title, HasSubstr("; then at risk: depth"));
    EXPECT_THAT(scene.findings("depth", lower->edit(scene.job).value()), testing::ElementsAre(Warns()));
}

// A draft of 44° comes in by 0.5 mm on each side: a stroke of 0.8 mm has no roof left, which the rule on draft blocks.
TEST(SideEffects, TakeBackAFixThatWouldNotPrint) {
    const Scene wide = raised(0.5, 2);
    EXPECT_NE(fix_of(wide.findings("ledge").at(0), "draft"), nullptr);
    Scene thin;
    Invented bar;
    bar.strokes = {narrow(0.8)};
    bar.pieces = {{"I", 0, 1, {}}};
    bar.width_mm = 0.8;
    bar.mark.mode = Mode::raise;
    const std::size_t mark = thin.add(bar, thin.face_towards({0, -1, 0}));
    EXPECT_EQ(fix_of(thin.findings("ledge").at(0), "draft"), nullptr);
    thin.job.marks[mark].draft = Degrees(44);
    EXPECT_THAT(thin.findings("draft"), testing::ElementsAre(Blocks()));
}

} // namespace
} // namespace touchmark::test
