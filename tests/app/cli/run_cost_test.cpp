// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"
#include "tests/app/cli/program.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::HasSubstr;
using Words = std::vector<std::string>;

std::string demo_job() {
    return (fs::path(demo_part()).parent_path() / "sensor-bracket.job.json").string();
}
Words words(const Words& more) {
    Words all{"run-cost", demo_job()};
    all.insert(all.end(), more.begin(), more.end());
    return all;
}
fs::path written(const fs::path& folder, std::string_view text) {
    const fs::path file = folder / "counts.csv";
    EXPECT_TRUE(write_text_atomically(file, text));
    return file;
}

TEST(RunCost, SaysOfEachMarkAndAllWhatTheyCostAndThatTheFiguresArePlanned) {
    const Answer answer = touchmark_cli(words({"--units", "100000", "--unit-cost", "1.9", "--machine-hour", "4"}));
    ASSERT_EQ(answer.exit, 0) << answer.err;
    EXPECT_THAT(answer.out, HasSubstr("in 100,000 units"));
    EXPECT_THAT(answer.out, HasSubstr("By planning figures, which nobody has counted"));
    EXPECT_THAT(answer.out, HasSubstr("EUR "));
    EXPECT_THAT(answer.out, HasSubstr("units without a reject"));
}

TEST(RunCost, InJsonTheWholeIsTheMarksTogether) {
    const json object = touchmark_cli(words({"--units", "100000", "--json"})).json();
    EXPECT_EQ(object.at("units"), 100'000);
    EXPECT_EQ(object.at("rates").at("title"), "Planning figures");
    double spared = 1, outline = 0;
    ASSERT_FALSE(object.at("marks").empty());
    for (const json& mark : object.at("marks")) {
        spared *= 1 - mark.at("forecast").at("chance").get<double>();
        outline += mark.at("extra").at("outline_mm").get<double>();
        EXPECT_EQ(mark.at("forecast").at("planning_share"), 1);
        EXPECT_FALSE(mark.at("forecast").contains("cost")); // nobody has said what a unit costs
    }
    const json& whole = object.at("whole");
    EXPECT_NEAR(whole.at("extra").at("outline_mm").get<double>(), outline, 0.01);
    const double chance = whole.at("forecast").at("chance");
    EXPECT_NEAR(chance, 1 - spared, 1e-3 * chance);
    EXPECT_NEAR(whole.at("forecast").at("rejects").get<double>(), 1e5 * chance, 1e-3 * 1e5 * chance);
    EXPECT_LE(whole.at("forecast").at("rejects_95").at("low").get<double>(), 1e5 * chance);
}

TEST(RunCost, FitsTheRatesToCountsAndKeepsThem) {
    const fs::path folder = scratch_folder(), rates = folder / "hall-3.json";
    const fs::path counts =
        written(folder, "event,printed,rejected,shift\noutline,50000,4,early\nledge,900000,0,late\n");
    const Answer answer = touchmark_cli(
        words({"--units", "1000", "--counts", counts.string(), "--save-rates", rates.string(), "--json"}));
    ASSERT_EQ(answer.exit, 0) << answer.err;
    const json fitted = answer.json().at("rates").at("rates").at("outline");
    EXPECT_DOUBLE_EQ(fitted.at("value").get<double>(), 8e-5);
    EXPECT_TRUE(answer.json().at("whole").at("forecast").contains("chance_95"));
    const Answer again = touchmark_cli(words({"--units", "1000", "--rates", rates.string(), "--json"}));
    ASSERT_EQ(again.exit, 0) << again.err;
    EXPECT_EQ(again.json(), answer.json());
    EXPECT_THAT(touchmark_cli(words({"--units", "1000", "--counts", counts.string()})).out,
                testing::AllOf(HasSubstr("\"shift\" of the counts is not used"), HasSubstr("By counts of the shop")));
}

TEST(RunCost, TakesCountsByMark) {
    const json plain = touchmark_cli(words({"--units", "1000", "--json"})).json();
    const std::string mark = plain.at("marks").at(0).at("mark");
    const fs::path counts = written(scratch_folder(), "mark,printed,rejected\n\"" + mark + "\",20000,10\n");
    const json fitted = touchmark_cli(words({"--units", "20000", "--counts", counts.string(), "--json"})).json();
    // What was counted of it is what is expected of as many.
    EXPECT_NEAR(fitted.at("marks").at(0).at("forecast").at("rejects").get<double>(), 10, 0.01);
}

TEST(RunCost, ComparesAMarkWithItsAlternatives) {
    const json plain = touchmark_cli(words({"--units", "1000", "--json"})).json();
    const std::string mark = plain.at("marks").at(0).at("mark");
    const json all = touchmark_cli(words({"--units", "1000", "--compare", mark, "--json"})).json().at("alternatives");
    ASSERT_GE(all.size(), 3U);
    int as_it_is = 0;
    for (const json& one : all) {
        as_it_is += one.at("as_it_is").get<bool>();
        if (one.at("as_it_is")) {
            EXPECT_EQ(one.at("forecast"), plain.at("marks").at(0).at("forecast"));
        }
    }
    EXPECT_EQ(as_it_is, 1);
    EXPECT_THAT(touchmark_cli(words({"--units", "1000", "--compare", mark})).out,
                testing::AllOf(HasSubstr("Alternatives to \"" + mark), HasSubstr("as it is")));
}

TEST(RunCost, RefusesWhatItCannotReckonWith) {
    const auto refused = [](const Words& more, int exit, std::string_view about) {
        const Answer answer = touchmark_cli(words(more));
        EXPECT_EQ(answer.exit, exit) << answer.err;
        EXPECT_EQ(answer.error_lines(), 1) << answer.err;
        EXPECT_THAT(answer.err, HasSubstr(std::string(about)));
        EXPECT_THAT(answer.out, testing::IsEmpty());
    };
    refused({}, 2, "--units");
    refused({"--units", "0"}, 2, "--units");
    refused({"--units", "many"}, 2, "--units");
    refused({"--units", "10", "--unit-cost", "-1"}, 2, "--unit-cost");
    refused({"--units", "10", "--compare", "no such mark"}, 2, "no such mark");
    refused({"--units", "10", "--save-rates", "x.json"}, 2, "--counts");
    refused({"--units", "10", "--rates", "/nowhere.json"}, 3, "nowhere");
    refused({"--units", "10", "--rates", demo_job()}, 3, "format");
    const fs::path counts = written(scratch_folder(), "event,printed,rejected\ntravels,5,0\n");
    refused({"--units", "10", "--counts", counts.string()}, 3, "travels");
}

} // namespace
} // namespace touchmark::test
