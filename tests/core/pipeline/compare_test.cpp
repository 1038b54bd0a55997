// SPDX-License-Identifier: MIT
#include "core/pipeline/compare.h"

#include "tests/core/pipeline/bracket.h"

#include <gtest/gtest.h>

#include <set>

namespace touchmark::test {
namespace {

using pipeline::Alternative;

run::Rates planning() {
    return run::load_rates(std::filesystem::path(TOUCHMARK_RESOURCES) / "rates" / "planning.json").value();
}
Result<std::vector<Alternative>> compared(const job::Job& job, std::string_view mark) {
    pipeline::Evaluator evaluator;
    return pipeline::compare(evaluator, job, mark, bracket(), planning(), 10'000, {}, Progress());
}

/// One comparison for the tests that look at it: it takes a second or two.
const job::Job& common_job() {
    static const job::Job job = with_mark({}, {.text = "NW-2207", .cap_height = 6});
    return job;
}
const std::vector<Alternative>& common() {
    static const std::vector<Alternative> all = compared(common_job(), common_job().marks[0].id).value();
    return all;
}

TEST(Comparison, HoldsTheMarkAsItIsAndEachModeOnItsOwnAndOtherFaces) {
    const auto& all = common();
    std::set<std::pair<Mode, int>> seen;
    std::set<Zone> zones;
    int as_it_is = 0;
    for (const Alternative& one : all) {
        EXPECT_TRUE(seen.emplace(one.mode, one.face).second) << one.title;
        zones.insert(one.zone);
        as_it_is += one.as_it_is;
    }
    EXPECT_EQ(as_it_is, 1);
    EXPECT_TRUE(zones.contains(Zone::top));
    EXPECT_TRUE(zones.contains(Zone::side_wall));
    EXPECT_EQ(all.size() % 3, 0U); // cut, raised and hidden on every face
}

TEST(Comparison, SaysOfEachWhatTheJobWouldSayAfterTheEdit) {
    const job::Job& job = common_job();
    pipeline::Evaluator evaluator;
    const auto& process = *std::ranges::find(*bracket().processes, job.process, &process::Process::id);
    const auto& all = common();
    for (const Alternative& one : all) {
        const job::Job edited = one.edit(job).value();
        EXPECT_EQ(edited == job, one.as_it_is) << one.title;
        EXPECT_EQ(edited.marks[0].mode, one.mode);
        EXPECT_EQ(edited.marks[0].anchor.face, one.face);
        const auto evaluation = evaluated(evaluator, edited);
        std::optional<rules::Severity> severity;
        for (const rules::Finding& finding : evaluation->findings)
            if (finding.mark == job.marks[0].id && (!severity || finding.severity < *severity))
                severity = finding.severity;
        EXPECT_EQ(severity, one.severity) << one.title;
        const auto printed = pipeline::print_mark(*evaluation, 0, process, Progress()).value();
        EXPECT_EQ(printed.verdict(), one.verdict) << one.title;
        const auto extras = pipeline::extras_of(*evaluation, process, Progress()).value();
        EXPECT_DOUBLE_EQ(extras[0].extra->seconds, one.extra.seconds) << one.title;
        EXPECT_DOUBLE_EQ(run::forecast(one.extra, planning(), 10'000).rejects, one.forecast.rejects);
    }
}

TEST(Comparison, PutsWhatWillNotPrintLastAndTheCheaperFirst) {
    const auto& all = common();
    ASSERT_GT(all.size(), 3U);
    for (std::size_t i = 1; i < all.size(); ++i) {
        const Alternative &a = all[i - 1], &b = all[i];
        EXPECT_LE(a.standing(), b.standing());
        if (a.standing() == b.standing()) {
            EXPECT_LE(a.forecast.rejects, b.forecast.rejects);
        }
    }
    EXPECT_EQ(all.back().standing(), Alternative::Standing::will_not_print); // raised under the part
}

TEST(Comparison, StandsByItsFindingsAndItsPrintTogether) {
    using enum print::Verdict;
    using Standing = Alternative::Standing;
    using rules::Severity;
    Alternative one;
    const auto standing = [&](std::optional<Severity> severity, print::Verdict verdict) {
        one.severity = severity;
        one.verdict = verdict;
        return one.standing();
    };
    EXPECT_EQ(standing({}, reads), Standing::clean);
    EXPECT_EQ(standing(Severity::advice, reads), Standing::clean);
    EXPECT_EQ(standing(Severity::warning, reads), Standing::at_risk);
    EXPECT_EQ(standing({}, at_risk), Standing::at_risk);
    EXPECT_EQ(standing({}, lost), Standing::lost);
    EXPECT_EQ(standing(Severity::blocker, reads), Standing::will_not_print);
}

TEST(Comparison, GoesByCostWhereTheShopHasGivenIt) {
    std::vector<Alternative> all(2);
    for (Alternative& one : all)
        one.verdict = print::Verdict::reads;
    all[0].title = "slow";
    all[0].extra.seconds = 100;
    all[1].title = "spoils";
    all[1].extra.retractions = 50;
    run::Rates rates = planning();
    pipeline::sort_alternatives(all, rates, 10'000);
    EXPECT_EQ(all[0].title, "slow"); // fewer rejects
    rates.costs.machine_hour = 5;
    rates.costs.unit = 2;
    pipeline::sort_alternatives(all, rates, 10'000);
    EXPECT_EQ(all[0].title, "spoils"); // 0.01 units at 2 against 278 hours at 5
}

TEST(Comparison, CutOnASideWallSpoilsFewerThanRaisedOnTop) {
    // Common practice, no source: a side wall beats the top, cut beats raised there.
    const auto& all = common();
    std::optional<double> wall, raised;
    for (const Alternative& one : all) {
        if (one.mode == Mode::engrave && one.zone == Zone::side_wall && !wall) wall = one.forecast.rejects;
        if (one.mode == Mode::raise && one.zone == Zone::top && !raised) raised = one.forecast.rejects;
    }
    ASSERT_TRUE(wall && raised);
    EXPECT_LT(*wall, *raised);
}

TEST(Comparison, CountsAFaceThatAnotherMarkHasTaken) {
    job::Job job = with_mark({}, {.text = "NW-2207", .cap_height = 6});
    job = with_mark(job, {.text = "LOT 48-B", .cap_height = 6, .normal = {0, 0, 1}});
    bool met = false;
    const auto all = compared(job, job.marks[0].id).value();
    for (const Alternative& one : all)
        if (one.face == job.marks[1].anchor.face && one.mode == Mode::engrave) {
            met = true;
            EXPECT_EQ(one.severity, rules::Severity::blocker) << one.title << one.finding;
        }
    EXPECT_TRUE(met);
}

TEST(Comparison, RefusesAMarkThatIsNotThereAndEndsWhenCancelled) {
    const job::Job job = with_mark({}, {});
    EXPECT_EQ(compared(job, "m99").error().code, "job.no_mark");
    pipeline::Evaluator evaluator;
    Progress progress;
    progress.cancel();
    EXPECT_EQ(pipeline::compare(evaluator, job, job.marks[0].id, bracket(), planning(), 1, {}, progress).error().code,
              cancelled_code);
}

} // namespace
} // namespace touchmark::test
