// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

Scene deep(double depth, Vec3 face, Mode mode = Mode::engrave, double cover = 0.8) {
    Scene scene;
    Invented letter;
    letter.strokes = {narrow(1.5)};
    letter.pieces = {{"R", 0, 1, {}}};
    letter.mark.depth = Mm(depth);
    letter.mark.mode = mode;
    letter.mark.cover = Mm(cover);
    scene.add(letter, scene.face_towards(face));
    return scene;
}

constexpr Vec3 top{0, 0, 1}, bottom{0, 0, -1}, wall{0, -1, 0};

// Arithmetic: layers of 0.2 mm; up to a tenth of a layer off is let pass (assumed).
TEST(WholeLayers, AsksForWholeLayersOnTop) {
    EXPECT_THAT(deep(0.6, top).findings("whole_layers"), IsEmpty());
    EXPECT_THAT(deep(0.619, top).findings("whole_layers"), IsEmpty());
    EXPECT_THAT(deep(0.621, top).findings("whole_layers"), ElementsAre(Advises()));
    EXPECT_THAT(deep(0.579, top).findings("whole_layers"), ElementsAre(Advises()));
    EXPECT_THAT(deep(0.5, top, Mode::raise).findings("whole_layers"), ElementsAre(Advises()));
    EXPECT_THAT(deep(0.15, top).findings("whole_layers"), ElementsAre(Advises())) << "less than one layer";
}

TEST(WholeLayers, CountsTheFirstLayerByItsOwnHeight) {
    Scene cut = deep(0.7, bottom); // 0.3 and two of 0.2
    cut.process.first_layer_mm.value = 0.3;
    EXPECT_THAT(cut.findings("whole_layers"), IsEmpty());
    cut.job.marks[0].depth = Mm(0.6);
    EXPECT_THAT(cut.findings("whole_layers"), ElementsAre(Advises()));
    Scene on_top = deep(0.6, top);
    on_top.process.first_layer_mm.value = 0.3;
    EXPECT_THAT(on_top.findings("whole_layers"), IsEmpty()) << "far from the plate";
}

TEST(WholeLayers, SaysNothingWhereLayersDoNotRunAlongside) {
    EXPECT_THAT(deep(0.5, wall).findings("whole_layers"), IsEmpty());
    EXPECT_THAT(deep(0.5, top, Mode::through).findings("whole_layers"), IsEmpty());
    Scene tilted = deep(0.5, top);
    tilted.job.pose.down = normalised({0, 0.05, -1}); // rises by more than half a layer over 10 mm
    EXPECT_THAT(tilted.findings("whole_layers"), IsEmpty());
}

TEST(WholeLayers, LooksAtTheCoverOfAHiddenMarkToo) {
    EXPECT_THAT(deep(0.6, top, Mode::hidden, 0.8).findings("whole_layers"), IsEmpty());
    EXPECT_THAT(deep(0.6, top, Mode::hidden, 0.7).findings("whole_layers"), ElementsAre(Advises()));
    EXPECT_THAT(deep(0.5, top, Mode::hidden, 0.7).findings("whole_layers"), SizeIs(2));
}

TEST(WholeLayers, RoundsToTheNearest) {
    const Scene scene = deep(0.5, top);
    const auto finding = scene.findings("whole_layers").at(0);
    EXPECT_EQ(finding.message, "Depth: 0.50 mm is 2.5 layers; what is printed is 0.40 mm or 0.60 mm.");
    ASSERT_THAT(finding.fixes, testing::Not(IsEmpty()));
    EXPECT_EQ(finding.fixes[0].title, "Depth 0.5 → 0.6 mm, 3 layers");
    expect_complete_and_helpful(scene, finding);
    const Scene hidden = deep(0.5, top, Mode::hidden, 0.7);
    for (const rules::Finding& each : hidden.findings("whole_layers"))
        EXPECT_FALSE(each.fixes.empty()) << each.message;
}

} // namespace
} // namespace touchmark::test
