// SPDX-License-Identifier: MIT
#include "core/content/capacity.h"

#include "core/content/code.h"
#include "core/content/utf8.h"

#include <algorithm>
#include <array>

namespace touchmark::content {
namespace {

enum class Alphabet { digits, capitals, bytes };
constexpr std::string_view units[] = {"digits", "characters", "bytes"};

bool among(char c, std::string_view others) {
    return (c >= '0' && c <= '9') || others.find(c) != others.npos;
}

Alphabet alphabet_of(std::string_view message, std::string_view signs) {
    const auto all = [&](std::string_view more) {
        return std::ranges::all_of(message, [&](char c) { return among(c, more); });
    };
    if (all("")) return Alphabet::digits;
    return all(std::string("ABCDEFGHIJKLMNOPQRSTUVWXYZ") + std::string(signs)) ? Alphabet::capitals : Alphabet::bytes;
}

// ISO/IEC 18004, table 9: correction codewords of a block, and blocks, by level and version.
using Row = std::array<std::uint8_t, 40>;
constexpr Row correction[] = {{7,  10, 15, 20, 26, 18, 20, 24, 30, 18, 20, 24, 26, 30, 22, 24, 28, 30, 28, 28,
                               28, 28, 30, 30, 26, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30},
                              {10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30, 22, 22, 24, 24, 28, 28, 26, 26, 26,
                               26, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28},
                              {13, 22, 18, 26, 18, 24, 18, 22, 20, 24, 28, 26, 24, 20, 30, 24, 28, 28, 26, 30,
                               28, 30, 30, 30, 30, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30},
                              {17, 28, 22, 16, 22, 28, 26, 26, 24, 28, 24, 28, 22, 24, 24, 30, 28, 28, 26, 28,
                               30, 24, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30}};
constexpr Row blocks[] = {{1, 1, 1, 1,  1,  2,  2,  2,  2,  4,  4,  4,  4,  4,  6,  6,  6,  6,  7,  8,
                           8, 9, 9, 10, 12, 12, 12, 13, 14, 15, 16, 17, 18, 19, 19, 20, 21, 22, 24, 25},
                          {1,  1,  1,  2,  2,  4,  4,  4,  5,  5,  5,  8,  9,  9,  10, 10, 11, 13, 14, 16,
                           17, 17, 18, 20, 21, 23, 25, 26, 28, 29, 31, 33, 35, 37, 38, 40, 43, 45, 47, 49},
                          {1,  1,  2,  2,  4,  4,  6,  6,  8,  8,  8,  10, 12, 16, 12, 17, 16, 18, 21, 20,
                           23, 23, 25, 27, 29, 34, 34, 35, 38, 40, 43, 45, 48, 51, 53, 56, 59, 62, 65, 68},
                          {1,  1,  2,  4,  4,  4,  5,  6,  8,  8,  11, 11, 16, 16, 18, 16, 19, 21, 25, 25,
                           25, 34, 30, 32, 35, 37, 40, 42, 45, 48, 51, 54, 57, 60, 63, 66, 70, 74, 77, 81}};

/// Modules that carry data, as bytes: the area less finder, timing, alignment, format and version patterns.
int codewords_of_qr(int version) {
    int modules = (16 * version + 128) * version + 64;
    if (version >= 2) {
        const int alignments = version / 7 + 2;
        modules -= (25 * alignments - 10) * alignments - 55;
        if (version >= 7) modules -= 36;
    }
    return modules / 8;
}

/// Characters in so many bits: digits by threes in 10, 7 or 4, capitals by twos in 11 or 6, bytes in 8.
std::size_t held_by(int bits, Alphabet alphabet) {
    const auto room = static_cast<std::size_t>(std::max(bits, 0));
    switch (alphabet) {
    case Alphabet::digits:
        return room / 10 * 3 + (room % 10 >= 7 ? 2 : room % 10 >= 4 ? 1 : 0);
    case Alphabet::capitals:
        return room / 11 * 2 + (room % 11 >= 6 ? 1 : 0);
    case Alphabet::bytes:
        break;
    }
    return room / 8;
}

std::size_t qr_capacity(int version, int level, Alphabet alphabet, int extra_bits) {
    const auto row = static_cast<std::size_t>(level), column = static_cast<std::size_t>(version - 1);
    const int data = codewords_of_qr(version) - correction[row][column] * blocks[row][column];
    constexpr int counts[][3] = {{10, 12, 14}, {9, 11, 13}, {8, 16, 16}};
    const int group = version <= 9 ? 0 : version <= 26 ? 1 : 2;
    return held_by(8 * data - 4 - counts[static_cast<std::size_t>(alphabet)][group] - extra_bits, alphabet);
}

// ISO/IEC 18004, table 7, by version and level; 0: the version has no such level, or does not hold such characters.
std::size_t micro_capacity(int version, int level, Alphabet alphabet) {
    constexpr std::size_t held[][3][3] = {{{5, 0, 0}, {5, 0, 0}, {0, 0, 0}},
                                          {{10, 6, 0}, {8, 5, 0}, {0, 0, 0}},
                                          {{23, 14, 9}, {18, 11, 7}, {0, 0, 0}},
                                          {{35, 21, 15}, {30, 18, 13}, {21, 13, 9}}};
    return level > 2 ? 0
                     : held[static_cast<std::size_t>(version - 1)][static_cast<std::size_t>(level)]
                           [static_cast<std::size_t>(alphabet)];
}

// ISO/IEC 16022, table 7: data codewords by the number of rows, of columns where it is no square.
std::size_t matrix_codewords(int rows, int columns) {
    struct Size {
        int rows, columns;
        std::size_t codewords;
    };
    constexpr Size sizes[] = {{10, 10, 3},     {12, 12, 5},      {14, 14, 8},      {16, 16, 12},     {18, 18, 18},
                              {20, 20, 22},    {22, 22, 30},     {24, 24, 36},     {26, 26, 44},     {32, 32, 62},
                              {36, 36, 86},    {40, 40, 114},    {44, 44, 144},    {48, 48, 174},    {52, 52, 204},
                              {64, 64, 280},   {72, 72, 368},    {80, 80, 456},    {88, 88, 576},    {96, 96, 696},
                              {104, 104, 816}, {120, 120, 1050}, {132, 132, 1304}, {144, 144, 1558}, {8, 18, 5},
                              {8, 32, 10},     {12, 26, 16},     {12, 36, 22},     {16, 36, 32},     {16, 48, 49}};
    for (const Size& size : sizes)
        if (size.rows == rows && size.columns == columns) return size.codewords;
    return 0;
}

/// Two digits a codeword; three capitals in two after a latch; bytes after a latch and their count.
std::size_t matrix_capacity(std::size_t codewords, Alphabet alphabet) {
    switch (alphabet) {
    case Alphabet::digits:
        return 2 * codewords;
    case Alphabet::capitals:
        return (codewords - 1) * 3 / 2;
    case Alphabet::bytes:
        break;
    }
    return codewords - 2;
}

} // namespace

std::optional<Capacity> capacity_of(const Code& code, const ModuleGrid& modules, int level) {
    const SymbologyRow& row = row_of(code.symbology);
    if (row.linear) return std::nullopt;
    std::string message = code.message;
    if (row.gs1) std::erase_if(message, [](char c) { return c == '(' || c == ')' || c == '[' || c == ']'; });
    const auto text = decode_utf8(message);
    const bool latin = text && std::ranges::all_of(*text, [](char32_t c) { return c <= 0xff; });
    const bool matrix = code.symbology == Symbology::data_matrix || code.symbology == Symbology::gs1_data_matrix;
    const Alphabet alphabet = alphabet_of(message, matrix ? " " : " $%*+-./:");
    Capacity capacity{units[static_cast<std::size_t>(alphabet)], latin ? text->size() : message.size(), 0};
    if (matrix) {
        // FNC1, or the interpretation of the bytes, comes first.
        const std::size_t before = row.gs1 ? 1 : latin ? 0 : 2;
        const std::size_t codewords = matrix_codewords(modules.rows, modules.columns);
        if (codewords > before + 2) capacity.most = matrix_capacity(codewords - before, alphabet);
    } else if (code.symbology == Symbology::micro_qr) {
        capacity.most = micro_capacity((modules.columns - 9) / 2, level, alphabet);
    } else {
        capacity.most = qr_capacity((modules.columns - 17) / 4, level, alphabet, row.gs1 ? 4 : latin ? 0 : 12);
    }
    if (capacity.used > capacity.most) return std::nullopt;
    return capacity;
}

} // namespace touchmark::content
