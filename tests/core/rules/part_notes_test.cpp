// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

// Computed: what the reader noted about the file is said once, with a place to look at; a sound part is passed over in
// silence.
TEST(PartNotes, SayWhatTheReaderNotedAndNothingElse) {
    EXPECT_TRUE(rules::judge_part(*Scene().part).empty());
    std::size_t notes = 0;
    for (const char* name : {"as1-oc-214.stp", "io1-tu-203.stp", "linkrods.step", "frame.step"}) {
        const part::PartPtr part = read_part(open_part(name));
        const auto findings = rules::judge_part(*part);
        ASSERT_EQ(findings.size(), part->notes().size());
        notes += findings.size();
        for (const rules::Finding& finding : findings) {
            EXPECT_EQ(finding.rule, "part_notes");
            EXPECT_TRUE(finding.mark.empty());
            EXPECT_EQ(finding.where_on_part.size(), 1u);
            EXPECT_NE(finding.severity, rules::Severity::blocker);
        }
    }
    RecordProperty("notes", static_cast<int>(notes));
}

} // namespace
} // namespace touchmark::test
