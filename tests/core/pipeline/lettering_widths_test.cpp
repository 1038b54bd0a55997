// SPDX-License-Identifier: MIT
#include "core/pipeline/lettering_widths.h"
#include "tests/core/pipeline/bracket.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

// Computed: the medial axis of the whole text at once, without taking it apart.
TEST(LetteringWidths, AgreeWithMeasuringTheWholeText) {
    pipeline::Store store;
    for (const char* words : {"Rev. g", "SN 4711-0815", "\xC3\x84ngstr\xC3\xB6m %@", "To\nVA", "iiii 88"})
        for (const int weight : {400, 700}) {
            content::Text text;
            text.text = words;
            text.weight = weight;
            const auto drawn = content::draw(text, *bracket().fonts).value();
            const auto whole = geometry::widths(drawn.outline);
            const auto pieces = pipeline::lettering_widths(store, drawn, text.cap_height, Progress()).value();
            ASSERT_FALSE(pieces.strokes.empty());
            EXPECT_NEAR(pieces.strokes.front().width, whole.strokes.front().width, 5e-3) << words;
            EXPECT_NEAR(distance(pieces.strokes.front().side_a, pieces.strokes.front().side_b),
                        pieces.strokes.front().width, 1e-2);
            ASSERT_EQ(pieces.gaps.empty(), whole.gaps.empty()) << words;
            if (!whole.gaps.empty()) {
                EXPECT_NEAR(pieces.gaps.front().width, whole.gaps.front().width, 5e-3) << words;
            }
        }
}

TEST(LetteringWidths, NameTheLetterThatIsNarrow) {
    pipeline::Store store;
    content::Text text;
    text.text = "HHgHH";
    const auto drawn = content::draw(text, *bracket().fonts).value();
    const auto widths = pipeline::lettering_widths(store, drawn, text.cap_height, Progress()).value();
    const auto piece = drawn.piece_of_region.at(widths.strokes.front().region);
    EXPECT_EQ(drawn.pieces.at(piece).label, "g"); // a capital H has the font's full stem everywhere
    const Box2& box = drawn.pieces.at(piece).extent;
    EXPECT_TRUE(box.meets({widths.strokes.front().at, widths.strokes.front().at}));
}

TEST(LetteringWidths, OfTheLineUnderACodeAreThoseOfItsLetters) {
    pipeline::Store store;
    const content::Code code{.message = "NW-2207 g", .lettering = Mm(3)};
    const auto drawn = content::draw(code, *bracket().fonts).value();
    const auto beneath = pipeline::lettering_widths(store, drawn, code.lettering, Progress()).value();
    const auto alone =
        content::draw(content::Text{.text = code.message, .cap_height = code.lettering}, *bracket().fonts).value();
    const auto expected = geometry::widths(alone.outline);
    ASSERT_FALSE(beneath.strokes.empty());
    ASSERT_FALSE(beneath.gaps.empty());
    EXPECT_NEAR(beneath.strokes.front().width, expected.strokes.front().width, 5e-3);
    EXPECT_NEAR(beneath.gaps.front().width, expected.gaps.front().width, 5e-3);
    for (const auto* places : {&beneath.strokes, &beneath.gaps})
        for (const geometry::Narrow& place : *places)
            EXPECT_GE(drawn.piece_of_region.at(place.region), 1U) << "the symbol itself is not lettering";
    const Box2& box = drawn.pieces.at(drawn.piece_of_region.at(beneath.strokes.front().region)).extent;
    EXPECT_TRUE(box.meets({beneath.strokes.front().at, beneath.strokes.front().at}));
}

} // namespace
} // namespace touchmark::test
