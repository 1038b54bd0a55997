// SPDX-License-Identifier: MIT
#include "tests/core/content/lettering.h"
#include "tests/support/glyph_area.h"
#include "tests/support/lettering_raster.h"

namespace touchmark::content {
namespace {

using test::drawn;

TEST(TextArea, LatinLettersHaveTheAreaOfTheirOutlinesInTheFont) {
    // Against HarfBuzz's own parser and Green's theorem; both exact for the curves.
    for (const char* letters :
         {"ABCDEFGHIJKLM", "NOPQRSTUVWXYZ", "abcdefghijklmn", "opqrstuvwxyz", "0123456789", "#%&@?!"})
        for (const char* family : {"DejaVu Sans", "Liberation Sans"}) {
            SCOPED_TRACE(std::string(family) + ": " + letters);
            const double expected = test::lettering_area(test::font_file(family), letters, 5);
            // Apart, so that none touches its neighbour.
            Text text{.text = letters, .family = family, .letter_spacing = Mm(2)};
            const Drawn result = drawn(text);
            EXPECT_EQ(result.pieces.size(), std::string_view(letters).size());
            EXPECT_NEAR(area(result.outline) / expected, 1, 1e-6);
        }
}

TEST(TextArea, AreaGrowsWithTheSquareOfTheHeight) {
    const double small = area(drawn("R&8", {}, 2).outline), large = area(drawn("R&8", {}, 20).outline);
    EXPECT_NEAR(large / small, 100, 1e-6);
}

struct Line {
    const char* family;
    const char* text;
};
void PrintTo(const Line& line, std::ostream* out) {
    *out << line.family << ": " << line.text;
}

class AsDrawnByFreeType : public testing::TestWithParam<Line> {};

/// Every pixel that FreeType fills wholly is material, every one that it leaves empty is none: shape, place, order,
/// holes, marks and overlaps at once.
TEST_P(AsDrawnByFreeType, EveryPixelAgrees) {
    const auto [family, text] = GetParam();
    const Drawn result = drawn(text, family);
    EXPECT_TRUE(test::is_consistent(result));
    EXPECT_TRUE(result.missing.empty());
    const auto raster = test::lettering_raster(test::font_file(family), text, 5, 0.02);
    EXPECT_NEAR(result.extent.width(), raster.box_width, 2e-3);
    EXPECT_NEAR(result.extent.height(), raster.box_height, 2e-3);
    EXPECT_NEAR(area(result.outline) / raster.area(), 1, 2e-3);
    int wrong = 0, looked_at = 0;
    for (int row = 0; row < raster.height; row += 3)
        for (int column = row % 7; column < raster.width; column += 7) {
            const auto coverage = raster.coverage[static_cast<std::size_t>(row * raster.width + column)];
            if (coverage != 0 && coverage != 255) continue;
            ++looked_at;
            wrong += contains(result.outline, raster.centre_of(column, row)) != (coverage == 255);
        }
    EXPECT_GT(looked_at, 1000);
    EXPECT_EQ(wrong, 0);
}

INSTANTIATE_TEST_SUITE_P(
    Scripts, AsDrawnByFreeType,
    testing::Values(Line{"DejaVu Sans", "SN 4711-0815 Ø12±0.1 µm"}, Line{"DejaVu Sans", "office AVATAR fjord"},
                    Line{"DejaVu Sans", "ÄÖÜ éçñ Ångström ẞ ﬁ"}, Line{"DejaVu Sans", "Сделано в России Ёж"},
                    Line{"DejaVu Sans", "Κατασκευή Ώρα"}, Line{"DejaVu Sans", "⌀ → ⚠ ♻ ∅ ½"},
                    Line{"DejaVu Serif", "Quality & fi fl"}, Line{"Inter", "office 100 %@"},
                    Line{"Roboto", "Rev. C / 2026"}, Line{"Noto Naskh Arabic", "السلام عليكم"},
                    Line{"Noto Sans Arabic", "مُحَمَّد لا إله"}, Line{"Noto Sans Hebrew", "שָׁלוֹם עולם"},
                    Line{"Noto Sans Devanagari", "क्षत्रिय हिन्दी र्क"}, Line{"Noto Sans Thai", "น้ำกี่ ผลิตในประเทศไทย"},
                    Line{"DejaVu Sans", "საქართველო"}),
    [](const auto& line) { return "Line" + std::to_string(line.index); });

} // namespace
} // namespace touchmark::content
