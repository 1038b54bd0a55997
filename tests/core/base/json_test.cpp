// SPDX-License-Identifier: MIT
#include "core/base/json.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::json {
namespace {

using testing::HasSubstr;

std::string message(std::string_view text, const Bounds& bounds = {}) {
    const Result<Value> parsed = parse(text, "test.malformed", bounds);
    EXPECT_FALSE(parsed) << text.substr(0, 100);
    if (parsed) return {};
    EXPECT_EQ(parsed.error().code, "test.malformed");
    EXPECT_FALSE(parsed.error().hint.empty());
    return parsed.error().message;
}

TEST(JsonParse, ReadsWhatTheStandardAllows) {
    // RFC 8259: any value may be the whole text; a number keeps its sign and exponent; escapes name UTF-16 units.
    EXPECT_EQ(*parse(" [1, -2.5e3, true, null] ", "x"), (Value{1, -2500.0, true, nullptr}));
    EXPECT_EQ(*parse(R"("\u00c4\ud835\udec0")", "x"), "\u00c4\U0001d6c0");
    EXPECT_EQ(*parse("\xEF\xBB\xBF{}", "x"), Value::object()) << "a byte-order mark may be ignored";
}

TEST(JsonParse, NamesLineAndColumn) {
    EXPECT_THAT(message("{\"a\": 1,\n \"b\" 2}"), HasSubstr("line 2, column 6"));
    EXPECT_THAT(message("[1, 2"), HasSubstr("line 1"));
    EXPECT_THAT(message("[1 2]"), HasSubstr("line 1, column 4"));
    EXPECT_THAT(message("\n\n\"ab\xFF\""), HasSubstr("Not UTF-8 text at line 3, column 4"));
    EXPECT_THAT(message("[NaN]"), HasSubstr("line 1, column 2"));
}

TEST(JsonParse, IsBounded) {
    EXPECT_TRUE(parse("[[[]]]", "x", {.depth = 3}));
    EXPECT_THAT(message("[[[[]]]]", {.depth = 3}), HasSubstr("nested too deep"));
    EXPECT_TRUE(parse(R"(["[[[[", "\"[[[["])", "x", {.depth = 1})) << "brackets within texts do not nest";
    EXPECT_TRUE(parse("[[],[],[],[]]", "x", {.depth = 2})) << "side by side is not within";
    EXPECT_THAT(message("[1, 2]", {.bytes = 5}), HasSubstr("larger"));
    EXPECT_THAT(message("1e999"), HasSubstr("too large"));
}

TEST(JsonParse, RefusesAKeyGivenTwice) {
    EXPECT_THAT(message(R"({"a": 1, "b": {"a": 1}, "a": 2})"), HasSubstr("\"a\" is given twice"));
    EXPECT_TRUE(parse(R"([{"a": 1}, {"a": 2}, {"b": {"a": 1}, "a": 2}])", "x"));
}

TEST(JsonNode, NamesThePlaceOfTheFirstTrouble) {
    const Value value = *parse(R"({"list": [1, {"deep": "text"}], "flag": true})", "x");
    const auto trouble_of = [&](auto&& walk) {
        Trouble trouble("test.malformed", "test.range");
        walk(Node(value, "", trouble));
        EXPECT_TRUE(trouble);
        return trouble ? trouble.error() : Error{};
    };
    EXPECT_EQ(trouble_of([](const Node& root) { (void)root["none"].number(0, 1); }).message,
              "The file lacks \"none\".");
    EXPECT_EQ(trouble_of([](const Node& root) { (void)root["list"].elements()[1]["deep"].number(0, 1); }).message,
              "list[1].deep must be a number, not a text.");
    EXPECT_EQ(trouble_of([](const Node& root) { (void)root["list"].elements()[0].text(); }).message,
              "list[0] must be a text, not a number.");
    EXPECT_EQ(trouble_of([](const Node& root) { (void)root["flag"].elements(); }).message,
              "flag must be a list, not true or false.");
    const Error range = trouble_of([](const Node& root) { (void)root["list"].elements()[0].number(2, 3); });
    EXPECT_EQ(range.code, "test.range");
    EXPECT_EQ(range.message, "list[0] is 1; it must be from 2 to 3.");
    EXPECT_EQ(trouble_of([](const Node& root) { root.allow_only({"list"}); }).message,
              "The file has an unknown key \"flag\".");
    // The first of two.
    EXPECT_EQ(trouble_of([](const Node& root) {
                  (void)root["a"].truth();
                  (void)root["b"].truth();
              }).message,
              "The file lacks \"a\".");
}

// The Unicode Standard, table 3-7: well-formed UTF-8 byte sequences.
TEST(IsUtf8, FollowsTheTableOfWellFormedSequences) {
    for (const char* good : {"", "a", "\xC2\x80", "\xDF\xBF", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80",
                             "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF", "x\xE2\x82\xACy"})
        EXPECT_TRUE(is_utf8(good)) << good;
    for (const char* bad :
         {"\x80", "\xC0\xAF", "\xC1\xBF", "\xC2", "\xC2\x41", "\xE0\x9F\xBF", "\xED\xA0\x80", "\xE2\x82",
          "\xF0\x8F\xBF\xBF", "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xFF", "\xF0\x90\x80"})
        EXPECT_FALSE(is_utf8(bad)) << bad;
    EXPECT_TRUE(is_utf8(std::string_view("a\0b", 3)));
    EXPECT_FALSE(is_utf8(std::string_view("\xE2\x82\xAC", 2)));
}

} // namespace
} // namespace touchmark::json
