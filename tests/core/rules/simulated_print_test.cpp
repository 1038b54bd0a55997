// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

/// Letters "A", "B" … of which so much of the strokes and openings came out.
Scene printed(std::initializer_list<std::pair<double, double>> strokes_and_gaps) {
    Scene scene;
    Invented letters;
    auto print = std::make_shared<print::PrintedMark>();
    for (const auto& [strokes, gaps] : strokes_and_gaps) {
        print::PrintedPiece& piece = print->pieces.emplace_back();
        piece.label = std::string(1, static_cast<char>('A' + print->pieces.size() - 1));
        piece.box = {{-1, -1}, {1, 1}};
        piece.fidelity.strokes = strokes;
        piece.fidelity.gaps = gaps;
    }
    letters.strokes = {narrow(1.5)};
    letters.pieces = {{"A", 0, 1, {}}};
    letters.printed = print;
    scene.add(letters, scene.face_towards({0, -1, 0}));
    return scene;
}

// The limits are those of print::Fidelity, assumed: who misses a fifth of a letter's strokes takes it for another.
TEST(SimulatedPrint, SpeaksWhereALetterIsLostOrHardToRead) {
    EXPECT_THAT(printed({{1, 1}, {0.9, 0.9}}).findings("simulated_print"), IsEmpty());
    EXPECT_THAT(printed({{1, 1}, {0.89, 1}}).findings("simulated_print"), ElementsAre(Warns()));
    EXPECT_THAT(printed({{1, 1}, {0.79, 1}}).findings("simulated_print"), ElementsAre(Blocks()));
    EXPECT_THAT(printed({{1, 0.5}}).findings("simulated_print"), ElementsAre(Blocks()));
}

TEST(SimulatedPrint, IsSilentWhereNothingWasPrinted) {
    Scene scene;
    scene.add_letter(0.1);
    EXPECT_THAT(scene.findings("simulated_print"), IsEmpty());
}

TEST(SimulatedPrint, NamesTheWorstLetterWithItsShareAndTheOthers) {
    const auto finding = printed({{0.85, 1}, {0.4, 1}, {1, 1}}).findings("simulated_print").at(0);
    EXPECT_THAT(finding.message, HasSubstr("'B' keeps 40 % of its strokes"));
    EXPECT_THAT(finding.message, HasSubstr("'A'"));
    EXPECT_THAT(finding.message, Not(HasSubstr("'C'")));
    EXPECT_EQ(finding.where.size(), 2U);
    EXPECT_THAT(printed({{1, 0.3}}).findings("simulated_print").at(0).message, HasSubstr("30 % of the openings"));
}

} // namespace
} // namespace touchmark::test
