// SPDX-License-Identifier: MIT
#pragma once

#include "tests/core/rules/scene.h"

#include <algorithm>
#include <gmock/gmock.h>

namespace touchmark::test {

MATCHER(Blocks, "") {
    return arg.severity == rules::Severity::blocker;
}
MATCHER(Warns, "") {
    return arg.severity == rules::Severity::warning;
}
MATCHER(Advises, "") {
    return arg.severity == rules::Severity::advice;
}

[[nodiscard]] inline const rules::Fix* fix_of(const rules::Finding& finding, std::string_view id) {
    const auto found = std::ranges::find(finding.fixes, id, &rules::Fix::id);
    return found == finding.fixes.end() ? nullptr : &*found;
}

/// Each finding explains itself, and each of its fixes really helps: applied to the job, the rule has less to say or
/// says it milder.
inline void expect_complete_and_helpful(const Scene& scene, const rules::Finding& finding) {
    EXPECT_FALSE(finding.message.empty());
    EXPECT_FALSE(finding.why.empty());
    EXPECT_FALSE(finding.source.empty());
    EXPECT_FALSE(finding.where.empty());
    EXPECT_EQ(finding.where.size(), finding.where_on_part.size());
    EXPECT_LE(finding.where.size(), 20u);
    for (const rules::Fix& fix : finding.fixes) {
        const auto fixed = fix.edit(scene.job);
        ASSERT_TRUE(fixed.has_value()) << fix.title;
        // A rule may have more to say on the mark than what this fix is for.
        const auto as_severe = [&](const std::vector<rules::Finding>& found) {
            return std::ranges::count_if(found, [&](const rules::Finding& one) {
                return one.mark == finding.mark && one.severity <= finding.severity;
            });
        };
        const auto after = scene.findings(finding.rule, *fixed);
        EXPECT_LT(as_severe(after), as_severe(scene.findings(finding.rule)))
            << fix.title << ": " << (after.empty() ? "" : after.front().message);
    }
}

} // namespace touchmark::test
