// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"
#include "tests/app/cli/program.h"
#include "tests/support/scratch_folder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using Words = std::vector<std::string>;

/// The SVG file that these options make.
std::string outlined(const Words& options) {
    const fs::path file = scratch_folder() / "outline.svg";
    Words words{"outline", "-o", file.string()};
    words.insert(words.end(), options.begin(), options.end());
    const Answer answer = touchmark_cli(words);
    EXPECT_EQ(answer.exit, 0) << answer.err;
    return read_text(file).value_or("");
}

TEST(CliVariables, StandInTexts) {
    const std::string said = outlined({"--text", "{part}-{serial}{c}", "--variable", "part=NW-2207", "--variable",
                                       "serial=serial:0042..0500", "--variable", "c=check:mod_11_2@serial"});
    // 0042 by ISO 7064 MOD 11-2: 0·2, 0·2, 4·2 = 8, (8+2)·2 = 20 = 9 mod 11; 12 - 9 = 3.
    EXPECT_EQ(said, outlined({"--text", "NW-2207-00423"}));
    EXPECT_EQ(outlined({"--text", "{{part}"}), outlined({"--text", "{{part}", "--variable", "part=x"}));
}

TEST(CliVariables, StandInCodesAndTemplates) {
    EXPECT_EQ(outlined({"--gs1", "(01)0952123454321{c}", "--variable", "c=check:gs1_mod10"}),
              outlined({"--gs1", "(01)09521234543213"}))
        << "GS1's example GTIN";
    EXPECT_EQ(outlined({"--template", "serial", "--set", "number={n}", "--variable", "n=serial:007..100"}),
              outlined({"--text", "SN 007"}));
}

TEST(CliVariables, ComeFromATable) {
    const ScratchFolder folder; // scratch_folder() is emptied by each call
    const fs::path table = folder / "lots.csv";
    ASSERT_TRUE(write_text_atomically(table, "Name,Lot\r\nlid,\"A 7\"\r\nbody,B\r\n"));
    EXPECT_EQ(outlined({"--text", "{lot}", "--table", table.string(), "--variable", "lot=column:Lot"}),
              outlined({"--text", "A 7"}));
}

TEST(CliVariables, WhatIsWrongIsOneClearLine) {
    const auto said = [](const Words& options) {
        Words words{"outline", "-o", (scratch_folder() / "never.svg").string()};
        words.insert(words.end(), options.begin(), options.end());
        const Answer answer = touchmark_cli(words);
        EXPECT_NE(answer.exit, 0);
        EXPECT_EQ(answer.error_lines(), 1) << answer.err;
        return answer.err;
    };
    EXPECT_THAT(said({"--text", "{part}"}), HasSubstr("There is no variable {part}."));
    EXPECT_THAT(said({"--text", "x", "--variable", "part"}), HasSubstr("NAME=VALUE"));
    EXPECT_THAT(said({"--text", "x", "--variable", "n=serial:5..1"}), HasSubstr("no range of serial numbers"));
    EXPECT_THAT(said({"--text", "{a}", "--variable", "a=check:luhn@b", "--variable", "b=check:luhn@a"}),
                HasSubstr("cannot be of itself"));
    EXPECT_THAT(said({"--text", "x", "--table", "/nowhere.csv"}), HasSubstr("nowhere.csv"));
}

} // namespace
} // namespace touchmark::test
