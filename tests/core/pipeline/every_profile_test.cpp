// SPDX-License-Identifier: MIT
// Every profile that comes along, on the demo: nothing divides by a line that is not there, and each says what its own
// limits say.
#include "core/job/job_file.h"
#include "core/process/extrusion.h"
#include "core/process/profiles.h"
#include "tests/core/pipeline/bracket.h"

#include <cmath>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::HasSubstr;
using testing::Not;

const pipeline::Surroundings& everything() {
    static const pipeline::Surroundings around = [] {
        pipeline::Surroundings out = bracket();
        out.processes = std::make_shared<const std::vector<process::Process>>(
            process::load_built_in(TOUCHMARK_RESOURCES).value().processes());
        return out;
    }();
    return around;
}

std::vector<process::Process> other_processes() {
    std::vector<process::Process> out = *everything().processes;
    std::erase_if(out, [](const process::Process& process) { return extrudes(process); });
    return out;
}

std::shared_ptr<const pipeline::Evaluation> judged(const job::Job& job, pipeline::Depth depth) {
    static pipeline::Evaluator evaluator;
    return evaluator.evaluate(job, everything(), Progress(), depth).value();
}

job::Job demo() {
    static const job::Job job = [] {
        const auto file = std::filesystem::path(TOUCHMARK_RESOURCES) / "demo" / "sensor-bracket.job.json";
        return job::rebind(job::load_job(file).value(), *bracket().part).job;
    }();
    return job;
}

void expect_sound(const pipeline::Evaluation& evaluation) {
    for (const rules::Finding& finding : evaluation.findings) {
        EXPECT_TRUE(std::isfinite(finding.figure)) << finding.message;
        EXPECT_TRUE(std::isfinite(finding.limit)) << finding.message;
        EXPECT_THAT(finding.message, Not(HasSubstr("nan")));
        EXPECT_THAT(finding.message, Not(HasSubstr("inf ")));
        EXPECT_FALSE(finding.message.empty());
    }
}

void expect_no_word_of_extrusion(const pipeline::Evaluation& evaluation) {
    for (const rules::Finding& finding : evaluation.findings) {
        for (const char* word : {"nozzle", "travel", " lines", "simulation", "bead"})
            EXPECT_THAT(finding.message + finding.why, Not(HasSubstr(word))) << finding.rule;
        for (const char* rule : {"simulated_print", "code_reading", "islands", "light", "whole_layers"})
            EXPECT_NE(finding.rule, rule);
        EXPECT_NE(finding.unit, "lines");
    }
}

// The demo's patent notice has strokes of 0.32 mm at the thinnest: below what any profile draws but the finest
// nozzle's, and every profile says so by its own limit.
TEST(EveryProfile, JudgesTheDemoByItsOwnLimits) {
    for (const process::Process& process : *everything().processes) {
        const auto evaluation = judged(job::set_process(demo(), process.id).value(), pipeline::Depth::quick);
        expect_sound(*evaluation);
        const double hard = process.limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.value;
        const auto said = worst(*evaluation, "stroke_width", demo().marks.at(1).id);
        EXPECT_EQ(said == rules::Severity::blocker, hard > 0.33) << process.id;
        if (hard <= 0.6) { // the part number's are wider
            EXPECT_NE(worst(*evaluation, "stroke_width", demo().marks.at(0).id), rules::Severity::blocker)
                << process.id;
        }
    }
}

TEST(EveryProfile, AMaterialChangesNoneOfTheLimitsOfAClearMark) {
    const job::Job job = with_mark({}, {.text = "NW-2207", .cap_height = 8});
    for (const process::Process& process : *everything().processes) {
        if (!process.id.starts_with("fff-0.4-")) continue;
        const auto plain = judged(job::set_process(job, "fff-0.4").value(), pipeline::Depth::quick);
        const auto with = judged(job::set_process(job, process.id).value(), pipeline::Depth::quick);
        EXPECT_EQ(plain->findings.size(), with->findings.size()) << process.id;
    }
}

TEST(OtherProcesses, JudgeEveryModeOnEveryKindOfFaceWithoutAWordOfExtrusion) {
    for (const process::Process& process : other_processes())
        for (const Mode mode : modes)
            for (const Vec3 normal : {Vec3{0, -1, 0}, Vec3{0, 0, 1}, Vec3{0, 0, -1}}) {
                job::Job job =
                    with_mark({}, {.mode = mode, .depth = mode == Mode::raise ? 0.4 : 0.6, .normal = normal});
                job.process = process.id;
                const auto evaluation = judged(job, pipeline::Depth::tried);
                expect_sound(*evaluation);
                expect_no_word_of_extrusion(*evaluation);
                EXPECT_EQ(evaluation->marks[0].printed, nullptr) << process.id;
                // A closed void keeps its powder or its resin.
                if (mode == Mode::hidden) {
                    EXPECT_EQ(worst(*evaluation, "zone", job.marks[0].id), rules::Severity::blocker) << process.id;
                }
            }
}

TEST(OtherProcesses, JudgeACodeByTheWidthOfItsModules) {
    for (const process::Process& process : other_processes()) {
        job::Job job = with_mark({}, {});
        content::Code code;
        code.message = "NW-2207";
        code.module = Mm(0.3);
        job.marks[0].content = code;
        job.process = process.id;
        const auto small = judged(job, pipeline::Depth::tried);
        expect_sound(*small);
        expect_no_word_of_extrusion(*small);
        EXPECT_EQ(worst(*small, "stroke_width", job.marks[0].id), rules::Severity::blocker) << process.id;
        std::get<content::Code>(job.marks[0].content).module = Mm(1);
        EXPECT_NE(worst(*judged(job, pipeline::Depth::tried), "stroke_width", job.marks[0].id),
                  rules::Severity::blocker)
            << process.id;
    }
}

TEST(OtherProcesses, TheirFixesMendWhatTheySayTheyMend) {
    int tried = 0;
    for (const process::Process& process : other_processes()) {
        const job::Job job = job::set_process(demo(), process.id).value();
        const auto before = judged(job, pipeline::Depth::quick);
        for (const rules::Finding& finding : before->findings)
            for (const rules::Fix& fix : finding.fixes) {
                const auto after = judged(fix.edit(job).value(), pipeline::Depth::quick);
                EXPECT_TRUE(mended(*before, finding, *after)) << process.id << ": " << finding.message << fix.title;
                ++tried;
            }
    }
    EXPECT_GE(tried, 6);
}

} // namespace
} // namespace touchmark::test
