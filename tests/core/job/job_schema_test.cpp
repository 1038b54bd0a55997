// SPDX-License-Identifier: MIT
#include "core/job/job_file.h"
#include "tests/core/job/random_job.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include <fstream>
#include <regex>

namespace touchmark::job {
namespace {

using nlohmann::json;

std::string published() {
    std::ifstream stream(TOUCHMARK_SOURCE_DIR "/docs/job.schema.json");
    return {std::istreambuf_iterator<char>(stream), {}};
}

bool has_type(const json& value, const std::string& type) {
    if (type == "integer") return value.is_number() && value.get<double>() == std::floor(value.get<double>());
    return (type == "object" && value.is_object()) || (type == "array" && value.is_array()) ||
           (type == "string" && value.is_string()) || (type == "number" && value.is_number());
}

std::size_t characters(const std::string& text) {
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

/// What of JSON Schema (draft 2020-12) the job's schema uses, read from the specification and kept apart from the code
/// under test; a keyword it does not know is an error.
std::string violation(const json& schema, const json& value, const std::string& path = "") {
    if (schema.is_boolean()) return schema.get<bool>() ? "" : path + ": must be absent";
    for (const auto& item : schema.items()) {
        const std::string& word = item.key();
        const json& want = item.value();
        bool good = true;
        if (word == "type")
            good = has_type(value, want);
        else if (word == "const")
            good = value == want;
        else if (word == "enum")
            good = std::find(want.begin(), want.end(), value) != want.end();
        else if (word == "minimum")
            good = !value.is_number() || value >= want;
        else if (word == "maximum")
            good = !value.is_number() || value <= want;
        else if (word == "minLength")
            good = !value.is_string() || characters(value) >= want.get<std::size_t>();
        else if (word == "maxLength")
            good = !value.is_string() || characters(value) <= want.get<std::size_t>();
        else if (word == "minItems")
            good = value.size() >= want.get<std::size_t>();
        else if (word == "maxItems")
            good = value.size() <= want.get<std::size_t>();
        else if (word == "pattern")
            good =
                !value.is_string() || std::regex_search(value.get<std::string>(), std::regex(want.get<std::string>()));
        else if (word == "required") {
            for (const json& key : want)
                good = good && value.contains(key.get<std::string>());
        } else if (word == "oneOf") {
            good = std::count_if(want.begin(), want.end(),
                                 [&](const json& s) { return violation(s, value).empty(); }) == 1;
        } else if (word == "additionalProperties") {
            for (const auto& member : value.items())
                good = good && schema["properties"].contains(member.key());
        } else if (word == "properties") {
            for (const auto& member : want.items())
                if (value.contains(member.key()))
                    if (auto bad = violation(member.value(), value[member.key()], path + "." + member.key());
                        !bad.empty())
                        return bad;
        } else if (word == "items") {
            for (const json& element : value)
                if (auto bad = violation(want, element, path + "[]"); !bad.empty()) return bad;
        } else {
            good = word == "title" || word == "description" || word == "default" || word == "$schema";
        }
        if (!good) return path + ": " + word;
    }
    return {};
}

TEST(JobSchema, IsThePublishedOne) {
    EXPECT_EQ(job_schema(), published());
}

TEST(JobSchema, HoldsForEveryJobThatIsWritten) {
    const json schema = json::parse(job_schema());
    test::RandomJob random(23);
    for (int i = 0; i < 100; ++i) {
        const std::string text = to_json(random(), "/jobs");
        EXPECT_EQ(violation(schema, json::parse(text)), "") << text;
    }
}

TEST(JobSchema, RefusesTheVariablesThatTheReaderRefuses) {
    const json schema = json::parse(job_schema());
    const json good = json::parse(to_json(test::job_with_every_variable(), "/jobs"));
    ASSERT_EQ(violation(schema, good), "") << good.dump(2);
    const std::pair<const char*, json> bad[] = {{"/variables/0/name", ""},
                                                {"/variables/0/kind", "colour"},
                                                {"/variables/0/start", 1},
                                                {"/variables/0/text", 5},
                                                {"/variables/5/day", "14.3.2026"},
                                                {"/variables/6/step", 0},
                                                {"/variables/6/count", 1.5},
                                                {"/variables/6/digits", 19},
                                                {"/variables/7/scheme", "crc"},
                                                {"/variables/8/title", "Lot"},
                                                {"/table/csv", 1},
                                                {"/table/rows", 1}};
    for (const auto& [pointer, value] : bad) {
        json spoilt = good;
        spoilt[json::json_pointer(pointer)] = value;
        EXPECT_NE(violation(schema, spoilt), "") << pointer;
        EXPECT_FALSE(from_json(spoilt.dump(), "/jobs")) << pointer;
    }
}

TEST(JobSchema, RefusesWhatTheReaderRefuses) {
    const json schema = json::parse(job_schema());
    const json good = json::parse(to_json(test::small_job(), "/jobs"));
    ASSERT_EQ(violation(schema, good), "");
    const std::pair<const char*, json> bad[] = {
        {"/version", 3},          {"/marks/0/depth", 0.01}, {"/marks/0/depth", "1"}, {"/marks/0/mode", "paint"},
        {"/marks/0/weight", 1.5}, {"/marks/0/turn", 361},   {"/marks/0/id", "x1"},   {"/marks/0/kind", "code"},
        {"/marks/0/colour", 1},   {"/pose/down", {0, 1}},   {"/part/digest", "12"},  {"/process", ""},
        {"/next_mark", 0},        {"/part/file_bytes", ""}, {"/marks/0/face", -1},   {"/marks/0/family", ""}};
    for (const auto& [pointer, value] : bad) {
        json spoilt = good;
        spoilt[json::json_pointer(pointer)] = value;
        EXPECT_NE(violation(schema, spoilt), "") << pointer;
        EXPECT_FALSE(from_json(spoilt.dump(), "/jobs")) << pointer;
    }
    for (const char* key : {"format", "version", "part", "process", "marks"}) {
        json spoilt = good;
        spoilt.erase(key);
        EXPECT_NE(violation(schema, spoilt), "") << key;
        EXPECT_FALSE(from_json(spoilt.dump(), "/jobs")) << key;
    }
}

} // namespace
} // namespace touchmark::job
