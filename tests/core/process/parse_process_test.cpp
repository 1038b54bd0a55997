// SPDX-License-Identifier: MIT
#include "core/process/extrusion.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>
#include <functional>
#include <unistd.h>

namespace touchmark::process {
namespace {

using nlohmann::json;
using testing::HasSubstr;

json figure(double value, const char* unit = "mm") {
    return {{"value", value}, {"unit", unit}, {"source", "test"}};
}

json profile() {
    json root = {
        {"format", "touchmark process"},
        {"version", 1},
        {"title", "Test"},
        {"material", "PLA"},
        {"nozzle", figure(0.4)},
        {"line_width", figure(0.42)},
        {"layer_height", figure(0.2)},
        {"first_layer", figure(0.2)},
        {"zones",
         {{"top_up_to", figure(20, "deg")},
          {"slope_up_to", figure(70, "deg")},
          {"side_wall_up_to", figure(135, "deg")},
          {"overhang_up_to", figure(175, "deg")}}},
        {"suitability", json::array()},
        {"limits",
         json::array(
             {{{"limit", "stroke_width"}, {"hard", figure(0.1)}, {"comfortable", figure(0.2)}},
              {{"limit", "stroke_width"}, {"mode", "raise"}, {"hard", figure(0.3)}, {"comfortable", figure(0.4)}},
              {{"limit", "stroke_width"}, {"zone", "top"}, {"hard", figure(0.5)}, {"comfortable", figure(0.6)}},
              {{"limit", "stroke_width"},
               {"mode", "raise"},
               {"zone", "top"},
               {"hard", figure(0.7)},
               {"comfortable", figure(0.8)}}})}};
    for (const Zone zone : zones)
        for (const Mode mode : modes)
            root["suitability"].push_back({{"zone", key_of(zone)},
                                           {"mode", key_of(mode)},
                                           {"figure", {{"value", 0.5}, {"source", "test"}}},
                                           {"reason", "because"}});
    return root;
}

Error error_after(const std::function<void(json&)>& spoil) {
    json root = profile();
    spoil(root);
    const Result<Process> process = parse_process(root.dump(), "test");
    EXPECT_FALSE(process) << root.dump();
    return process ? Error{} : process.error();
}

TEST(ParseProcess, ReadsEveryField) {
    const Result<Process> process = parse_process(profile().dump(), "fff-test");
    ASSERT_TRUE(process) << process.error().message;
    EXPECT_EQ(process->id, "fff-test");
    EXPECT_EQ(process->title, "Test");
    EXPECT_EQ(process->material, "PLA");
    EXPECT_EQ(process->nozzle_mm.value, 0.4);
    EXPECT_EQ(process->nozzle_mm.source, "test");
    EXPECT_FALSE(process->nozzle_mm.assumed);
    EXPECT_EQ(process->line_width_mm.value, 0.42);
    EXPECT_EQ(process->zones.side_wall_up_to.value, 135);
    EXPECT_EQ(process->suitability.size(), modes.size() * zones.size());
    EXPECT_EQ(process->limits.size(), 4u);
}

TEST(ParseProcess, TakesTheMostSpecificLimit) {
    const Result<Process> process = parse_process(profile().dump(), "test");
    ASSERT_TRUE(process);
    EXPECT_EQ(process->limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.value, 0.1);
    EXPECT_EQ(process->limit("stroke_width", Mode::raise, Zone::side_wall)->hard.value, 0.3);
    EXPECT_EQ(process->limit("stroke_width", Mode::engrave, Zone::top)->hard.value, 0.5);
    EXPECT_EQ(process->limit("stroke_width", Mode::raise, Zone::top)->hard.value, 0.7);
    EXPECT_EQ(process->limit("edge_margin", Mode::raise, Zone::top), nullptr);
}

TEST(ParseProcess, PrefersTheZoneOverTheModeWhereBothFit) {
    json root = profile();
    root["limits"].erase(3);
    const Result<Process> process = parse_process(root.dump(), "test");
    ASSERT_TRUE(process);
    EXPECT_EQ(process->limit("stroke_width", Mode::raise, Zone::top)->hard.value, 0.5);
}

TEST(ParseProcess, NamesTheLineAndColumnOfMalformedJson) {
    const Result<Process> process = parse_process("{\n  \"title\": ,\n}", "test");
    ASSERT_FALSE(process);
    EXPECT_EQ(process.error().code, "process.malformed");
    EXPECT_THAT(process.error().message, HasSubstr("line 2, column 12"));
}

TEST(ParseProcess, NamesTheUnknownKey) {
    const Error error = error_after([](json& root) { root["limits"][1]["colour"] = 1; });
    EXPECT_EQ(error.code, "process.malformed");
    EXPECT_EQ(error.message, "limits[1] has an unknown key \"colour\".");
}

TEST(ParseProcess, NamesTheKeyOfAWrongType) {
    const Error error = error_after([](json& root) { root["limits"][0]["hard"]["value"] = "0.5"; });
    EXPECT_EQ(error.message, "limits[0].hard.value must be a number, not a text.");
}

TEST(ParseProcess, RefusesAWrongUnit) {
    const Error error = error_after([](json& root) { root["limits"][2]["comfortable"]["unit"] = "inch"; });
    EXPECT_EQ(error.code, "process.unit");
    EXPECT_EQ(error.message, "limits[2].comfortable.unit is \"inch\"; it must be \"mm\".");
    EXPECT_EQ(error_after([](json& root) { root["zones"]["top_up_to"]["unit"] = "rad"; }).code, "process.unit");
}

TEST(ParseProcess, RefusesAFigureWithoutASource) {
    EXPECT_EQ(error_after([](json& root) { root["nozzle"].erase("source"); }).message, "nozzle lacks \"source\".");
    EXPECT_EQ(error_after([](json& root) { root["nozzle"]["source"] = " "; }).message, "nozzle.source is empty.");
    EXPECT_THAT(error_after([](json& root) { root["suitability"][0]["figure"].erase("source"); }).message,
                HasSubstr("suitability[0].figure lacks"));
}

TEST(ParseProcess, RefusesEachMissingKey) {
    const json whole = profile();
    for (const auto& item : whole.items()) {
        const Error error = error_after([&](json& root) { root.erase(item.key()); });
        EXPECT_EQ(error.message, "The file lacks \"" + item.key() + "\".");
    }
}

TEST(ParseProcess, RefusesLimitsInTheWrongOrder) {
    EXPECT_EQ(error_after([](json& root) { root["limits"][0]["hard"]["value"] = 0.21; }).message,
              "limits[0].comfortable is smaller than the hard limit.");
    EXPECT_EQ(error_after([](json& root) { root["limits"][0]["limit"] = "depth_max"; }).message,
              "limits[0].comfortable is larger than the hard limit.");
    EXPECT_THAT(error_after([](json& root) { root["zones"]["top_up_to"]["value"] = 71; }).message,
                HasSubstr("zones.slope_up_to is smaller"));
}

TEST(ParseProcess, RefusesWhatWouldBeSilentlyDead) {
    EXPECT_EQ(error_after([](json& root) { root["limits"].push_back(root["limits"][1]); }).message,
              "limits[4] repeats limits[1].");
    EXPECT_THAT(error_after([](json& root) { root["suitability"].erase(0); }).message,
                HasSubstr("must rate engrave in zone bottom once, not 0 times"));
    EXPECT_THAT(error_after([](json& root) { root["limits"][0]["limit"] = "stroke_with"; }).message,
                HasSubstr("\"stroke_with\", which no rule knows"));
    EXPECT_THAT(error_after([](json& root) { root["limits"][2]["zone"] = "wall"; }).message,
                HasSubstr("limits[2].zone is \"wall\"; it must be one of bottom"));
}

TEST(ParseProcess, TakesAProcessWithoutANozzleOnlyWithoutLines) {
    const auto bare = [](json& root) {
        root.erase("nozzle");
        root.erase("line_width");
    };
    json root = profile();
    bare(root);
    const Result<Process> process = parse_process(root.dump(), "test");
    ASSERT_TRUE(process) << process.error().message;
    EXPECT_FALSE(extrudes(*process));
    EXPECT_FALSE(process->printing);
    const json lines = {{"limit", "code_module"}, {"hard", figure(1, "lines")}, {"comfortable", figure(2, "lines")}};
    EXPECT_EQ(error_after([&](json& spoilt) {
                  bare(spoilt);
                  spoilt["limits"].push_back(lines);
              }).message,
              "limits[4] is counted in lines, and the process has no nozzle that lays any.");
    EXPECT_EQ(error_after([&](json& spoilt) {
                  bare(spoilt);
                  spoilt["printing"] = json::object();
              }).message,
              "The file lacks \"nozzle\".");
}

TEST(ParseProcess, RefusesANewerVersionAndAnotherFormat) {
    EXPECT_EQ(error_after([](json& root) { root["version"] = 2; }).code, "process.newer_version");
    EXPECT_EQ(error_after([](json& root) { root["format"] = "touchmark job"; }).message,
              "format must be \"touchmark process\".");
}

TEST(LoadProcesses, NamesTheMalformedFile) {
    const auto folder = std::filesystem::temp_directory_path() / ("touchmark_profiles_" + std::to_string(::getpid()));
    std::filesystem::create_directories(folder);
    std::ofstream(folder / "good.json") << profile().dump();
    std::ofstream(folder / "notes.txt") << "not a profile";
    EXPECT_EQ(load_processes(folder)->size(), 1u);
    std::ofstream(folder / "broken.json") << "{";
    const auto processes = load_processes(folder);
    std::filesystem::remove_all(folder);
    ASSERT_FALSE(processes);
    EXPECT_THAT(processes.error().message, HasSubstr("broken.json: Not well-formed JSON at line 1"));
    EXPECT_EQ(load_processes(folder).error().code, "file.not_found");
}

TEST(ProcessDigest, ChangesWithEveryFigure) {
    const auto digest = [](const json& root) {
        const Result<Process> process = parse_process(root.dump(), "test");
        EXPECT_TRUE(process);
        Digester digester;
        add(digester, *process);
        return digester.digest();
    };
    const json whole = profile();
    EXPECT_EQ(digest(whole), digest(whole));
    int checked = 0;
    // Every number of the profile, moved by a hair.
    const json flat = whole.flatten();
    for (const auto& item : flat.items()) {
        if (!item.key().ends_with("/value")) continue;
        json changed = whole;
        double& value = changed[json::json_pointer(item.key())].get_ref<double&>();
        value -= 1e-9;
        EXPECT_NE(digest(changed), digest(whole)) << item.key();
        ++checked;
    }
    EXPECT_EQ(checked, 4 + 4 + 25 + 8);
}

} // namespace
} // namespace touchmark::process
