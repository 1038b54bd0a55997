// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"
#include "tests/app/cli/program.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

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
    const Answer cost = touchmark_cli({"run-cost", "strip.job.json", "--units", "10", "--json"}, folder);
    ASSERT_EQ(cost.exit, 0) << cost.err;
    for (const auto& mark : cost.json().at("marks"))
        EXPECT_FALSE(mark.contains("trouble")) << mark;
}

TEST(TestStripCommand, NamesTheProfilesThereAre) {
    const Answer answer = touchmark_cli({"test-strip", "--process", "none", "--out", "x.step"}, scratch_folder());
    EXPECT_EQ(answer.exit, 2);
    EXPECT_THAT(answer.err, HasSubstr("fff-0.4"));
    EXPECT_EQ(touchmark_cli({"test-strip"}).exit, 2);
}

} // namespace
} // namespace touchmark::test
