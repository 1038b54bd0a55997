// SPDX-License-Identifier: MIT
#include "core/content/templates.h"

#include "core/base/atomic_file.h"
#include "tests/core/content/lettering.h"
#include "tests/core/geometry/invariants.h"

#include <gmock/gmock.h>

#include <numbers>
#include <set>

namespace touchmark::content {
namespace {

using geometry::Outline;

std::string text_of(std::string_view key, const TemplateValues& values) {
    const auto made = from_template(key, values, test::fonts());
    return made ? said_by(*made) : made.error().code;
}
Drawn drawn_from(std::string_view key, const TemplateValues& values) {
    const auto made = from_template(key, values, test::fonts());
    EXPECT_TRUE(made) << (made ? "" : made.error().message);
    auto drawn = draw(made.value_or(Text{}), test::fonts());
    EXPECT_TRUE(drawn) << (drawn ? "" : drawn.error().message);
    EXPECT_TRUE(drawn && test::is_valid(drawn->outline));
    return drawn.value_or(Drawn{});
}
constexpr const char* refused = "content.template_value";

// ISO 11469: the marks of its examples (published), (REC30) likewise; FR from memory.
TEST(Templates, PlasticsAreComposedAsTheStandardWritesThem) {
    EXPECT_EQ(text_of("plastics", {{"polymer", "ABS"}}), ">ABS<");
    EXPECT_EQ(text_of("plastics", {{"polymer", "PC+ABS"}}), ">PC+ABS<");
    EXPECT_EQ(text_of("plastics", {{"polymer", "PP"}, {"filler", "GF30"}}), ">PP-GF30<");
    EXPECT_EQ(text_of("plastics", {{"polymer", "PA66"}, {"filler", "GF25+MD15"}}), ">PA66-(GF25+MD15)<");
    EXPECT_EQ(text_of("plastics", {{"polymer", "ABS"}, {"recycled", "30"}}), ">ABS(REC30)<");
    EXPECT_EQ(text_of("plastics", {{"polymer", "PC+ABS"}, {"flame_retardant", "40"}}), ">PC+ABS-FR(40)<");
}

TEST(Templates, MalformedPlasticsAreRefused) {
    for (const TemplateValues& values : std::vector<TemplateValues>{{},
                                                                    {{"polymer", "XYZ"}},
                                                                    {{"polymer", "abs"}},
                                                                    {{"polymer", "PC+"}},
                                                                    {{"polymer", "PC+PC"}},
                                                                    {{"polymer", "PP"}, {"filler", "GF"}},
                                                                    {{"polymer", "PP"}, {"filler", "GF0"}},
                                                                    {{"polymer", "PP"}, {"filler", "30GF"}},
                                                                    {{"polymer", "PP"}, {"filler", "GF60+MD40"}},
                                                                    {{"polymer", "PP"}, {"recycled", "101"}},
                                                                    {{"polymer", "PP"}, {"flame_retardant", "x"}},
                                                                    {{"polymer", "PP"}, {"colour", "red"}}})
        EXPECT_EQ(text_of("plastics", values), refused) << testing::PrintToString(values);
    EXPECT_EQ(text_of("nothing", {}), "content.template");
}

// Annex II of Regulation (EC) 765/2008: at least 5 mm high. Proportions of the grid from memory: 280 wide, 200 high.
TEST(Templates, TheCeMarkKeepsItsProportions) {
    const Drawn mark = drawn_from("ce", {});
    EXPECT_NEAR(mark.extent.height(), 5, 1e-6);
    EXPECT_NEAR(mark.extent.width() / mark.extent.height(), 280.0 / 200, 1e-5);
    ASSERT_EQ(mark.outline.regions.size(), 2u);
    // The C: half a ring and what lies up to 10 beyond the centre, by the integral of the circle's chord.
    const auto sector = [](double r) { return r * r * std::asin(10 / r) + 10 * std::sqrt(r * r - 100); };
    const double c = std::numbers::pi / 2 * (100 * 100 - 70 * 70) + sector(100) - sector(70);
    EXPECT_NEAR(geometry::area(Outline{{mark.outline.regions[0]}}) / (25.0 / (200 * 200)) / c, 1, 1e-4);
    EXPECT_EQ(text_of("ce", {{"height", "4.9"}}), refused);
}

TEST(Templates, TheBinStandsOnItsBar) {
    const Drawn bin = drawn_from("bin", {});
    EXPECT_NEAR(bin.extent.height(), 10, 1e-6);
    double lowest = 1e9;
    const geometry::Region* foot = nullptr;
    for (const geometry::Region& region : bin.outline.regions)
        if (const double low = geometry::bounds(Outline{{region}}).low.y; low < lowest) lowest = low, foot = &region;
    EXPECT_NEAR(geometry::area(Outline{{*foot}}),
                geometry::bounds(Outline{{*foot}}).width() * geometry::bounds(Outline{{*foot}}).height(), 1e-6);
    EXPECT_EQ(text_of("bin", {{"height", "3"}}), refused);
}

TEST(Templates, ResinNumbersCarryTheirAbbreviation) {
    EXPECT_EQ(text_of("resin", {{"number", "2"}}), "Resin 2 HDPE"); // ASTM D7611, from memory
    EXPECT_EQ(text_of("resin", {{"number", "8"}}), refused);
    // Frame, figure and two letters.
    EXPECT_EQ(drawn_from("resin", {{"number", "5"}}).outline.regions.size(), 4u);
}

// 35 USC 287(a): the word "patent" or the abbreviation "pat." with the number, or with an address.
TEST(Templates, PatentNoticesHaveOneReference) {
    EXPECT_EQ(text_of("patent", {{"number", "US 9,999,999"}}), "PAT. US 9,999,999");
    EXPECT_EQ(text_of("patent", {{"address", "example.com/pat"}}), "PAT. example.com/pat");
    EXPECT_EQ(text_of("patent", {}), refused);
    EXPECT_EQ(text_of("patent", {{"number", "none"}}), refused);
}

TEST(Templates, PartsSerialsAndDialsFollowTheirValues) {
    EXPECT_EQ(text_of("part", {{"part", "NW-2207"}, {"revision", "C"}}), "NW-2207\nREV C");
    EXPECT_EQ(text_of("serial", {{"number", "48"}}), "SN 000048");
    EXPECT_EQ(text_of("serial", {{"number", "1234567"}}), refused);
    const Drawn dial = drawn_from("date_dial", {{"year", "2026"}, {"month", "3"}});
    EXPECT_NEAR(dial.extent.width(), 20, 1e-3);
    EXPECT_EQ(text_of("date_dial", {{"year", "26"}, {"month", "13"}}), refused);
    // The pointer of March lies to the right of the middle, that of September to the left.
    const auto lean = [](const char* month) {
        double sum = 0;
        for (const geometry::Region& region :
             drawn_from("date_dial", {{"year", "26"}, {"month", month}}).outline.regions)
            if (region.outer.segments.size() == 3) sum += geometry::bounds(Outline{{region}}).centre().x;
        return sum;
    };
    EXPECT_GT(lean("3"), 1);
    EXPECT_LT(lean("9"), -1);
}

TEST(Templates, EachNamesItsSourceAndItsApproverAndStandsInTheDocs) {
    const std::string docs = read_text(std::filesystem::path(TOUCHMARK_SOURCE_DIR) / "docs" / "templates.md").value();
    std::set<std::string_view> keys;
    for (const Template& row : templates()) {
        EXPECT_TRUE(keys.insert(row.key).second);
        EXPECT_FALSE(row.title.empty() || row.source.empty() || row.approver.empty()) << row.key;
        EXPECT_NE(docs.find("`" + std::string(row.key) + "`"), std::string::npos) << row.key;
        EXPECT_EQ(find_template(row.key), &row);
    }
}

TEST(Templates, TheirTextsMayHoldVariables) {
    EXPECT_EQ(text_of("serial", {{"number", "{serial}"}}), "SN {serial}");
    EXPECT_EQ(text_of("part", {{"part", "{part}"}, {"revision", "{revision}"}}), "{part}\nREV {revision}");
    EXPECT_EQ(text_of("patent", {{"number", "{patent}"}}), "PAT. {patent}");
    EXPECT_EQ(text_of("plastics", {{"polymer", "{material}"}}), refused) << "what is checked has to be known";
    EXPECT_EQ(text_of("resin", {{"number", "{n}"}}), refused) << "what is drawn as well";
}

} // namespace
} // namespace touchmark::content
