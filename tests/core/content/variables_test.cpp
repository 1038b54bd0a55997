// SPDX-License-Identifier: MIT
#include "core/content/variable_kinds.h"

#include <gtest/gtest.h>

namespace touchmark::content {
namespace {

using namespace std::chrono;

const Unit first{0, 2026y / March / 14};

/// "name=value" as on the command line.
Variables made(std::initializer_list<std::pair<const char*, const char*>> list, const char* csv = nullptr) {
    Variables variables;
    for (const auto& [name, value] : list) {
        auto variable = variable_from(name, value);
        EXPECT_TRUE(variable) << variable.error().message;
        if (variable) variables.list.push_back(*variable);
    }
    if (csv) variables.table = Table::read("lots.csv", csv).value();
    return variables;
}

std::string said(const Variables& variables, const char* text, std::size_t unit = 0) {
    const auto content = expanded(Text{.text = text}, variables, {unit, first.day});
    return content ? said_by(*content) : content.error().message;
}
std::string code_of(const Variables& variables, const char* text) {
    const auto content = expanded(Text{.text = text}, variables, first);
    return content ? "" : content.error().code;
}

TEST(Placeholder, ADoubledBraceIsABrace) {
    const Variables variables = made({{"part", "NW-2207"}});
    EXPECT_EQ(said(variables, "{part}"), "NW-2207");
    EXPECT_EQ(said(variables, "{{part}"), "{part}");
    EXPECT_EQ(said(variables, "{{{part}}"), "{NW-2207}");
    EXPECT_EQ(said(variables, "a}b}}c"), "a}b}}c") << "a closing one stands for itself";
    for (const char* literal : {"", "{", "{{", "}{", "{part}", "{\"a\":{\"b\":1}}", "Ä{"})
        EXPECT_EQ(said(variables, escaped(literal).c_str()), literal);
    for (const char* bad : {"{", "x{part", "{}", "{a b}", "{a\n}", "{{{"})
        EXPECT_EQ(code_of(variables, bad), "content.placeholder") << bad;
    EXPECT_EQ(with_renamed("{{a}{a}-{b}", "a", "c"), "{{a}{c}-{b}");
}

TEST(Variables, SerialNumbersCountWithLeadingZeros) {
    const Variables variables = made({{"n", "serial:0098..0500"}, {"k", "serial:10..990/10"}, {"w", "serial:8..12"}});
    EXPECT_EQ(said(variables, "{n} {k} {w}", 0), "0098 10 8");
    EXPECT_EQ(said(variables, "{n} {k} {w}", 4), "0102 50 12");
    EXPECT_EQ(unit_count(variables), 5U) << "the shortest";
    EXPECT_EQ(said(variables, "{w}", 5), "{w} ends with 12, its unit 5; there is no unit 6.");
    EXPECT_EQ(std::get<Serial>(variables.list[1].kind).count, 99);
    EXPECT_EQ(variable_from("n", "serial:1..1000")->name, "n");
    EXPECT_EQ(variable_from("n", "serial:001..1000").error().message,
              "The variable {n} ends with 1000, which has more than 3 figures.");
    for (const char* bad : {"serial:", "serial:5..1", "serial:1..5/0", "serial:a..b", "serial:1-5", "serial:-1..5"})
        EXPECT_FALSE(variable_from("n", bad)) << bad;
}

TEST(Variables, DatesAreThatDayOrTheDayOfMaking) {
    const Variables variables = made({{"made", "date:YYMMDD"}, {"due", "date:DD.MM.YY@2027-01-31"}});
    EXPECT_EQ(said(variables, "{made} {due}"), "260314 31.01.27");
    EXPECT_FALSE(variable_from("d", "date:YYYY-W"));
    EXPECT_FALSE(variable_from("d", "date:YYYY@2027-02-30"));
}

TEST(Variables, CheckDigitsAreOfAVariableOrOfTheTextBefore) {
    const Variables variables =
        made({{"gtin", "629104150021"}, {"of", "check:gs1_mod10@gtin"}, {"c", "check:gs1_mod10"}});
    EXPECT_EQ(said(variables, "{gtin}{of}"), "6291041500213") << "gs1.org's example";
    EXPECT_EQ(said(variables, "GTIN\n{gtin}{c}"), "GTIN\n6291041500213") << "of its line";
    EXPECT_EQ(said(variables, "629104-15002 1-{c}"), "629104-15002 1-3") << "blanks and dashes do not count";
    EXPECT_EQ(said(variables, "X{c}"), "GS1 modulo 10 takes figures; \"X\" has \"X\".");
    EXPECT_EQ(code_of(variables, "{c}"), "content.check_digit") << "nothing before it";
    const Code code{.symbology = Symbology::gs1_data_matrix, .message = "(10)A7(01)0952123454321{c}(21){gtin}"};
    EXPECT_EQ(said_by(*expanded(code, variables, first)), "(10)A7(01)09521234543213(21)629104150021")
        << "GS1's example GTIN; of its element alone";
    EXPECT_EQ(values_of(variables, first)->size(), 2U) << "one of the text before it has no value of its own";
    EXPECT_FALSE(value_of(variables, "c", first));
}

TEST(Variables, ColumnsAreTakenRowByRow) {
    const Variables variables = made({{"lot", "column:Lot no"}, {"gone", "column:Colour"}, {"n", "serial:7..99"}},
                                     "Name,Lot no\r\nlid,A17\r\nbody,B2\r\nfoot,\r\n");
    EXPECT_EQ(said(variables, "{lot}/{n}", 0), "A17/7");
    EXPECT_EQ(said(variables, "{lot}/{n}", 1), "B2/8");
    EXPECT_EQ(said(variables, "{lot}", 2), "The column \"Lot no\" is empty in row 3 of the table lots.csv.");
    EXPECT_EQ(said(variables, "{lot}", 3), "The table lots.csv has 3 rows; there is no unit 4.");
    EXPECT_EQ(said(variables, "{gone}"), "The table lots.csv has no column \"Colour\" for {gone}.");
    EXPECT_EQ(unit_count(variables), 3U);
    EXPECT_EQ(code_of(made({{"lot", "column:Lot no"}}), "{lot}"), "content.variable_empty") << "no table";
}

TEST(Variables, SayWhatIsWrong) {
    const Variables variables = made({{"a", "check:luhn@b"},
                                      {"b", "check:luhn@c"},
                                      {"c", "check:luhn@a"},
                                      {"d", "check:luhn@nothing"},
                                      {"lot", ""}});
    EXPECT_EQ(said(variables, "{a}"), "A check digit cannot be of itself: {a} of {b} of {c} of {a}.");
    EXPECT_EQ(code_of(variables, "{a}"), "content.variable_circular");
    EXPECT_EQ(said(variables, "{x}"), "There is no variable {x}.");
    EXPECT_EQ(said(variables, "{d}"), "There is no variable {nothing}.");
    EXPECT_EQ(said(variables, "{lot}"), "The variable {lot} has no value yet.");
    EXPECT_EQ(said(variables, "no variable at all"), "no variable at all") << "what is not used does no harm";
    for (const char* name : {"", "a b", "a{", "a}", "\xFF", "a\n"})
        EXPECT_FALSE(variable_from(name, "1")) << name;
    EXPECT_FALSE(variable_from(std::string(41, 'a'), "1"));
    EXPECT_FALSE(variable_from("a", "two\nlines"));
    EXPECT_FALSE(variable_from("a", "check:crc32"));
}

TEST(Variables, TheCommandLineNamesEveryKind) {
    for (const auto& [name, value, kind] : {std::tuple{"part", "NW-2207", "part"},
                                            {"revision", "C", "revision"},
                                            {"material", "PA12", "material"},
                                            {"lot", "48", "lot"},
                                            {"note", "a:b", "text"},
                                            {"part", "text:serial:1", "text"},
                                            {"d", "date:YYYY", "date"},
                                            {"n", "serial:1..5", "serial"},
                                            {"c", "check:luhn", "check_digit"},
                                            {"k", "column:Lot", "column"}}) {
        const auto variable = variable_from(name, value);
        ASSERT_TRUE(variable) << value;
        EXPECT_EQ(row_of(variable->kind).key, kind) << value;
    }
    for (const VariableKindRow& row : variable_kinds()) {
        EXPECT_EQ(row_of(row.standard).key, row.key);
        EXPECT_TRUE(check({std::string(row.name), row.standard})) << row.key;
    }
}

} // namespace
} // namespace touchmark::content
