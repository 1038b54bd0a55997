// SPDX-License-Identifier: MIT
#include "core/content/check_digit.h"

#include <gtest/gtest.h>

#include <set>

namespace touchmark::content {
namespace {

struct Known {
    CheckScheme scheme;
    std::string text, check;
};

/// Published examples.
const Known published[] = {
    // GS1 General Specifications, 7.9, and gs1.org "How to calculate a check digit manually": GTIN-13 6291041500213.
    {CheckScheme::gs1_mod10, "629104150021", "3"},
    {CheckScheme::gs1_mod10, "0952123454321", "3"}, // GTIN-14 of the GS1 example 09521234543213
    // ISO/IEC 7812-1's formula at its best-known example, 79927398713.
    {CheckScheme::luhn, "7992739871", "3"},
    // ISO/IEC 7064's own example, 0794 (from memory), and two ORCID identifiers of support.orcid.org.
    {CheckScheme::mod_11_2, "0794", "0"},
    {CheckScheme::mod_11_2, "0000-0002-1825-009", "7"},
    {CheckScheme::mod_11_2, "0000-0002-1694-233", "X"},
    {CheckScheme::mod_11_10, "0794", "5"},
    // IFPI, "GRid Standard": A1-2425G-ABC1234002-M.
    {CheckScheme::mod_37_36, "A1-2425G-ABC1234002", "M"},
    // ISO/IEC 7064's own example, 794 (from memory); a legal entity identifier of ISO 17442; the IBAN
    // GB82 WEST 1234 5698 7654 32 of ISO 13616's registry, in the order in which it is checked.
    {CheckScheme::mod_97_10, "794", "44"},
    {CheckScheme::mod_97_10, "5493001KJTIIGC8Y1R", "12"},
    {CheckScheme::mod_97_10, "WEST12345698765432GB", "82"},
};

/// By python-stdnum 1.18 (Debian's python3-stdnum), of random strings.
const Known independent[] = {
    {CheckScheme::mod_11_10, "91417", "7"},
    {CheckScheme::mod_11_10, "763170669074391", "3"},
    {CheckScheme::mod_11_10, "00080636083", "5"},
    {CheckScheme::mod_11_10, "783533740681241", "9"},
    {CheckScheme::mod_11_10, "86834497869", "5"},
    {CheckScheme::mod_11_10, "73", "0"},
    {CheckScheme::mod_37_36, "QBNZN5SW6AXPN", "R"},
    {CheckScheme::mod_37_36, "1U2JPAAWE0CYZEPW", "9"},
    {CheckScheme::mod_37_36, "MTHZ0OW8XZDR", "2"},
    {CheckScheme::mod_37_36, "UN", "H"},
    {CheckScheme::mod_37_36, "WQVMQM0", "S"},
    {CheckScheme::mod_37_36, "T1EBZB5ZG24", "3"},
    {CheckScheme::mod_97_10, "1S0", "41"},
    {CheckScheme::mod_97_10, "FH7BMI4AA", "31"},
    {CheckScheme::mod_97_10, "XAHITKVU7", "77"},
    {CheckScheme::mod_97_10, "J", "41"},
    {CheckScheme::mod_97_10, "LQCG6GWDR1E1P", "02"},
    {CheckScheme::mod_97_10, "2ASWR", "05"},
    {CheckScheme::mod_11_2, "87380695", "2"},
    {CheckScheme::mod_11_2, "04230411442694", "7"},
    {CheckScheme::mod_11_2, "298063513969371", "3"},
    {CheckScheme::luhn, "8587831012228", "5"},
    {CheckScheme::luhn, "4598455", "6"},
    {CheckScheme::luhn, "454", "9"},
    {CheckScheme::gs1_mod10, "0901610339", "2"},
    {CheckScheme::gs1_mod10, "21723216684847", "1"},
    {CheckScheme::gs1_mod10, "13500049576", "8"},
    {CheckScheme::gs1_mod10, "5428343351417195", "1"},
};

TEST(CheckDigit, IsThePublishedOne) {
    for (const Known& known : published)
        EXPECT_EQ(check_digit(known.scheme, known.text), known.check) << known.text;
}

TEST(CheckDigit, IsThatOfAnotherLibrary) {
    for (const Known& known : independent)
        EXPECT_EQ(check_digit(known.scheme, known.text), known.check) << known.text;
}

TEST(CheckDigit, CatchesEveryWrongFigure) {
    // What all of these schemes promise: one wrong character is always found.
    const std::string text = "2718281828";
    for (const CheckSchemeRow& row : check_schemes()) {
        const auto right = check_digit(row.scheme, text);
        for (std::size_t i = 0; i < text.size(); ++i)
            for (char c = '0'; c <= '9'; ++c) {
                std::string wrong = text;
                wrong[i] = c;
                EXPECT_EQ(check_digit(row.scheme, wrong) == right, c == text[i]) << row.key << ' ' << wrong;
            }
    }
}

TEST(CheckDigit, CanBeEveryOutcomeThatItsRowLists) {
    for (const CheckSchemeRow& row : check_schemes()) {
        std::set<std::string> found, listed;
        for (int i = 0; i < 2000; ++i)
            found.insert(*check_digit(row.scheme, std::to_string(i)));
        for (const char c : row.outcomes)
            listed.insert(std::string(1, c));
        if (row.outcomes.empty())
            EXPECT_EQ(found.size(), 97U) << row.key;
        else
            EXPECT_EQ(found, listed) << row.key;
        for (const std::string& one : found)
            EXPECT_EQ(one.size(), row.length);
    }
}

TEST(CheckDigit, SaysWhatItCannotTake) {
    EXPECT_EQ(check_digit(CheckScheme::gs1_mod10, "SN 12").error().message,
              "GS1 modulo 10 takes figures; \"SN 12\" has \"S\".");
    EXPECT_EQ(check_digit(CheckScheme::mod_37_36, "Ä1").error().message,
              "ISO 7064 MOD 37-36 takes figures and letters; \"Ä1\" has \"Ä\".");
    EXPECT_EQ(check_digit(CheckScheme::luhn, " - ").error().code, "content.check_digit");
    EXPECT_EQ(check_digit(CheckScheme::mod_37_36, "un"), "H") << "small letters are capitals";
}

} // namespace
} // namespace touchmark::content
