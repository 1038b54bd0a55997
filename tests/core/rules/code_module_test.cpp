// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using content::Symbology;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Scene code_of(double module, double turn = 0, Symbology symbology = Symbology::data_matrix, Vec3 face = {0, -1, 0}) {
    Scene scene;
    Invented code;
    code.width_mm = code.height_mm = 10 * module;
    code.pieces = {{"code", 0, 1, {}}};
    code.strokes = {narrow(module)};
    code.code = content::ModulePlaces{module, {}, {}, {{-5 * module, -5 * module}, {5 * module, 5 * module}}, 0};
    code.mark.content = content::Code{.symbology = symbology, .message = "1", .module = Mm(module)};
    code.mark.anchor.turn = Degrees(turn);
    scene.add(code, scene.face_towards(face));
    return scene;
}

// Arithmetic: layers of 0.2 mm; 0.5 mm is two or three of them, 0.4 or 0.6 mm: 20 % off. Assumed: 10 % passes, 25 % is
// too much.
TEST(CodeModule, HoldsModulesAgainstWholeLayersOnAWall) {
    for (const double whole : {0.6, 0.8, 1.0, 2.0})
        EXPECT_THAT(code_of(whole).findings("code_module"), IsEmpty()) << whole;
    const auto half = code_of(0.9).findings("code_module"); // four or five: 0.8 or 1.0
    ASSERT_THAT(half, ElementsAre(Advises()));
    EXPECT_NEAR(half[0].figure, 100 * 0.1 / 0.9, 1e-9);
    EXPECT_THAT(code_of(0.5).findings("code_module"), ElementsAre(Advises()));
    EXPECT_THAT(code_of(1.1).findings("code_module"), IsEmpty()) << "five or six: 9 %";
    EXPECT_THAT(code_of(0.3).findings("code_module"), testing::Contains(Warns())) << "one or two: 33 %";
}

TEST(CodeModule, CountsLayersOnlyWhereTheyRunAlongTheModules) {
    EXPECT_THAT(code_of(0.9, 45).findings("code_module"), IsEmpty());
    EXPECT_THAT(code_of(0.9, 90).findings("code_module"), ElementsAre(Advises()));
    EXPECT_THAT(code_of(0.9, 0, Symbology::data_matrix, {0, 0, 1}).findings("code_module"), IsEmpty()) << "on top";
    EXPECT_THAT(code_of(0.9, 0, Symbology::code_128).findings("code_module"), IsEmpty()) << "bars cross the layers";
    EXPECT_THAT(code_of(0.9, 90, Symbology::code_128).findings("code_module"), ElementsAre(Advises())) << "a ladder";
}

// Assumed: nearly two lines of 0.42 mm, one for each of a module's edges; one line is the least.
TEST(CodeModule, AsksForTwoLinesWhereStrokeWidthIsSilent) {
    const auto unjudged = [](double module) {
        Scene scene = code_of(module, 45);
        std::erase_if(scene.process.limits, [](const process::Limit& limit) { return limit.key == "stroke_width"; });
        return scene;
    };
    EXPECT_THAT(unjudged(0.80).findings("code_module"), IsEmpty()) << "1.905 lines";
    EXPECT_THAT(unjudged(0.79).findings("code_module"), ElementsAre(Warns())) << "1.881 lines";
    EXPECT_THAT(unjudged(0.42).findings("code_module"), ElementsAre(Warns()));
    EXPECT_THAT(unjudged(0.41).findings("code_module"), ElementsAre(Blocks()));
    const auto finding = unjudged(0.7).findings("code_module").at(0);
    EXPECT_NE(fix_of(finding, "module"), nullptr);
    expect_complete_and_helpful(unjudged(0.7), finding);
    EXPECT_THAT(code_of(0.79, 45).findings("code_module"), IsEmpty()) << "said by stroke_width";
    EXPECT_THAT(code_of(0.79, 45).findings("stroke_width"), ElementsAre(Warns()));
}

TEST(CodeModule, OffersWholeLayers) {
    const Scene scene = code_of(0.9);
    const auto finding = scene.findings("code_module").at(0);
    EXPECT_THAT(finding.message, HasSubstr("are 4.5 layers high"));
    ASSERT_NE(fix_of(finding, "module"), nullptr);
    EXPECT_EQ(fix_of(finding, "module")->title, "Module 0.9 → 1 mm, 5 layers");
    expect_complete_and_helpful(scene, finding);
}

} // namespace
} // namespace touchmark::test
