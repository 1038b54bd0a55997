// SPDX-License-Identifier: MIT
// Each folder beside this file is a case: a job, and what the command line has to answer. In a job's part path
// @resources and @open_parts stand for the program's resources and for the open set of real parts.
//
// expected.json: "exit": of apply; "findings": [{"rule", "severity", "fixes": [ids that have to be among them]}] in any
// order, all there are; "volume": "less" or "more"; "route"; "message": words of the one line on standard error.
#include "core/base/atomic_file.h"
#include "tests/app/cli/program.h"
#include "tests/support/open_parts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

const fs::path& folder() {
    static const fs::path path = fs::path(TOUCHMARK_SOURCE_DIR) / "tests" / "cases";
    return path;
}

std::vector<std::string> cases() {
    std::vector<std::string> names;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder()))
        if (entry.is_directory()) names.push_back(entry.path().filename());
    std::ranges::sort(names);
    return names;
}

/// The job in a folder of its own, its part path made whole.
fs::path prepared(const std::string& name) {
    json job = json::parse(read_text(folder() / name / "job.json").value());
    auto& file = job.at("part").at("file").get_ref<std::string&>();
    constexpr std::string_view resources = "@resources/", open = "@open_parts/";
    if (file.starts_with(resources))
        file = fs::path(TOUCHMARK_RESOURCES) / file.substr(resources.size());
    else if (file.starts_with(open))
        file = open_part(file.substr(open.size()));
    const fs::path target = scratch_folder() / "job.json";
    EXPECT_TRUE(write_text_atomically(target, job.dump()));
    return target;
}

/// "rule severity" of each, sorted.
std::vector<std::string> summary(const json& findings) {
    std::vector<std::string> lines;
    for (const json& finding : findings)
        lines.push_back(finding.at("rule").get<std::string>() + " " + finding.at("severity").get<std::string>());
    std::ranges::sort(lines);
    return lines;
}

void expect_fixes(const json& wanted, const json& findings) {
    for (const json& expected : wanted)
        for (const json& id : expected.value("fixes", json::array())) {
            bool offered = false;
            for (const json& finding : findings)
                if (finding.at("rule") == expected.at("rule"))
                    for (const json& fix : finding.at("fixes"))
                        offered |= fix.at("id") == id;
            EXPECT_TRUE(offered) << expected.at("rule") << " offers no " << id;
        }
}

class Cases : public testing::TestWithParam<std::string> {};

TEST_P(Cases, AnswerAsExpected) {
    const json expected = json::parse(read_text(folder() / GetParam() / "expected.json").value());
    const fs::path job = prepared(GetParam()), out = job.parent_path() / "marked.step";
    const Answer answer = touchmark_cli({"apply", job, "-o", out, "--json"});
    ASSERT_EQ(answer.exit, expected.at("exit")) << answer.err;
    EXPECT_EQ(fs::exists(out), answer.exit <= 1);
    if (expected.contains("message")) {
        EXPECT_THAT(answer.err, testing::HasSubstr(expected.at("message").get<std::string>()));
    }
    if (answer.exit > 1) return;
    const json result = answer.json();
    EXPECT_EQ(summary(result.at("findings")), summary(expected.at("findings"))) << result.at("findings").dump(1);
    expect_fixes(expected.at("findings"), result.at("findings"));
    EXPECT_EQ(result.at("route"), expected.at("route"));
    const double change = result.at("volume_after_mm3").get<double>() - result.at("volume_before_mm3").get<double>();
    EXPECT_EQ(change < 0, expected.at("volume") == "less");
    const Answer check = touchmark_cli({"check", job, "--json"});
    EXPECT_EQ(check.exit, answer.exit);
    EXPECT_EQ(check.json().at("findings"), result.at("findings"));
}

std::string test_name(const testing::TestParamInfo<std::string>& info) {
    std::string name = info.param;
    std::ranges::replace(name, '-', '_');
    return name;
}

INSTANTIATE_TEST_SUITE_P(All, Cases, testing::ValuesIn(cases()), test_name);

} // namespace
} // namespace touchmark::test
