// SPDX-License-Identifier: MIT
#include "core/job/variables.h"

#include "core/job/job_file.h"
#include "core/job/user_templates.h"
#include "tests/core/job/random_job.h"

#include <gmock/gmock.h>

namespace touchmark::job {
namespace {

using content::CheckDigit;
using content::FixedText;
using content::TextRole;

Job with_text(Job job, std::string text) {
    job.marks.front().content = content::Text{.text = std::move(text)};
    return job;
}

TEST(JobVariables, AreAddedChangedAndRemoved) {
    Job job = *add_variable(test::small_job(), {"part", FixedText{TextRole::part, "NW-2207"}});
    EXPECT_EQ(add_variable(job, {"part", FixedText{}}).error().code, "job.variable_exists");
    EXPECT_EQ(add_variable(job, {"a b", FixedText{}}).error().code, "content.variable");
    job = *set_variable(job, "part", {"part", FixedText{TextRole::part, "NW-2208"}});
    EXPECT_EQ(std::get<FixedText>(job.variables.list.front().kind).text, "NW-2208");
    EXPECT_EQ(set_variable(job, "x", {"x", FixedText{}}).error().code, "job.no_variable");
    EXPECT_EQ(remove_variable(job, "x").error().code, "job.no_variable");
    EXPECT_EQ(*remove_variable(job, "part"), test::small_job());
    for (std::size_t i = job.variables.list.size(); i < content::most_variables; ++i)
        job = *add_variable(job, {"v" + std::to_string(i), FixedText{}});
    EXPECT_EQ(add_variable(job, {"more", FixedText{}}).error().code, "job.out_of_range");
}

TEST(JobVariables, ANewNameGoesWhereverTheOldOneStood) {
    Job job = with_text(test::small_job(), "{{n} {n}{c}");
    job = *add_variable(job, {"n", FixedText{TextRole::text, "12"}});
    job = *add_variable(job, {"c", CheckDigit{content::CheckScheme::luhn, "n"}});
    job = *set_variable(job, "n", {"number", FixedText{TextRole::text, "12"}});
    EXPECT_EQ(content::said_by(job.marks.front().content), "{{n} {number}{c}");
    EXPECT_EQ(std::get<CheckDigit>(job.variables.list.back().kind).of, "number");
    EXPECT_EQ(set_variable(job, "number", {"c", FixedText{}}).error().code, "job.variable_exists");
}

TEST(JobVariables, GoIntoTheFileAndComeBack) {
    const Job job = test::job_with_every_variable();
    const std::string text = to_json(job, "/jobs");
    const auto back = from_json(text, "/jobs");
    ASSERT_TRUE(back) << back.error().message << text;
    EXPECT_EQ(*back, job);
    EXPECT_EQ(back->variables.table->cell(0, 0), "A7");
}

TEST(JobVariables, BracesOfOldJobsStayBraces) {
    const char* const old =
        R"({"format": "touchmark job", "version": 1, "part": {"file": "p.step"}, "process": "fff-0.4",
        "marks": [{"id": "m1", "name": "a", "kind": "text", "face": 2, "text": "{part} {{x}}"},
                  {"id": "m2", "name": "b", "kind": "code", "symbology": "qr", "face": 2, "text": "{\"a\":{}}"},
                  {"id": "m3", "name": "c", "kind": "art", "face": 2, "text": "{logo}.svg", "drawing": ""}]})";
    const auto job = from_json(old, "/jobs");
    ASSERT_TRUE(job) << job.error().message;
    const auto said = [&](std::size_t mark) {
        return content::said_by(*content::expanded(job->marks[mark].content, job->variables, {}));
    };
    EXPECT_EQ(said(0), "{part} {{x}}");
    EXPECT_EQ(said(1), R"({"a":{}})");
    EXPECT_EQ(said(2), "{logo}.svg") << "a name is no text";
    const auto saved = from_json(to_json(*job, "/jobs"), "/jobs");
    EXPECT_EQ(*saved, *job) << "once, not at every opening";
    std::string cheating = old;
    cheating.insert(cheating.size() - 1, R"(, "variables": [])");
    EXPECT_THAT(from_json(cheating, "/jobs").error().message, testing::HasSubstr("variables"));
}

TEST(JobVariables, AnOldTextOfNothingButBracesIsStillWithinItsLength) {
    std::string text = R"({"format": "touchmark job", "version": 1, "part": {"file": "p.step"}, "process": "fff-0.4",
        "marks": [{"id": "m1", "name": "a", "kind": "text", "face": 2, "text": ")";
    text += std::string(4000, '{') + "\"}]}";
    const auto job = from_json(text, "/jobs");
    ASSERT_TRUE(job) << job.error().message;
    EXPECT_TRUE(from_json(to_json(*job, "/jobs"), "/jobs"));
}

} // namespace
} // namespace touchmark::job
