// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"
#include "core/rules/rule.h"

#include <filesystem>
#include <gtest/gtest.h>
#include <set>

namespace touchmark::test {
namespace {

namespace fs = std::filesystem;

TEST(RuleTable, EveryRowHasItsSourceItsTestAndItsSectionInTheDocs) {
    const fs::path root = TOUCHMARK_SOURCE_DIR;
    const std::string docs = read_text(root / "docs" / "findings.md").value();
    for (const rules::Rule& rule : rules::rules()) {
        const std::string id(rule.id);
        EXPECT_TRUE(fs::exists(root / "core" / "rules" / (id + ".cpp"))) << id;
        EXPECT_TRUE(fs::exists(root / "tests" / "core" / "rules" / (id + "_test.cpp"))) << id;
        EXPECT_NE(docs.find("## " + std::string(rule.title) + "\n"), std::string::npos) << id;
        EXPECT_NE(docs.find("`" + id + "`"), std::string::npos) << id;
    }
}

TEST(RuleTable, EveryRowIsWholeAndItsIdItsOwn) {
    std::set<std::string_view> ids;
    for (const rules::Rule& rule : rules::rules()) {
        EXPECT_TRUE(ids.insert(rule.id).second) << rule.id;
        EXPECT_FALSE(rule.title.empty() || rule.what.empty() || rule.why.empty()) << rule.id;
        EXPECT_NE(rule.judge == nullptr, rule.judge_part == nullptr) << rule.id;
        EXPECT_EQ(rules::find_rule(rule.id), &rule);
    }
    EXPECT_EQ(rules::find_rule("no_such_rule"), nullptr);
}

} // namespace
} // namespace touchmark::test
