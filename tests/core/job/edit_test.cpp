// SPDX-License-Identifier: MIT
#include "tests/core/job/random_job.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace touchmark::job {
namespace {

using test::small_job;
using testing::HasSubstr;

TEST(AddMark, GivesIdsThatAreNeverUsedAgain) {
    Job job = small_job();
    EXPECT_EQ(job.marks[0].id, "m1");
    EXPECT_EQ(job.marks[1].id, "m2");
    EXPECT_EQ(job.marks[1].name, "Mark 2");
    job = *remove_mark(job, "m2");
    job = *add_mark(job, job.marks[0]);
    EXPECT_EQ(job.marks[1].id, "m3");
    EXPECT_EQ(job.find("m2"), nullptr);
    EXPECT_EQ(job.find("m3"), &job.marks[1]);
}

TEST(AddMark, KeepsANameThatWasGiven) {
    Mark mark = small_job().marks[0];
    mark.name = "Serial";
    EXPECT_EQ(add_mark({}, mark)->marks[0].name, "Serial");
}

TEST(AddMark, RefusesAMarkOnNoFace) {
    Mark mark = small_job().marks[0];
    mark.anchor.face = -1;
    EXPECT_EQ(add_mark({}, mark).error().code, "job.out_of_range");
}

TEST(DuplicateMark, LiesBelowTheOriginalAsTheTextReads) {
    Job job = small_job();
    job = *set_parameter(job, "m1", "text", std::string("two\nlines"));
    job = *set_parameter(job, "m1", "turn", 90.0);
    job = *duplicate_mark(job, "m1");
    ASSERT_EQ(job.marks.size(), 3u);
    const Mark& copy = job.marks[1];
    EXPECT_EQ(copy.id, "m3");
    EXPECT_EQ(copy.name, "Mark 1 copy");
    EXPECT_EQ(copy.content, job.marks[0].content);
    // Two lines of 5 mm capitals at 1.6 times their height; turned by a quarter, down is to the right.
    EXPECT_NEAR(copy.anchor.at.x, 2 * 5 * 1.6, 1e-9);
    EXPECT_NEAR(copy.anchor.at.y, 0, 1e-9);
}

TEST(Edits, ThatChangeNothingReturnAnEqualJob) {
    test::RandomJob random(3);
    int marks = 0;
    for (int i = 0; i < 50; ++i) {
        const Job job = random();
        EXPECT_EQ(*set_pose(job, job.pose), job);
        EXPECT_EQ(*set_process(job, job.process), job);
        for (const Mark& mark : job.marks) {
            EXPECT_EQ(*rename_mark(job, mark.id, mark.name), job);
            EXPECT_EQ(*move_mark(job, mark.id, mark.anchor), job);
            EXPECT_EQ(*set_content(job, mark.id, mark.content), job);
            EXPECT_EQ(*set_mode(job, mark.id, mark.mode), job);
            for (const Parameter& row : parameters())
                if (has(mark, row)) {
                    EXPECT_EQ(*set_parameter(job, mark.id, row.key, row.get(mark)), job) << row.key;
                }
            ++marks;
        }
    }
    EXPECT_GT(marks, 50);
}

TEST(Edits, NameTheMarkThatIsNotThere) {
    const Job job = small_job();
    for (const Result<Job>& edited :
         {duplicate_mark(job, "m9"), remove_mark(job, "m9"), rename_mark(job, "m9", "x"), move_mark(job, "m9", {}),
          set_content(job, "m9", {}), set_mode(job, "m9", Mode::raise), set_parameter(job, "m9", "depth", 1.0)}) {
        ASSERT_FALSE(edited);
        EXPECT_EQ(edited.error().code, "job.no_mark");
        EXPECT_EQ(edited.error().message, "There is no mark m9.");
    }
}

TEST(Edits, ChangeWhatTheySayAndNothingElse) {
    const Job job = small_job();
    Job expected = job;
    expected.marks[0].name = "Neu – 新";
    EXPECT_EQ(*rename_mark(job, "m1", "Neu – 新"), expected);
    expected = job;
    expected.marks[1].mode = Mode::engrave;
    EXPECT_EQ(*set_mode(job, "m2", Mode::engrave), expected);
    expected = job;
    expected.marks.erase(expected.marks.begin());
    EXPECT_EQ(*remove_mark(job, "m1"), expected);
    expected = job;
    expected.process = "fff-0.6";
    EXPECT_EQ(*set_process(job, "fff-0.6"), expected);
    expected = job;
    expected.pose = {{0, 1, 0}, Degrees(30)};
    EXPECT_EQ(*set_pose(job, {{0, 2, 0}, Degrees(390)}), expected);
}

TEST(Edits, RefuseWhatIsNotFinite) {
    const double nan = std::numeric_limits<double>::quiet_NaN(), infinite = std::numeric_limits<double>::infinity();
    const Job job = small_job();
    for (const double bad : {nan, infinite, -infinite}) {
        Anchor anchor = job.marks[0].anchor;
        anchor.at.x = bad;
        EXPECT_EQ(move_mark(job, "m1", anchor).error().code, "job.out_of_range");
        anchor = job.marks[0].anchor;
        anchor.turn = Degrees(bad);
        EXPECT_EQ(move_mark(job, "m1", anchor).error().code, "job.out_of_range");
        EXPECT_EQ(set_pose(job, {{bad, 0, 0}, Degrees(0)}).error().code, "job.out_of_range");
        EXPECT_EQ(set_pose(job, {{0, 0, 1}, Degrees(bad)}).error().code, "job.out_of_range");
        content::Text text{.text = "A"};
        text.cap_height = Mm(bad);
        EXPECT_EQ(set_content(job, "m1", text).error().code, "job.out_of_range");
    }
    EXPECT_EQ(set_pose(job, {{0, 0, 0}, Degrees(0)}).error().code, "job.out_of_range");
}

TEST(Edits, RefuseNamesThatCannotBeWritten) {
    const Job job = small_job();
    for (const std::string& bad : {std::string(), std::string("a\nb"), std::string("\xFF"), std::string(201, 'x')})
        EXPECT_EQ(rename_mark(job, "m1", bad).error().code, "job.out_of_range");
    EXPECT_EQ(set_process(job, "").error().code, "job.out_of_range");
}

TEST(Edits, TurnsComeOutWithinOneTurn) {
    const Job job = small_job();
    const auto turned = [&](double turn) { return set_parameter(job, "m1", "turn", turn)->marks[0].anchor.turn.value; };
    EXPECT_EQ(turned(190), -170);
    EXPECT_EQ(turned(-180), 180);
    EXPECT_EQ(turned(180), 180);
    EXPECT_EQ(turned(360), 0);
    EXPECT_EQ(turned(12.3), 12.3);
}

TEST(Edits, LineEndsBecomeOneCharacter) {
    const Job job = *set_parameter(small_job(), "m1", "text", std::string("a\r\nb\rc\n"));
    EXPECT_EQ(std::get<content::Text>(job.marks[0].content).text, "a\nb\nc\n");
    EXPECT_EQ(*set_content(small_job(), "m1", content::Text{.text = "a\r\nb\rc\n"}), job);
}

} // namespace
} // namespace touchmark::job
