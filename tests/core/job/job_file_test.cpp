// SPDX-License-Identifier: MIT
#include "core/job/job_file.h"
#include "tests/core/job/random_job.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include <bit>
#include <filesystem>
#include <fstream>
#include <functional>
#include <unistd.h>

namespace touchmark::job {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::HasSubstr;

/// The job as JSON of two marks, spoilt.
Error error_after(const std::function<void(json&)>& spoil) {
    json root = json::parse(to_json(test::small_job(), "/jobs"));
    spoil(root);
    const Result<Job> job = from_json(root.dump(), "/jobs");
    EXPECT_FALSE(job) << root.dump(2);
    return job ? Error{} : job.error();
}

class Folder {
public:
    Folder() : path(fs::temp_directory_path() / ("touchmark_jobs_" + std::to_string(::getpid()))) {
        fs::create_directories(path);
    }
    ~Folder() { fs::remove_all(path); }
    const fs::path path;
};

TEST(JobFile, RandomJobsComeBackExactly) {
    test::RandomJob random(5);
    for (int i = 0; i < 300; ++i) {
        const Job job = random();
        const std::string text = to_json(job, "/jobs");
        const Result<Job> back = from_json(text, "/jobs");
        ASSERT_TRUE(back) << back.error().message << "\n" << text;
        EXPECT_EQ(*back, job) << text;
        EXPECT_EQ(to_json(*back, "/jobs"), text);
    }
}

TEST(JobFile, NumbersComeBackToTheLastBit) {
    const Job job = test::small_job();
    std::mt19937_64 random(17);
    std::uniform_int_distribution<std::uint64_t> bits;
    int tried = 0;
    while (tried < 2000) {
        const double value = std::bit_cast<double>(bits(random));
        if (!(std::abs(value) <= 10'000)) continue; // most of these are tiny: denormal-like exponents included
        ++tried;
        const Job moved = *set_parameter(job, "m1", "at_x", value);
        const double back = from_json(to_json(moved, "/"), "/")->marks[0].anchor.at.x;
        EXPECT_EQ(std::bit_cast<std::uint64_t>(back), std::bit_cast<std::uint64_t>(value));
    }
    Anchor anchor = job.marks[0].anchor;
    anchor.at.x = -0.0;
    const Job negative_zero = *move_mark(job, "m1", anchor);
    EXPECT_TRUE(std::signbit(from_json(to_json(negative_zero, "/"), "/")->marks[0].anchor.at.x));
}

TEST(JobFile, IsSavedAndLoaded) {
    const Folder folder;
    Job job = test::small_job();
    job.part.file = folder.path / "parts" / "bracket.step";
    const fs::path file = folder.path / "bracket.touchmark.json";
    ASSERT_TRUE(save_job(job, file));
    EXPECT_EQ(*load_job(file), job);
    EXPECT_EQ(load_job(folder.path / "missing.json").error().code, "file.not_found");
    EXPECT_EQ(save_job(job, folder.path / "no_folder" / "x.json").error().code, "file.not_writable");
}

TEST(JobFile, MovesTogetherWithThePartBesideIt) {
    const Folder folder;
    fs::create_directories(folder.path / "here" / "jobs");
    Job job = test::small_job();
    job.part.file = folder.path / "here" / "parts" / "bracket.step";
    ASSERT_TRUE(save_job(job, folder.path / "here" / "jobs" / "a.json"));
    fs::rename(folder.path / "here", folder.path / "there");
    EXPECT_EQ(load_job(folder.path / "there" / "jobs" / "a.json")->part.file,
              folder.path / "there" / "parts" / "bracket.step");
}

TEST(JobFile, KeepsAFarPathAbsolute) {
    const auto stored = [](const char* part, const char* beside) {
        Job job;
        job.part.file = part;
        return json::parse(to_json(job, beside))["part"]["file"].get<std::string>();
    };
    EXPECT_EQ(stored("/home/u/jobs/p/a.step", "/home/u/jobs"), "p/a.step");
    EXPECT_EQ(stored("/home/u/parts/a.step", "/home/u/jobs"), "../parts/a.step");
    EXPECT_EQ(stored("/mnt/server/a.step", "/home/u/jobs"), "/mnt/server/a.step");
    EXPECT_EQ(stored("/home/u/a.step", "/home/u/1/2/3/4"), "/home/u/a.step");
}

TEST(JobFile, KeepsAFileNameThatIsNotUtf8) {
    Job job = test::small_job();
    job.part.file = fs::path("/parts/Geh\xE4use.step"); // Latin-1 on disk
    const std::string text = to_json(job, "/jobs");
    EXPECT_THAT(text, HasSubstr("file_bytes"));
    EXPECT_EQ(*from_json(text, "/jobs"), job);
}

TEST(JobFile, WhatIsLeftOutTakesItsDefault) {
    const Result<Job> job = from_json(R"({"format": "touchmark job", "version": 1, "part": {"file": "p.step"},
        "process": "fff-0.4", "marks": [{"id": "m7", "name": "Serial", "kind": "text", "face": 2, "text": "A1"}]})",
                                      "/jobs");
    ASSERT_TRUE(job) << job.error().message;
    EXPECT_EQ(job->part.file, "/jobs/p.step");
    EXPECT_EQ(job->pose, plate::Pose{});
    EXPECT_EQ(job->next_mark, 8);
    Mark expected;
    expected.id = "m7", expected.name = "Serial", expected.anchor.face = 2;
    expected.content = content::Text{.text = "A1"};
    EXPECT_EQ(job->marks.at(0), expected);
}

TEST(JobFile, NamesTheLineAndColumnOfMalformedJson) {
    const Error error = from_json("{\n  \"format\": \"touchmark job\",\n  \"version\" 1\n}", "/").error();
    EXPECT_EQ(error.code, "job.malformed");
    EXPECT_THAT(error.message, HasSubstr("line 3, column 13"));
    EXPECT_THAT(from_json("", "/").error().message, HasSubstr("line 1"));
    EXPECT_THAT(from_json("{\"format\": \"\xFF\"}", "/").error().message,
                HasSubstr("Not UTF-8 text at line 1, column 13"));
}

TEST(JobFile, ATruncatedFileIsAnErrorWhereverItEnds) {
    const std::string text = to_json(test::small_job(), "/jobs");
    for (std::size_t size = 0; size + 2 < text.size(); ++size) {
        const Result<Job> job = from_json(std::string_view(text).substr(0, size), "/jobs");
        ASSERT_FALSE(job) << size;
        EXPECT_EQ(job.error().code, "job.malformed");
    }
}

TEST(JobFile, NamesTheKeyOfAWrongValue) {
    EXPECT_EQ(error_after([](json& j) { j["marks"][1]["depth"] = "deep"; }).message,
              "marks[1].depth must be a number, not a text.");
    EXPECT_EQ(error_after([](json& j) { j["marks"][1]["dept"] = 1; }).message, "marks[1] has an unknown key \"dept\".");
    EXPECT_EQ(error_after([](json& j) { j["marks"][0].erase("text"); }).message, "marks[0] lacks \"text\".");
    EXPECT_EQ(error_after([](json& j) { j["marks"][0]["kind"] = "song"; }).message,
              "marks[0].kind: Written as cannot be \"song\"; it is one of text, code, art.");
    EXPECT_THAT(error_after([](json& j) { j["marks"][0]["kind"] = "code"; }).message,
                HasSubstr("marks[0] has an unknown key"))
        << "the cap height of lettering";
    EXPECT_EQ(error_after([](json& j) { j["marks"][0]["face"] = 1.5; }).message,
              "marks[0].face must be a whole number.");
    EXPECT_EQ(error_after([](json& j) { j["marks"][0]["fingerprint"] = "12"; }).message,
              "marks[0].fingerprint must be 32 hexadecimal digits.");
    EXPECT_EQ(error_after([](json& j) { j["marks"][1]["id"] = "m1"; }).message, "marks[1].id is given to two marks.");
    EXPECT_EQ(error_after([](json& j) { j["marks"][1]["id"] = "m01"; }).message,
              "marks[1].id must be \"m\" and a number.");
    EXPECT_THAT(error_after([](json& j) { j["next_mark"] = 2; }).message, HasSubstr("next_mark must be larger"));
    EXPECT_EQ(error_after([](json& j) { j["part"]["file"] = std::string("a\0b", 3); }).message,
              "part.file holds a null character.");
    EXPECT_EQ(error_after([](json& j) { j["pose"]["down"] = {0, 0, 0}; }).message, "pose.down must have a length.");
    EXPECT_EQ(error_after([](json& j) { j["pose"]["down"] = {0, 1}; }).message, "pose.down must hold three numbers.");
    EXPECT_EQ(error_after([](json& j) { j = json::array(); }).code, "job.malformed");
    EXPECT_EQ(error_after([](json& j) { j["format"] = "touchmark process"; }).message,
              "format must be \"touchmark job\".");
}

TEST(JobFile, ChecksTheRangeOfEveryValue) {
    for (const Parameter& row : parameters()) {
        using Kind = Parameter::Kind;
        const bool is_number = row.kind == Kind::length || row.kind == Kind::angle || row.kind == Kind::factor;
        std::vector<json> bad;
        if (is_number || row.key == "weight")
            bad = {row.least - 1, row.most + 1, -1e300, 1e300};
        else if (row.kind == Kind::choice)
            bad = {"", "other"};
        else
            bad = {std::string(static_cast<std::size_t>(row.most) + 1, 'x')};
        for (const json& value : bad) {
            const Job job = *set_content(test::small_job(), "m1", test::mark_that_has(row).content);
            json changed = json::parse(to_json(job, "/jobs"));
            changed["marks"][0][std::string(row.key)] = value;
            const Error error = from_json(changed.dump(), "/jobs").error();
            EXPECT_EQ(error.code, "job.out_of_range") << row.key << " " << value;
            EXPECT_THAT(error.message, HasSubstr("marks[0]." + std::string(row.key)));
        }
    }
    EXPECT_EQ(error_after([](json& j) { j["marks"][0]["name"] = ""; }).code, "job.out_of_range");
    EXPECT_EQ(error_after([](json& j) { j["marks"][0]["face"] = -1; }).code, "job.out_of_range");
    EXPECT_EQ(error_after([](json& j) { j["process"] = ""; }).code, "job.out_of_range");
}

TEST(JobFile, RefusesANewerVersionByItsNumber) {
    const Error error = error_after([](json& j) { j["version"] = 3, j["wonders"] = true; });
    EXPECT_EQ(error.code, "job.newer_version");
    EXPECT_THAT(error.message, HasSubstr("version 3; this program knows up to 2"));
}

TEST(JobFile, HostileJsonIsRefusedQuickly) {
    const auto start = std::chrono::steady_clock::now();
    EXPECT_THAT(from_json(std::string(1'000'000, '['), "/").error().message, HasSubstr("nested too deep"));
    std::string objects;
    for (int i = 0; i < 100'000; ++i)
        objects += "{\"a\":";
    EXPECT_THAT(from_json(objects, "/").error().message, HasSubstr("nested too deep"));
    EXPECT_EQ(from_json("{\"version\": 1e999}", "/").error().code, "job.malformed");
    EXPECT_THAT(from_json(R"({"version": 1, "version": 1})", "/").error().message, HasSubstr("given twice"));
    EXPECT_EQ(from_json(std::string((64u << 20) + 1, ' '), "/").error().code, "job.malformed");
    EXPECT_EQ(from_json("\"" + std::string(2'000'000, 'x') + "\"", "/").error().code, "job.malformed");
    const Error long_key = from_json("{\"" + std::string(100'000, 'k') + "\": 1}", "/").error();
    EXPECT_LT(long_key.message.size(), 1000u);
    json many = json::parse(to_json(test::small_job(), "/"));
    many["marks"] = json(11'000, many["marks"][0]);
    EXPECT_THAT(from_json(many.dump(), "/").error().message, HasSubstr("more than 10000 marks"));
    EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(20));
}

TEST(JobFile, SavingOverAJobKeepsTheOldOneWhenItFails) {
    const Folder folder;
    const fs::path file = folder.path / "job.json";
    ASSERT_TRUE(save_job(test::small_job(), file));
    fs::create_directory(folder.path / "folder.json");
    EXPECT_EQ(save_job(test::small_job(), folder.path / "folder.json").error().code, "file.not_writable");
    EXPECT_TRUE(load_job(file));
    EXPECT_EQ(std::distance(fs::directory_iterator(folder.path), fs::directory_iterator()), 2) << "nothing left behind";
}

} // namespace
} // namespace touchmark::job
