// SPDX-License-Identifier: MIT
#include "core/content/code.h"

#include "tests/core/geometry/invariants.h"
#include "tests/support/code_reader.h"
#include "tests/support/outline_raster.h"

#include <gmock/gmock.h>

namespace touchmark::content {
namespace {

using test::Reading;

const FontLibrary& fonts() {
    static const auto library = FontLibrary::system().value();
    return *library;
}

Drawn drawn(const Code& code) {
    const auto result = draw_code(code, fonts());
    EXPECT_TRUE(result) << (result ? "" : result.error().message);
    return result.value_or(Drawn{});
}

/// Read by ZXing-C++, which made nothing of it, from the outline itself.
Reading read(const Code& code) {
    const Drawn it = drawn(code);
    const double margin = row_of(code.symbology).linear ? code.module.value : 0;
    const Box2 frame{{it.extent.low.x, it.extent.low.y - margin}, {it.extent.high.x, it.extent.high.y + margin}};
    const test::Picture picture = test::picture_of(it.outline, frame, 5 / code.module.value);
    return test::read_code(code.light_is_mark ? test::inverted(picture) : picture);
}

std::string code_of(const Code& code) {
    const auto result = draw_code(code, fonts());
    return result ? "" : result.error().code;
}

std::string letters(std::size_t count) {
    std::string text;
    for (std::size_t i = 0; i < count; ++i)
        text += "ABCDEFGHJKLMNPQRSTUVWXYZ0123456789-. $/+%:"[(i * 7 + i / 5) % 42];
    return text;
}

TEST(CodeRead, EveryVersionAndLevelOfQr) {
    int read_back = 0;
    for (int version = 1; version <= 40; version += version < 10 ? 1 : 5)
        for (int level = 0; level < 4; ++level) {
            const Code code{.symbology = Symbology::qr,
                            .message = "NW-2207 LOT " + std::to_string(version),
                            .version = std::max(version, 2),
                            .level = static_cast<CorrectionLevel>(level)};
            const Reading got = read(code);
            EXPECT_EQ(got.text, code.message) << version;
            EXPECT_EQ(got.format, "QRCode");
            EXPECT_EQ(got.level, std::string(1, "LMQH"[level]));
            EXPECT_FALSE(got.mirrored);
            ++read_back;
        }
    EXPECT_GE(read_back, 60);
}

TEST(CodeRead, EverySizeOfDataMatrix) {
    for (int size = 1; size <= 30; ++size) {
        const Code code{.message = "7A", .version = size};
        const Reading got = read(code);
        EXPECT_EQ(got.text, code.message) << size;
        EXPECT_EQ(got.format, "DataMatrix");
        EXPECT_FALSE(got.mirrored);
    }
}

TEST(CodeRead, MessagesOfEveryLengthAndAlphabet) {
    const std::vector<std::string> alphabets{"0123456789", "NW-2207", "Ångström 48 µm", "Деталь 7",
                                             "部品番号22", "πλάκα",   "lot/48?x=1&y=2", "قطعة"};
    for (const Symbology symbology : {Symbology::qr, Symbology::data_matrix})
        for (const std::string& message : alphabets)
            EXPECT_EQ(read({.symbology = symbology, .message = message}).text, message);
    for (const Symbology symbology : {Symbology::qr, Symbology::data_matrix, Symbology::code_128})
        for (std::size_t length = 1; length <= (symbology == Symbology::code_128 ? 40u : 300u);
             length += length / 4 + 1) {
            const std::string message = letters(length);
            EXPECT_EQ(read({.symbology = symbology, .message = message}).text, message) << length;
        }
}

TEST(CodeRead, TheReverseReadsWhenThePictureIsTurnedToo) {
    for (const Symbology symbology : {Symbology::qr, Symbology::data_matrix}) {
        const Code code{.symbology = symbology, .message = "NW-2207 LOT 48", .light_is_mark = true};
        EXPECT_EQ(read(code).text, code.message);
    }
}

TEST(CodeRead, RectanglesAndMicroSizes) {
    const Code wide{.message = "NW-2207", .rectangular = true};
    EXPECT_EQ(read(wide).text, wide.message);
    const Drawn flat = drawn(wide);
    EXPECT_GT(flat.extent.high.x, 1.4 * flat.extent.high.y);
    const auto micro = encode({.symbology = Symbology::micro_qr, .message = "2207", .level = CorrectionLevel::low});
    ASSERT_TRUE(micro);
    EXPECT_LE(micro->modules.columns, 17);
    EXPECT_THAT(micro->version, testing::StartsWith("Version M"));
}

// GS1 General Specifications: the element string of the example (01)09521234543213 carries check digit 3; from memory.
TEST(CodeRead, Gs1ElementsAreHeldWithTheirIdentifiers) {
    // Identifiers of fixed length run on; after one of variable length comes a separator (FNC1, read as GS, 0x1D).
    const std::string message = "(01)09521234543213(17)270930(10)LOT48(21)0007";
    const std::string elements = "01095212345432131727093010LOT48\x1d"
                                 "210007";
    for (const Symbology symbology : {Symbology::gs1_data_matrix, Symbology::gs1_qr, Symbology::gs1_128}) {
        const Reading got = read({.symbology = symbology, .message = message});
        EXPECT_TRUE(got.gs1) << got.format;
        EXPECT_EQ(got.text, elements) << got.format;
    }
    EXPECT_EQ(code_of({.symbology = Symbology::gs1_128, .message = "(01)09521234543214"}), "content.code_message")
        << "a wrong check digit";
    EXPECT_EQ(code_of({.symbology = Symbology::gs1_128, .message = "(01)0952123"}), "content.code_message")
        << "too short for its identifier";
    EXPECT_EQ(code_of({.symbology = Symbology::gs1_128, .message = "09521234543213"}), "content.code_message");
}

// ISO/IEC 16022:2006, annex O: "123456" in ECC 200 gives the 10 × 10 symbol with the codewords 142 164 186 and the
// correction 114 25 5 88 102; its picture, row by row, from memory.
TEST(Code, DataMatrixOfTheStandardsExample) {
    const auto symbol = encode({.symbology = Symbology::data_matrix, .message = "123456"});
    ASSERT_TRUE(symbol);
    EXPECT_EQ(symbol->version, "10 × 10");
    const std::vector<std::string> rows{"1010101010", "1100101101", "1100000100", "1100011101", "1100001000",
                                        "1000001111", "1110110000", "1111011001", "1001110100", "1111111111"};
    for (int y = 0; y < 10; ++y) {
        std::string row;
        for (int x = 0; x < 10; ++x)
            row += symbol->modules.at(x, y) ? '1' : '0';
        EXPECT_EQ(row, rows[static_cast<std::size_t>(y)]) << y;
    }
}

/// The codewords of a version 1 symbol of one block, read as ISO/IEC 18004 lays them out: in pairs of columns from the
/// right, up and down in turn, without the modules that have a function, the mask taken off.
std::vector<int> codewords_of_version_1(const ModuleGrid& dark) {
    const auto bit = [&](int row, int column) { return dark.at(column, row); };
    const int mask = 4 * (bit(8, 2) ^ 1) + 2 * bit(8, 3) + (bit(8, 4) ^ 1);
    const auto masked = [mask](int i, int j) {
        const std::array<int, 8> rests{(i + j) % 2,
                                       i % 2,
                                       j % 3,
                                       (i + j) % 3,
                                       (i / 2 + j / 3) % 2,
                                       i * j % 2 + i * j % 3,
                                       (i * j % 2 + i * j % 3) % 2,
                                       ((i + j) % 2 + i * j % 3) % 2};
        return rests[static_cast<std::size_t>(mask)] == 0;
    };
    const auto has_function = [](int i, int j) {
        return i == 6 || j == 6 || (i < 9 && (j < 9 || j > 12)) || (i > 12 && j < 9);
    };
    std::vector<int> words(1);
    int bits = 0;
    bool up = true;
    for (int right = 20; right > 0; right -= right == 8 ? 3 : 2, up = !up)
        for (int step = 0; step < 21; ++step)
            for (const int column : {right, right - 1}) {
                const int row = up ? 20 - step : step;
                if (has_function(row, column)) continue;
                if (bits == 8) words.push_back(0), bits = 0;
                words.back() = 2 * words.back() + (bit(row, column) != masked(row, column));
                ++bits;
            }
    return words;
}

// ISO/IEC 18004, annex I: "01234567" as 1-M, its data codewords and the ten of its correction; from memory.
TEST(Code, QrOfTheStandardsExample) {
    const auto symbol = encode({.symbology = Symbology::qr, .message = "01234567", .version = 1});
    ASSERT_TRUE(symbol);
    ASSERT_EQ(symbol->version, "Version 1-M");
    EXPECT_THAT(codewords_of_version_1(symbol->modules),
                testing::ElementsAre(0x10, 0x20, 0x0C, 0x56, 0x61, 0x80, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11,
                                     0xEC, 0x11, 0xA5, 0x24, 0xD4, 0xC1, 0xED, 0x36, 0xC7, 0x87, 0x2C, 0x55));
}

// ISO/IEC 15417:2007: start, data, check and stop characters of 11 modules each, the stop of 13; digits pair up in
// subset C.
TEST(Code, Code128HasTheLengthOfItsCharacters) {
    const auto pairs = encode({.symbology = Symbology::code_128, .message = "220748"});
    ASSERT_TRUE(pairs);
    EXPECT_EQ(pairs->modules.columns, 11 * (1 + 3 + 1) + 13);
    const auto plain = encode({.symbology = Symbology::code_128, .message = "NW-A"});
    ASSERT_TRUE(plain);
    EXPECT_EQ(plain->modules.columns, 11 * (1 + 4 + 1) + 13);
}

// ISO/IEC 18004, table 7 (1-L … 1-H, 4-M, 40-L; M1 … M4 from memory), ISO/IEC 16022, table 7.
TEST(Code, CapacitiesAreThoseOfTheStandards) {
    struct Published {
        Symbology symbology;
        int version;
        CorrectionLevel level;
        std::size_t digits, capitals, bytes;
    };
    using enum CorrectionLevel;
    const Published table[] = {
        {Symbology::qr, 1, low, 41, 25, 17},           {Symbology::qr, 1, medium, 34, 20, 14},
        {Symbology::qr, 1, quartile, 27, 16, 11},      {Symbology::qr, 1, high, 17, 10, 7},
        {Symbology::qr, 4, medium, 149, 90, 62},       {Symbology::qr, 40, low, 7089, 4296, 2953},
        {Symbology::micro_qr, 2, low, 10, 6, 0},       {Symbology::micro_qr, 3, medium, 18, 11, 7},
        {Symbology::micro_qr, 4, quartile, 21, 13, 9}, {Symbology::data_matrix, 1, low, 6, 3, 1},
        {Symbology::data_matrix, 4, low, 24, 16, 10},  {Symbology::data_matrix, 24, low, 3116, 2335, 1556}};
    for (const Published& row : table) {
        const auto held = [&](char c, std::size_t count) {
            const auto symbol = encode({.symbology = row.symbology,
                                        .message = std::string(std::max<std::size_t>(count, 1), c),
                                        .version = row.version,
                                        .level = row.level});
            EXPECT_TRUE(symbol) << (symbol ? "" : symbol.error().message);
            return symbol ? symbol->capacity : std::nullopt;
        };
        const std::string what = std::string(row_of(row.symbology).title) + " " + std::to_string(row.version);
        EXPECT_EQ(held('7', row.digits)->most, row.digits) << what;
        EXPECT_EQ(held('7', row.digits)->unit, "digits");
        EXPECT_EQ(held('A', row.capitals)->most, row.capitals) << what;
        if (row.bytes > 0 && row.symbology != Symbology::data_matrix) {
            EXPECT_EQ(held('#', row.bytes)->most, row.bytes) << what;
        }
    }
}

/// By trying: the library that makes the symbols takes as much as is said, and not one more.
TEST(Code, CapacityIsWhereTheLibraryRefusesTheNext) {
    for (int version = 1; version <= 40; version += version < 10 ? 1 : 6)
        for (int level = 0; level < 4; ++level)
            for (const char c : {'7', 'A', '#'}) {
                const auto symbol_of = [&](std::size_t count) {
                    return encode({.symbology = Symbology::qr,
                                   .message = std::string(count, c),
                                   .version = version,
                                   .level = static_cast<CorrectionLevel>(level)});
                };
                // The level rises where the message leaves room for it, and comes down as the symbol fills.
                std::size_t count = 1;
                std::string last;
                for (auto symbol = symbol_of(count); symbol; symbol = symbol_of(++count)) {
                    ASSERT_TRUE(symbol->capacity);
                    count = symbol->capacity->most;
                    last = symbol->version;
                    EXPECT_TRUE(symbol_of(count)) << last << c << count;
                }
                EXPECT_TRUE(last.ends_with("LMQH"[level])) << last << ", not " << level;
            }
}

TEST(Code, TouchingModulesAreOneRegionAndNothingTouchesAtAPoint) {
    ModuleGrid grid(4, 3); // ##..
    grid.put(0, 0, true);  // ..#.
    grid.put(1, 0, true);  // .#.#
    grid.put(2, 1, true);
    grid.put(1, 2, true);
    grid.put(3, 2, true);
    const geometry::Outline outline = outline_of(grid, {.width = 1, .height = 1, .corner = 0.15});
    EXPECT_EQ(outline.regions.size(), 1u);
    EXPECT_TRUE(test::is_valid(outline));
    // Each of the three contacts adds two triangles of 0.15 × 0.15 / 2.
    EXPECT_NEAR(geometry::area(outline), 5 + 3 * 0.15 * 0.15, 1e-12);
}

TEST(Code, OutlinesKeepTheContractAndTheAreaOfTheirModules) {
    for (const Symbology symbology : {Symbology::qr, Symbology::data_matrix, Symbology::micro_qr})
        for (const bool reverse : {false, true}) {
            const Code code{.symbology = symbology, .message = "NW2207", .module = Mm(0.7), .light_is_mark = reverse};
            const Drawn it = drawn(code);
            EXPECT_TRUE(test::is_valid(it.outline)) << row_of(symbology).title;
            const auto symbol = encode(code);
            ASSERT_TRUE(symbol);
            const int quiet = row_of(symbology).quiet_modules, side = symbol->modules.columns + 2 * quiet;
            EXPECT_NEAR(it.extent.high.x - it.extent.low.x, 0.7 * side, 1e-12);
            double dark = 0;
            for (const std::uint8_t module : symbol->modules.set)
                dark += module;
            const double expected = 0.49 * (reverse ? side * side - dark : dark);
            EXPECT_GE(geometry::area(it.outline), expected - 1e-9);
            EXPECT_LE(geometry::area(it.outline), 1.02 * expected) << "necks at corners are small";
        }
}

TEST(Code, TheReadableLineStandsBeneathAndItsLettersAreNamed) {
    const Code code{.symbology = Symbology::gs1_128, .message = "(01)09521234543213", .lettering = Mm(3)};
    const Drawn it = drawn(code);
    ASSERT_GT(it.pieces.size(), 10u);
    EXPECT_EQ(it.pieces.front().label, "GS1-128");
    EXPECT_EQ(it.pieces[1].label, "(");
    EXPECT_LT(it.pieces[1].extent.high.y, it.pieces.front().extent.low.y);
    EXPECT_EQ(it.piece_of_region.size(), it.outline.regions.size());
    EXPECT_NEAR(it.extent.low.y + it.extent.high.y, 0, 1e-9);
    EXPECT_TRUE(test::is_valid(it.outline));
}

TEST(Code, WhatCannotBeEncodedIsOneClearError) {
    EXPECT_EQ(code_of({.message = ""}), "content.code_empty");
    EXPECT_EQ(code_of({.message = "\xff\xfe"}), "content.bad_utf8");
    EXPECT_EQ(code_of({.symbology = Symbology::qr, .message = letters(5000)}), "content.code_capacity");
    EXPECT_EQ(code_of({.message = letters(4000)}), "content.code_capacity");
    EXPECT_EQ(code_of({.symbology = Symbology::qr, .message = letters(200), .version = 2}), "content.code_capacity");
    EXPECT_EQ(code_of({.symbology = Symbology::qr, .message = "A", .version = 41}), "content.code_option");
    EXPECT_EQ(code_of({.message = "A", .version = -1}), "content.code_option");
    EXPECT_EQ(code_of({.message = "A", .module = Mm(0)}), "content.size");
    EXPECT_EQ(code_of({.symbology = Symbology::code_128, .message = "部品"}), "content.code_message");
}

TEST(Code, EverySymbologyHasItsRow) {
    for (const SymbologyRow& row : symbologies()) {
        EXPECT_EQ(&row_of(row.symbology), &row);
        EXPECT_FALSE(row.standard.empty());
        EXPECT_GT(row.quiet_modules, 0);
    }
}

TEST(CodeGrooves, CoverTheirShareOfEveryMarkedModuleAndNothingElse) {
    for (const bool light : {false, true})
        for (const int grooves : {1, 2, 3}) {
            const Code code{.message = "NW-2207", .module = Mm(2), .light_is_mark = light, .grooves = grooves};
            const Drawn it = drawn(code);
            const auto modules = marked_modules(code, it).value();
            int marked = 0, overlapping = 0;
            for (int row = 0; row < modules.grid.rows; ++row)
                for (int column = 0; column < modules.grid.columns; ++column) {
                    marked += modules.grid.at(column, row);
                    for (int i = 0; i < grooves; ++i) {
                        const double apart = 1.0 / grooves, groove = column + apart * (i + 0.5);
                        const auto at = [&](double x) {
                            return geometry::contains(
                                it.outline, modules.centre + place_in(modules.grid, modules.size, x, row + 0.5));
                        };
                        overlapping += at(groove) != modules.grid.at(column, row);
                        overlapping += at(groove + 0.45 * apart); // the rib
                    }
                }
            EXPECT_EQ(overlapping, 0);
            EXPECT_NEAR(geometry::area(it.outline), marked * 4 * groove_share, 1e-9);
            EXPECT_NEAR(it.code->groove_mm + it.code->rib_mm, 2.0 / grooves, 1e-12);
        }
}

TEST(CodeGrooves, AreNotOfBars) {
    const Code bars{.symbology = Symbology::code_128, .message = "NW-2207", .grooves = 2};
    Code filled = bars;
    filled.grooves = 0;
    EXPECT_EQ(drawn(bars).outline, drawn(filled).outline);
    EXPECT_EQ(drawn(bars).code->groove_mm, 0);
}

} // namespace
} // namespace touchmark::content
