// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"
#include "tests/app/cli/program.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cstdlib>

namespace touchmark::test {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::HasSubstr;

/// A folder for a user's own data, for as long as it lives.
class OwnData {
public:
    explicit OwnData(const fs::path& folder) : before_(std::getenv("XDG_DATA_HOME")) {
        ::setenv("XDG_DATA_HOME", folder.c_str(), 1);
    }
    OwnData(const OwnData&) = delete;
    OwnData& operator=(const OwnData&) = delete;
    ~OwnData() { ::setenv("XDG_DATA_HOME", before_.c_str(), 1); }

private:
    std::string before_;
};

TEST(TestStripCommand, WritesThePartTheSheetAndAJobThatTheProgramOpens) {
    const fs::path folder = scratch_folder();
    const Answer made =
        touchmark_cli({"test-strip", "--out", "strip.step", "--sheet", "strip.csv", "--job", "strip.job.json"}, folder);
    ASSERT_EQ(made.exit, 0) << made.err;
    EXPECT_THAT(made.out, HasSubstr("read back and checked"));
    const auto sheet = read_text(folder / "strip.csv");
    ASSERT_TRUE(sheet);
    EXPECT_THAT(*sheet, testing::AllOf(HasSubstr("fff-0.4"), HasSubstr("\nA4,stroke cut into the front wall")));
    const Answer faces = touchmark_cli({"faces", "strip-blank.step", "--json"}, folder);
    ASSERT_EQ(faces.exit, 0) << faces.err;
    // The job's marks are made on the part beside it.
    // The job's marks are made on the part beside it.
    const Answer cost = touchmark_cli({"run-cost", "strip.job.json", "--units", "10", "--json"}, folder);
    ASSERT_EQ(cost.exit, 0) << cost.err;
    for (const json& mark : cost.json().at("marks"))
        EXPECT_FALSE(mark.contains("trouble")) << mark;
}

TEST(TestStripCommand, NeedsAProfileAndAPlaceForThePart) {
    const Answer answer = touchmark_cli({"test-strip", "--process", "none", "--out", "x.step"}, scratch_folder());
    EXPECT_EQ(answer.exit, 2);
    EXPECT_THAT(answer.err, HasSubstr("touchmark-cli processes"));
    EXPECT_EQ(touchmark_cli({"test-strip"}).exit, 2);
}

/// Of the strip for fff-0.4: cut and raised strokes of the top by whether they come out, and the wedge.
std::string sheet() {
    std::string out = "item;planned_mm;printed;came_out;light_percent\n";
    constexpr std::array widths{"0,21", "0,29", "0,38", "0,46", "0,55", "0,63", "0,76", "0,92", "1,18"};
    constexpr std::array cut{0, 0, 1, 3, 6, 6, 6, 6, 6}, raised{0, 0, 0, 2, 5, 6, 6, 6, 6};
    for (std::size_t i = 0; i < widths.size(); ++i) {
        const std::string number = std::to_string(i + 1) + ';' + widths[i] + ";6;";
        out += 'E' + number + std::to_string(cut[i]) + ";\nF" + number + std::to_string(raised[i]) + ";\n";
    }
    // exp(-1.2 mm⁻¹ × thickness): 0.4, 0.6, 0.8, 1.2 mm.
    return out + "W1;;;;61,9\nW2;;;;48,7\nW3;;;;38,3\nW4;;;;23,7\nH5;;6;6;\n";
}

TEST(FitCommand, SaysWhatTheSheetMakesOfAProfileAndSavesItAsTheShopsOwn) {
    const fs::path folder = scratch_folder();
    ASSERT_TRUE(write_text_atomically(folder / "sheet.csv", sheet()));
    const Answer fitted = touchmark_cli(
        {"fit", "sheet.csv", "--title", "Hall 2, printer 7", "--out", "own.json", "--limits", "--json"}, folder);
    ASSERT_EQ(fitted.exit, 0) << fitted.err;
    const json object = fitted.json();
    const auto figure = [&](std::string_view key) {
        for (const json& one : object.at("figures"))
            if (one.at("key") == key) return one;
        return json();
    };
    // Half of the raised strokes come out at about 0.47 mm, and in simulation they do from the least line on.
    EXPECT_NEAR(figure("printing.least_line").at("after").get<double>(), 0.48, 0.04);
    EXPECT_LT(figure("printing.bead_spread").at("after").get<double>(), 0.1);
    EXPECT_NEAR(figure("printing.attenuation").at("after").get<double>(), 1.2, 0.01);
    EXPECT_TRUE(figure("printing.first_layer_spread").contains("why"));
    EXPECT_EQ(object.at("not_used").size(), 1U);
    const auto own = read_text(folder / "own.json");
    ASSERT_TRUE(own);
    EXPECT_EQ(json::parse(*own).at("based_on"), "fff-0.4");
    EXPECT_EQ(json::parse(*own).at("limits").size(), 2U); // cut and raised on top
    EXPECT_THAT(touchmark_cli({"fit", "sheet.csv"}, folder).out,
                testing::AllOf(HasSubstr("Bead spread: 0.100 → 0.0"), HasSubstr("stays 0.150 mm"), HasSubstr("R²")));
}

TEST(FitCommand, TheOwnProfileCanBeChosenAtOnce) {
    const fs::path folder = scratch_folder();
    const OwnData data(folder);
    ASSERT_TRUE(write_text_atomically(folder / "sheet.csv", sheet()));
    ASSERT_EQ(touchmark_cli({"fit", "sheet.csv", "--title", "Hall 2, printer 7"}, folder).exit, 0);
    const Answer shown = touchmark_cli({"processes", "--show", "own-hall-2-printer-7", "--json"});
    ASSERT_EQ(shown.exit, 0) << shown.err;
    EXPECT_THAT(shown.out, HasSubstr("fitted to test strips"));
}

TEST(FitCommand, RefusesWhatItCannotFit) {
    const fs::path folder = scratch_folder();
    const auto refused = [&](std::string_view text, std::vector<std::string> more, int exit, std::string_view about) {
        ASSERT_TRUE(write_text_atomically(folder / "sheet.csv", text));
        more.insert(more.begin(), {"fit", "sheet.csv"});
        const Answer answer = touchmark_cli(more, folder);
        EXPECT_EQ(answer.exit, exit) << answer.err;
        EXPECT_EQ(answer.error_lines(), 1) << answer.err;
        EXPECT_THAT(answer.err, HasSubstr(std::string(about)));
        EXPECT_THAT(answer.out, testing::IsEmpty());
    };
    refused("item,printed,came_out\nA1,2,3\n", {}, 3, "Line 2");
    refused("item,printed,came_out\nA1,,\n", {}, 3, "says nothing");
    refused(sheet(), {"--process", "fff-0.6"}, 3, "planned with 0.21 mm");
    refused(sheet(), {"--out", "own.json"}, 2, "--title");
    refused(sheet(), {"--process", "none"}, 2, "none");
    refused("item,printed,came_out\nF9,2,2\n", {"--title", "Own", "--out", "own.json"}, 3, "determines no figure");
    EXPECT_FALSE(fs::exists(folder / "own.json"));
}

} // namespace
} // namespace touchmark::test
