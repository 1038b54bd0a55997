// SPDX-License-Identifier: MIT
#include "core/content/worst_case.h"

#include "core/content/code.h"
#include "core/content/serial_range.h"
#include "core/content/variable_kinds.h"
#include "core/geometry/width.h"
#include "tests/core/content/lettering.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace touchmark::content {
namespace {

using namespace std::chrono;

const Unit first{0, 2026y / March / 14};
constexpr const char* proportional = "Inter"; ///< its figures have widths of their own, the 1 least (fonts-inter)

Variables made(std::initializer_list<std::pair<const char*, const char*>> list, const char* csv = nullptr) {
    Variables variables;
    for (const auto& [name, value] : list)
        variables.list.push_back(variable_from(name, value).value());
    if (csv) variables.table = Table::read("lots.csv", csv).value();
    return variables;
}

std::vector<WorstCase> cases_of(const Content& content, const Variables& variables) {
    const Text style = lettering_of(content).value_or(Text{});
    return worst_cases(content, variables, first,
                       {[&](char32_t letter) { return measure_letter(style, letter, test::fonts()); },
                        [&](const std::string& line) { return measure_line(style, line, test::fonts()); }});
}

/// The first unit where there is no such case: it is as bad then.
Content worst_of(Worst what, const Content& content, const Variables& variables) {
    WorstCase worst;
    for (const WorstCase& one : cases_of(content, variables))
        if (one.what == what) worst = one;
    return expanded(content, variables, first, worst).value();
}
std::string said_in(Worst what, const Content& content, const Variables& variables) {
    for (const WorstCase& one : cases_of(content, variables))
        if (one.what == what) return one.said;
    return "";
}

TEST(SerialRange, TheHeaviestNumberIsThatOfCountingThemAll) {
    std::mt19937 random(11);
    const auto whole = [&](int least, int most) { return std::uniform_int_distribution<int>(least, most)(random); };
    for (int tries = 0; tries < 400; ++tries) {
        Serial serial{.start = whole(0, 3000), .step = whole(1, 60), .count = whole(1, 400)};
        serial.digits = whole(0, 1) == 0 ? 0 : static_cast<int>(std::to_string(serial.last()).size()) + whole(0, 2);
        double weights[10][11], leads[10];
        for (int i = 0; i < 10; ++i) {
            leads[i] = whole(0, 5);
            for (double& weight : weights[i])
                weight = whole(0, 9);
        }
        const auto weight_of = [&](std::int64_t number) {
            const std::string text = serial.text(number);
            double sum = leads[text.front() - '0'];
            for (std::size_t i = 0; i < text.size(); ++i)
                sum += weights[text[i] - '0'][i + 1 == text.size() ? 10 : text[i + 1] - '0'];
            return sum;
        };
        Heaviest best{-1, 0};
        for (std::int64_t i = 0; i < serial.count; ++i)
            if (const double weight = weight_of(serial.start + i * serial.step); weight > best.weight + 1e-9)
                best = {weight, serial.start + i * serial.step};
        const Heaviest found = heaviest(
            serial, [&](int digit, int right) { return weights[digit][right < 0 ? 10 : right]; },
            [&](int digit) { return leads[digit]; });
        ASSERT_NEAR(found.weight, best.weight, 1e-9);
        ASSERT_EQ(found.number, best.number) << serial.start << '+' << serial.step << 'x' << serial.count;
    }
}

TEST(SerialRange, AHugeRangeIsNotCounted) {
    const Serial serial{.start = 123'456'789, .step = 997, .count = 1'000'000'000, .digits = 15};
    const Heaviest found = heaviest(serial, [](int digit, int) { return digit == 8 ? 1.0 : 0.0; });
    EXPECT_EQ((found.number - serial.start) % serial.step, 0);
    EXPECT_LE(found.number, serial.last());
    const std::string text = serial.text(found.number);
    EXPECT_EQ(std::ranges::count(text, '8'), found.weight);
    EXPECT_GE(found.weight, 8) << text;
}

TEST(WorstCase, TheWidestIsThatOfDrawingThemAll) {
    for (const auto& [range, text] : {std::pair{"serial:087..312", "{n}"},
                                      {"serial:1..210", "SN {n}/A"},
                                      {"serial:5..990/7", "{n}\nLONG LINE"},
                                      {"serial:0100..0119", "{n}-{n}"}}) {
        const Variables variables = made({{"n", range}});
        const Text content{.text = text, .family = proportional};
        const double chosen = test::drawn(std::get<Text>(worst_of(Worst::widest, content, variables))).extent.width();
        double widest = 0;
        for (std::size_t i = 0; i < unit_count(variables); ++i)
            widest = std::max(
                widest, test::drawn(std::get<Text>(*expanded(content, variables, {i, first.day}))).extent.width());
        EXPECT_NEAR(chosen, widest, 0.02) << range << ": but for kerning";
    }
}

TEST(WorstCase, TheThinnestStrokeAndTheTightestGapAreThoseOfMeasuringThemAll) {
    const Variables variables = made({{"n", "serial:110..189"}});
    const Text content{.text = "{n}", .family = proportional};
    const auto widths_of = [](const Content& one) {
        return geometry::widths(test::drawn(std::get<Text>(one)).outline);
    };
    double stroke = 1e9, gap = 1e9;
    for (std::size_t i = 0; i < unit_count(variables); ++i) {
        const auto widths = widths_of(*expanded(content, variables, {i, first.day}));
        stroke = std::min(stroke, widths.strokes.front().width);
        gap = std::min(gap, widths.gaps.front().width);
    }
    EXPECT_NEAR(widths_of(worst_of(Worst::thinnest, content, variables)).strokes.front().width, stroke, 0.005);
    EXPECT_NEAR(widths_of(worst_of(Worst::tightest, content, variables)).gaps.front().width, gap, 0.03);
}

TEST(WorstCase, ANarrowOneIsNotTheWidest) {
    const Text content{.text = "{serial}", .family = proportional};
    const Variables variables = made({{"serial", "serial:0111..0899"}});
    const std::string said = said_in(Worst::widest, content, variables);
    EXPECT_TRUE(said.starts_with("serial 0")) << said;
    EXPECT_EQ(said.find('1'), std::string::npos) << said << ": Inter's 1 is its narrowest figure";
    EXPECT_TRUE(cases_of(Text{.text = "no variable"}, variables).size() == 1);
    EXPECT_TRUE(cases_of(Text{.text = "{lot}"}, made({{"lot", "A7"}})).size() == 1) << "one that never varies";
    EXPECT_TRUE(cases_of(Text{.text = "{x}"}, variables).size() == 1) << "one that cannot be made";
}

TEST(WorstCase, OfATableEachRowIsLookedAt) {
    const Variables variables = made({{"name", "column:Name"}, {"lot", "column:Lot"}, {"n", "serial:1..9"}},
                                     "Name,Lot\nLID,1\nLID,1\nMEMBRANE,2\nil,WWWWWWW\nÄg,4\nI,\n");
    const Text content{.text = "{name} {lot}"};
    EXPECT_EQ(said_in(Worst::widest, content, variables), "name il and lot WWWWWWW") << "row by row, not mixed";
    EXPECT_EQ(said_in(Worst::tallest, content, variables), "name Äg and lot 4");
    EXPECT_EQ(said_in(Worst::widest, Text{.text = "{name}"}, variables), "name MEMBRANE");
    const Variables snowman = made({{"name", "column:Name"}}, "Name\nLID\nX\xE2\x98\x83\n");
    EXPECT_EQ(said_in(Worst::lacking, Text{.text = "{name}", .family = "Liberation Sans"}, snowman),
              "name X\xE2\x98\x83");
    const auto cases = cases_of(content, variables);
    const auto broken = std::ranges::find(cases, Worst::broken, &WorstCase::what);
    ASSERT_NE(broken, cases.end());
    EXPECT_EQ(expanded(content, variables, first, *broken).error().message,
              "The column \"Lot\" is empty in row 6 of the table lots.csv.");
}

TEST(WorstCase, DatesAndCheckDigitsMayBeAnything) {
    const Variables variables = made({{"made", "date:MMM"}, {"n", "serial:001..300"}, {"c", "check:mod_11_2@n"}});
    const Content month = worst_of(Worst::widest, Text{.text = "{made}", .family = proportional}, variables);
    double widest = 0;
    std::string longest;
    for (unsigned i = 1; i <= 12; ++i) {
        const std::string name = *format_day(2026y / i / 1, "MMM");
        if (const double width = test::drawn(Text{.text = name, .family = proportional}).extent.width(); width > widest)
            widest = width, longest = name;
    }
    EXPECT_EQ(said_by(month), longest);
    const Content with_check = worst_of(Worst::widest, Text{.text = "{n}{c}", .family = proportional}, variables);
    EXPECT_GE(test::drawn(std::get<Text>(with_check)).extent.width(),
              test::drawn(Text{.text = "300X", .family = proportional}).extent.width() - 0.02)
        << said_by(with_check);
    EXPECT_TRUE(cases_of(Text{.text = "{d}"}, made({{"d", "date:YYMMDD@2026-01-01"}})).size() == 1);
}

TEST(WorstCase, OfACodeTheLargestSymbolCounts) {
    const auto modules = [](const Content& content) { return encode(std::get<Code>(content))->modules.columns; };
    const Code code{.message = "{n}"};
    const Variables variables = made({{"n", "serial:1..20000000"}});
    int largest = 0; // of numbers of every length, by encoding them
    for (const char* number : {"1", "99", "999", "9999", "99999", "999999", "9999999", "20000000"})
        largest = std::max(largest, modules(Code{.message = number}));
    EXPECT_GT(largest, modules(Code{.message = "1"}));
    EXPECT_EQ(modules(worst_of(Worst::longest, code, variables)), largest);

    const Variables lots = made({{"lot", "column:Lot"}}, "Lot\nA\n12345678\nabcdefghijkl\nABCDEFG\n");
    EXPECT_EQ(said_in(Worst::longest, code.message.empty() ? code : Code{.message = "{lot}"}, lots),
              "lot abcdefghijkl");
    EXPECT_EQ(said_in(Worst::longest, Code{.message = "{lot}", .version = 2}, lots), "lot abcdefghijkl")
        << "does not fit 12 × 12";
    const Variables bad = made({{"gtin", "column:GTIN"}}, "GTIN\n09521234543213\n09521234543214\n");
    const Code gs1{.symbology = Symbology::gs1_data_matrix, .message = "(01){gtin}"};
    EXPECT_EQ(said_in(Worst::longest, gs1, bad), "gtin 09521234543214") << "its check digit is wrong";
}

TEST(WorstCase, ALongTableTakesAMoment) {
    std::string csv = "Lot\n";
    for (int i = 0; i < 50'000; ++i)
        csv += "L" + std::to_string(i * 7919 % 1'000'003) + "\n";
    const Variables variables = made({{"lot", "column:Lot"}}, csv.c_str());
    const auto cases = cases_of(Text{.text = "LOT {lot}", .family = proportional}, variables);
    EXPECT_GT(cases.size(), 1U);
    EXPECT_GT(cases_of(Code{.message = "{lot}"}, variables).size(), 1U);
}

} // namespace
} // namespace touchmark::content
