// SPDX-License-Identifier: MIT
// What Tesseract (Debian package tesseract-ocr, trained on English by its own project) reads of lettering as it comes
// out: a reader that knows nothing of the model.
#include "core/print/text_reading.h"

#include "core/content/fonts.h"
#include "tests/core/print/bench_process.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::print {
namespace {

using testing::Each;
using testing::ElementsAre;

PrintedMark printed(const std::string& words, double cap_height, int weight, const Standing& standing) {
    static const auto fonts = content::FontLibrary::system().value();
    content::Text text;
    text.text = words;
    text.cap_height = Mm(cap_height);
    text.weight = weight;
    const content::Drawn drawn = content::draw(text, *fonts).value();
    PrintedMark mark;
    mark.standing = standing;
    mark.printed = simulate(drawn.outline, standing, profile(), Progress()).value();
    std::vector<Box2> boxes;
    for (const content::Piece& piece : drawn.pieces)
        boxes.push_back(piece.extent);
    const auto figures = fidelity_of(mark.printed, boxes);
    for (std::size_t i = 0; i < boxes.size(); ++i)
        mark.pieces.push_back({drawn.pieces[i].label, boxes[i], figures[i]});
    return mark;
}

TEST(TextReading, ReadsWhatTheFiguresCallGood) {
    ASSERT_TRUE(can_read_text()) << "install tesseract-ocr";
    for (const Zone zone : {Zone::side_wall, Zone::top}) {
        const PrintedMark mark = printed("NW-2207\nLOT 48", 7, 700, {.zone = zone});
        ASSERT_EQ(mark.lettering_verdict(), Verdict::reads);
        const TextReading reading = read_text(mark, Progress()).value();
        EXPECT_EQ(reading.read, "NW-2207LOT48") << key_of(zone);
        EXPECT_EQ(reading.wrong(), 0U);
    }
}

// Raised letters are as bright as the face they stand on: only their edges tell, and a reader that learned from printed
// paper takes some of them for others.
TEST(TextReading, ReadsMostOfRaisedLettering) {
    const PrintedMark mark = printed("NW-2207\nLOT 48", 7, 700, {.mode = Mode::raise});
    ASSERT_EQ(mark.lettering_verdict(), Verdict::reads);
    EXPECT_LE(read_text(mark, Progress()).value().wrong(), 3U);
}

// Common practice, no source: 6 pt regular is lost at a 0.4 mm nozzle. Its capitals are about 1.5 mm high.
TEST(TextReading, DoesNotReadWhatIsLost) {
    const PrintedMark mark = printed("NW-2207\nLOT 48", 1.5, 400, {.zone = Zone::top});
    ASSERT_EQ(mark.lettering_verdict(), Verdict::lost);
    EXPECT_GT(read_text(mark, Progress()).value().wrong(), mark.pieces.size() / 2);
}

TEST(TextReading, HasNothingToReadWithoutLettering) {
    EXPECT_EQ(read_text({}, Progress()).error().code, "print.no_text");
}

TEST(TextComparison, SaysForEachPieceWhatItWasTakenFor) {
    const std::vector<std::string> pieces{"N", "W", "2", "0", "7"};
    const TextReading same = compared(pieces, " NW\n207\f");
    EXPECT_THAT(same.right, Each(1));
    const TextReading other = compared(pieces, "NW2O7");
    EXPECT_THAT(other.right, ElementsAre(1, 1, 1, 0, 1));
    EXPECT_THAT(other.instead, ElementsAre("", "", "", "O", ""));
    EXPECT_EQ(other.wrong(), 1U);
    const TextReading less = compared(pieces, "W207");
    EXPECT_THAT(less.right, ElementsAre(0, 1, 1, 1, 1));
    EXPECT_THAT(compared(pieces, "NW|2.07").right, Each(1)) << "what is read between is nobody's";
    EXPECT_THAT(compared(pieces, "").right, Each(0));
}

// The Levenshtein distance of "kitten" and "sitting" is 3: two taken for others, one too many (the usual example, from
// memory).
TEST(TextComparison, HasTheFewestDifferences) {
    const std::vector<std::string> kitten{"k", "i", "t", "t", "e", "n"};
    const TextReading reading = compared(kitten, "sitting");
    EXPECT_THAT(reading.right, ElementsAre(0, 1, 1, 1, 0, 1));
    EXPECT_THAT(reading.instead, ElementsAre("s", "", "", "", "i", ""));
}

} // namespace
} // namespace touchmark::print
