// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using content::Symbology;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Scene code_of(Symbology symbology, double module, double depth, Mode mode = Mode::engrave) {
    Scene scene;
    Invented code;
    code.width_mm = code.height_mm = 12;
    code.pieces = {{"code", 0, 1, {}}};
    code.strokes = {narrow(module)};
    code.code = content::ModulePlaces{module, {}, {}, {{-6, -6}, {6, 6}}, 0};
    code.mark.content = content::Code{.symbology = symbology, .message = "1", .module = Mm(module)};
    code.mark.mode = mode;
    code.mark.depth = Mm(depth);
    scene.add(code, scene.face_towards({0, -1, 0}));
    return scene;
}

// Of this program's own model of the print, not calibrated: Data Matrix reads under every light from 0.75 of its module
// deep, QR codes from 1.25.
TEST(CodeRelief, HoldsTheDepthAgainstTheModule) {
    for (const Symbology matrix : {Symbology::data_matrix, Symbology::gs1_data_matrix}) {
        EXPECT_THAT(code_of(matrix, 1, 0.75).findings("code_relief"), IsEmpty());
        EXPECT_THAT(code_of(matrix, 1, 0.74).findings("code_relief"), ElementsAre(Warns()));
    }
    for (const Symbology qr : {Symbology::qr, Symbology::gs1_qr, Symbology::micro_qr}) {
        EXPECT_THAT(code_of(qr, 0.8, 1.0).findings("code_relief"), IsEmpty());
        EXPECT_THAT(code_of(qr, 0.8, 0.99).findings("code_relief"), ElementsAre(Warns()));
    }
}

TEST(CodeRelief, IsNoMatterWithASecondColourOrLightAndOfBars) {
    for (const Mode mode : {Mode::inlay, Mode::hidden, Mode::through})
        EXPECT_THAT(code_of(Symbology::qr, 1, 0.2, mode).findings("code_relief"), IsEmpty());
    EXPECT_THAT(code_of(Symbology::code_128, 1, 0.2).findings("code_relief"), IsEmpty()) << "not measured";
}

TEST(CodeRelief, OffersDataMatrixForQrDeeperAndInlay) {
    const Scene scene = code_of(Symbology::qr, 0.8, 0.5);
    const auto finding = scene.findings("code_relief").at(0);
    EXPECT_THAT(finding.message, HasSubstr("of a module; 1.25 reads. Ink or a second colour"));
    ASSERT_NE(fix_of(finding, "data_matrix"), nullptr);
    EXPECT_EQ(fix_of(finding, "data_matrix")->title, "Data Matrix instead of QR code, depth 0.5 → 0.6 mm");
    ASSERT_NE(fix_of(finding, "depth"), nullptr);
    EXPECT_EQ(fix_of(finding, "depth")->title, "Depth 0.5 → 1 mm");
    EXPECT_NE(fix_of(finding, "inlay"), nullptr);
    expect_complete_and_helpful(scene, finding);
    const job::Job changed = fix_of(finding, "data_matrix")->edit(scene.job).value();
    EXPECT_EQ(std::get<content::Code>(changed.marks[0].content).symbology, Symbology::data_matrix);
}

TEST(CodeRelief, OffersSmallerModulesWhereDepthAloneWouldBeTooMuch) {
    const Scene scene = code_of(Symbology::data_matrix, 1.5, 0.5); // 1.125 mm would be deeper than is plenty
    const auto finding = scene.findings("code_relief").at(0);
    ASSERT_NE(fix_of(finding, "smaller_and_deeper"), nullptr);
    EXPECT_EQ(fix_of(finding, "smaller_and_deeper")->title, "Module 1.5 → 0.8 mm, depth 0.5 → 0.6 mm");
    expect_complete_and_helpful(scene, finding);
}

TEST(CodeRelief, OffersGroovesAndJudgesThemByTheirWidth) {
    const Scene scene = code_of(Symbology::data_matrix, 2, 0.5);
    const auto finding = scene.findings("code_relief").at(0);
    ASSERT_NE(fix_of(finding, "grooves"), nullptr);
    EXPECT_EQ(fix_of(finding, "grooves")->title, "Modules of 2 grooves, 0.50 mm wide");
    EXPECT_EQ(fix_of(code_of(Symbology::data_matrix, 0.9, 0.5).findings("code_relief").at(0), "grooves"), nullptr)
        << "no room for a groove and a rib";
    expect_complete_and_helpful(scene, finding);
}

} // namespace
} // namespace touchmark::test
