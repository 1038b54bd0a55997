// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

struct Look {
    int wrong = 0;                ///< of 100 modules
    std::vector<int> right{6, 6}; ///< of six pictures, in an even light and a low one from the left
};

Scene looked_at(const Look& look) {
    Scene scene;
    Invented code;
    code.width_mm = code.height_mm = 10;
    code.pieces = {{"code", 0, 1, {}}};
    code.strokes = {narrow(1)};
    code.code = content::ModulePlaces{1, {}, {}, {{-5, -5}, {5, 5}}, 0};
    code.mark.content = content::Code{.symbology = content::Symbology::data_matrix, .message = "1", .module = Mm(1)};
    auto print = std::make_shared<print::PrintedMark>();
    print->modules = print::ModuleCount{.modules = 100, .wrong = look.wrong, .worst = {1, 1}};
    print->bearable_share = 0.04;
    print->reading = print::CodeReading{
        {{print::Lighting::diffuse, 6, look.right[0], {}}, {print::Lighting::from_left, 6, look.right[1], {}}}};
    code.printed = print;
    scene.add(code, scene.face_towards({0, -1, 0}));
    return scene;
}

TEST(CodeReading, IsSilentWhereModulesAndEvenLightAreRight) {
    EXPECT_THAT(looked_at({}).findings("code_reading"), IsEmpty());
    EXPECT_THAT(looked_at({.wrong = 2}).findings("code_reading"), IsEmpty()); // half of what is borne
    EXPECT_THAT(looked_at({.right = {6, 0}}).findings("code_reading"), IsEmpty());
}

TEST(CodeReading, GoesByTheModulesFirst) {
    EXPECT_THAT(looked_at({.wrong = 3}).findings("code_reading"), ElementsAre(Warns()));
    const auto findings = looked_at({.wrong = 5}).findings("code_reading");
    EXPECT_THAT(findings, ElementsAre(Blocks()));
    EXPECT_THAT(findings.at(0).message, HasSubstr("5 of 100 modules come out wrong; its error correction bears 4"));
}

TEST(CodeReading, ThenByWhatADecoderReads) {
    EXPECT_THAT(looked_at({.right = {5, 6}}).findings("code_reading"), ElementsAre(Warns()));
    EXPECT_THAT(looked_at({.right = {0, 3}}).findings("code_reading"), ElementsAre(Warns()));
    EXPECT_THAT(looked_at({.right = {0, 0}}).findings("code_reading"), ElementsAre(Blocks()));
    EXPECT_THAT(looked_at({.right = {0, 6}}).findings("code_reading").at(0).message,
                HasSubstr("in 1 of 2 lights, not in an even light"));
}

} // namespace
} // namespace touchmark::test
