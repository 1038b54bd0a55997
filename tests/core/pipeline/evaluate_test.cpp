// SPDX-License-Identifier: MIT
#include "tests/core/pipeline/bracket.h"

#include <algorithm>
#include <gtest/gtest.h>
#include <thread>

namespace touchmark::test {
namespace {

const rules::Finding* find(const pipeline::Evaluation& evaluation, std::string_view rule) {
    const auto found = std::ranges::find(evaluation.findings, rule, &rules::Finding::rule);
    return found == evaluation.findings.end() ? nullptr : &*found;
}

const rules::Fix* fix_of(const rules::Finding& finding, std::string_view id) {
    const auto found = std::ranges::find(finding.fixes, id, &rules::Fix::id);
    return found == finding.fixes.end() ? nullptr : &*found;
}

double cap_height(const job::Job& job) {
    return std::get<content::Text>(job.marks.at(0).content).cap_height.value;
}

/// 1 pt is 1/72 inch (the desktop publishing point); a capital of DejaVu Sans is 1493 of 2048 units of the em (its OS/2
/// table).
constexpr double six_points = 6 * 25.4 / 72 * 1493 / 2048;

// Common practice, no source: 6 pt text is illegible on a side wall with a 0.4 mm nozzle.
TEST(Evaluate, SixPointRegularTextDoesNotPrintAndTheFixesHeightIsClean) {
    pipeline::Evaluator evaluator;
    const job::Job job = with_mark({}, {.text = "Lot 48-B", .cap_height = six_points, .weight = 400, .at = {-4, 0}});
    const auto before = evaluated(evaluator, job);
    EXPECT_EQ(before->marks[0].zone, Zone::side_wall);
    const rules::Finding* strokes = find(*before, "stroke_width");
    ASSERT_NE(strokes, nullptr);
    EXPECT_EQ(strokes->severity, rules::Severity::blocker);

    const rules::Fix* fix = fix_of(*strokes, "cap_height");
    ASSERT_NE(fix, nullptr);
    const job::Job fixed = fix->edit(job).value();
    const auto after = evaluated(evaluator, fixed);
    for (const rules::Finding& finding : after->findings)
        ADD_FAILURE() << finding.rule << ": " << finding.message;

    job::Job smaller = fixed;
    std::get<content::Text>(smaller.marks[0].content).cap_height = Mm(cap_height(fixed) - 0.1);
    const auto almost = evaluated(evaluator, smaller);
    EXPECT_TRUE(find(*almost, "stroke_width") || find(*almost, "gap_width")) << "a smaller height would have done";
}

TEST(Evaluate, EveryFixOfEveryFindingHelpsTheMarkItIsOfferedFor) {
    pipeline::Evaluator evaluator;
    std::vector<job::Job> jobs;
    for (const Mode mode : modes)
        for (const Vec3 normal : {Vec3{0, -1, 0}, Vec3{0, 0, 1}, Vec3{0, 0, -1}})
            for (const double height : {1.5, 4.0, 30.0})
                jobs.push_back(with_mark(
                    {}, {.text = "Rev. g\nm8", .cap_height = height, .weight = 400, .mode = mode, .normal = normal}));
    jobs.push_back(with_mark({}, {.depth = 9.6})); // the wall is 10 mm thick
    jobs.push_back(with_mark({}, {.depth = 0.1}));
    jobs.push_back(with_mark({}, {.at = {-300, 0}}));
    jobs.push_back(with_mark({}, {.at = {0, 15}, .turn = 30}));
    jobs.push_back(with_mark(with_mark({}, {}), {.text = "LOT 48", .at = {3, 1}}));
    jobs.push_back(with_mark({}, {.text = "A\xE6\xBC\xA2"})); // a Chinese character, which DejaVu Sans lacks
    std::size_t fixes = 0;
    for (const job::Job& job : jobs) {
        const auto before = evaluated(evaluator, job);
        for (const rules::Finding& finding : before->findings)
            for (const rules::Fix& fix : finding.fixes) {
                ++fixes;
                const auto fixed = fix.edit(job);
                ASSERT_TRUE(fixed.has_value()) << fix.title;
                EXPECT_TRUE(mended(*before, finding, *evaluated(evaluator, *fixed)))
                    << finding.rule << ": " << finding.message << " | " << fix.title;
            }
    }
    EXPECT_GT(fixes, 40u);
}

TEST(Evaluate, ADragDrawsAndMeasuresNothingAnew) {
    pipeline::Evaluator evaluator;
    job::Job job = with_mark({}, {.at = {-4, 0}});
    const auto first = evaluated(evaluator, job);
    job.marks[0].anchor.at.x += 1;
    const auto second = evaluated(evaluator, job);
    EXPECT_EQ(first->marks[0].drawn, second->marks[0].drawn);
    EXPECT_EQ(first->marks[0].map, second->marks[0].map);
    EXPECT_NEAR(geometry::bounds(second->marks[0].placed).low.x - geometry::bounds(first->marks[0].placed).low.x, 1,
                1e-9);
}

TEST(Evaluate, ThreadsThatShareAnEvaluatorGetWhatOneAloneGets) {
    pipeline::Evaluator shared;
    const auto messages = [](const pipeline::Evaluation& evaluation) {
        std::string all;
        for (const rules::Finding& finding : evaluation.findings) {
            all += finding.message + '\n';
            for (const rules::Fix& fix : finding.fixes)
                all += fix.title + '\n';
        }
        return all;
    };
    std::vector<job::Job> jobs;
    for (const double height : {1.5, 2.0, 2.5, 3.0})
        jobs.push_back(with_mark({}, {.text = "Rev. g", .cap_height = height, .weight = 400}));
    std::vector<std::string> alone, together(2 * jobs.size());
    for (const job::Job& job : jobs) {
        pipeline::Evaluator own;
        alone.push_back(messages(*evaluated(own, job)));
    }
    {
        std::vector<std::jthread> threads;
        for (std::size_t t = 0; t < 2; ++t)
            threads.emplace_back([&, t] {
                for (std::size_t i = 0; i < jobs.size(); ++i)
                    together[t * jobs.size() + i] = messages(*evaluated(shared, jobs[i]));
            });
    }
    for (std::size_t i = 0; i < together.size(); ++i)
        EXPECT_EQ(together[i], alone[i % jobs.size()]);
}

TEST(Evaluate, SaysSoWhenTheFaceOfAMarkIsNotInThePart) {
    pipeline::Evaluator evaluator;
    job::Job job = with_mark({}, {});
    job.marks[0].anchor.fingerprint.digest.low ^= 1;
    const auto evaluation = evaluated(evaluator, job);
    ASSERT_NE(find(*evaluation, "content"), nullptr);
    EXPECT_EQ(find(*evaluation, "content")->severity, rules::Severity::blocker);
    EXPECT_EQ(evaluation->marks[0].map, nullptr);
    const auto built = evaluator.build(job, bracket(), Progress());
    ASSERT_FALSE(built);
    EXPECT_EQ(built.error().code, "pipeline.face_lost");
}

TEST(Evaluate, RefusesAnUnknownProcessAndStopsWhenCancelled) {
    pipeline::Evaluator evaluator;
    job::Job job = with_mark({}, {});
    Progress progress;
    progress.cancel();
    const auto stopped = evaluator.evaluate(job, bracket(), progress);
    ASSERT_FALSE(stopped);
    EXPECT_EQ(stopped.error().code, cancelled_code);
    EXPECT_TRUE(evaluator.evaluate(job, bracket(), Progress())); // and nothing is left half done
    job.process = "none";
    const auto unknown = evaluator.evaluate(job, bracket(), Progress());
    ASSERT_FALSE(unknown);
    EXPECT_EQ(unknown.error().code, "process.unknown");
}

} // namespace
} // namespace touchmark::test
