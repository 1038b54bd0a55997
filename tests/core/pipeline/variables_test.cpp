// SPDX-License-Identifier: MIT
#include "core/content/variable_kinds.h"
#include "core/job/variables.h"
#include "tests/core/pipeline/bracket.h"

#include <gmock/gmock.h>

namespace touchmark::pipeline {
namespace {

using testing::HasSubstr;
using testing::Not;

job::Job with_variable(const job::Job& job, const char* name, const char* value) {
    return job::add_variable(job, content::variable_from(name, value).value()).value();
}
/// Inter's figures have widths of their own (Debian's fonts-inter).
job::Job in_inter(job::Job job) {
    std::get<content::Text>(job.marks.front().content).family = "Inter";
    return job;
}
const rules::Finding* find(const Evaluation& evaluation, std::string_view rule) {
    const auto found = std::ranges::find(evaluation.findings, rule, &rules::Finding::rule);
    return found == evaluation.findings.end() ? nullptr : &*found;
}

TEST(VariablesInMarks, TheFirstUnitIsShown) {
    Evaluator evaluator;
    const job::Job job = with_variable(test::with_mark({}, {.text = "SN {serial}"}), "serial", "serial:0001..0888");
    const auto evaluation = test::evaluated(evaluator, job);
    std::string said;
    for (const content::Piece& piece : evaluation->marks.front().drawn->pieces)
        said += piece.label;
    EXPECT_EQ(said, "SN0001");
    const auto plain = test::evaluated(evaluator, test::with_mark({}, {.text = "SN 0001"}));
    const auto solid = evaluator.build(job, test::bracket(), Progress()),
               same = evaluator.build(plain->job, test::bracket(), Progress());
    ASSERT_TRUE(solid && same);
    EXPECT_EQ((*solid)->volume_after_mm3, (*same)->volume_after_mm3);
}

TEST(VariablesInMarks, TheWidestOfTheRangeIsJudgedAndNamed) {
    Evaluator evaluator;
    // The largest text whose first unit still fits the face, and whose widest does not.
    const job::Job base = in_inter(test::with_mark({}, {.text = "{n}", .cap_height = 5}));
    const auto narrow = test::evaluated(evaluator, with_variable(base, "n", "serial:1111..1111"));
    const double first = narrow->marks.front().drawn->extent.width();
    const Vec2 room = narrow->marks.front().map->rectangle();
    const double height = 5 * (room.x - 2.5) / first;
    const auto at = [&](const char* range) {
        job::Job job = in_inter(test::with_mark({}, {.text = "{n}", .cap_height = height}));
        return test::evaluated(evaluator, with_variable(job, "n", range));
    };
    EXPECT_EQ(find(*at("serial:1111..1111"), "leaves_face"), nullptr);
    const auto judged = at("serial:1111..8888");
    const rules::Finding* leaves = find(*judged, "leaves_face");
    ASSERT_NE(leaves, nullptr);
    EXPECT_THAT(leaves->message, HasSubstr("The widest is n "));
    EXPECT_THAT(leaves->message, Not(HasSubstr("n 1111")));
    ASSERT_FALSE(leaves->fixes.empty());
    for (const rules::Fix& fix : leaves->fixes) {
        const auto after = test::evaluated(evaluator, fix.edit(judged->job).value());
        EXPECT_EQ(find(*after, "leaves_face"), nullptr) << fix.title << ": proved for the widest";
    }
}

TEST(VariablesInMarks, WhatCannotBeMadeIsAFindingThatNamesIt) {
    Evaluator evaluator;
    const auto said = [&](const job::Job& job) {
        const auto evaluation = test::evaluated(evaluator, job);
        const rules::Finding* finding = find(*evaluation, "content");
        return finding ? finding->message : std::string();
    };
    const job::Job job = test::with_mark({}, {.text = "{lot}"});
    EXPECT_THAT(said(job), HasSubstr("There is no variable {lot}."));
    job::Job with_table = with_variable(job, "lot", "column:Lot");
    with_table.variables.table = content::Table::read("lots.csv", "Lot,x\nA,1\n,2\n").value();
    EXPECT_THAT(said(with_table), HasSubstr("is empty in row 2"));
    with_table.variables.table = content::Table::read("lots.csv", "Lot\nA\n" + std::string(3200, 'x') + "\n").value();
    with_table.marks.front().content = content::Code{.symbology = content::Symbology::qr, .message = "{lot}"};
    EXPECT_THAT(said(with_table), testing::AllOf(HasSubstr("QR"), HasSubstr("The largest code is that of lot x")));
}

TEST(VariablesInMarks, ALetterThatTheFontLacksIsFoundInAnyRow) {
    Evaluator evaluator;
    job::Job job = with_variable(test::with_mark({}, {.text = "{lot}"}), "lot", "column:Lot");
    std::get<content::Text>(job.marks.front().content).family = "Liberation Sans";
    job.variables.table = content::Table::read("lots.csv", "Lot\nB\nB\xE2\x98\x83\n").value();
    const auto evaluation = test::evaluated(evaluator, job);
    const rules::Finding* missing = find(*evaluation, "missing_characters");
    ASSERT_NE(missing, nullptr);
    EXPECT_THAT(missing->message, HasSubstr("It is so for lot B\xE2\x98\x83."));
}

} // namespace
} // namespace touchmark::pipeline
