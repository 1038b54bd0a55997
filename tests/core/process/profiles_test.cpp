// SPDX-License-Identifier: MIT
// The profiles that come along, against what the trade and published guidelines say.
#include "core/process/extrusion.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include <algorithm>
#include <fstream>

namespace touchmark::process {
namespace {

const std::filesystem::path folder = std::filesystem::path(TOUCHMARK_RESOURCES) / "processes";

std::vector<Process> everything() {
    auto processes = load_processes(folder);
    if (!processes) throw std::runtime_error(processes.error().message);
    return *std::move(processes);
}

/// Those that lay lines through a nozzle.
std::vector<Process> profiles() {
    std::vector<Process> processes = everything();
    std::erase_if(processes, [](const Process& process) { return !extrudes(process); });
    return processes;
}

Process of(std::string_view id) {
    for (const Process& process : everything())
        if (process.id == id) return process;
    throw std::runtime_error("no such profile");
}

Process profile(double nozzle) {
    for (const Process& process : profiles())
        if (process.nozzle_mm.value == nozzle) return process;
    throw std::runtime_error("no profile for that nozzle");
}

TEST(Profiles, ThereIsOneForEachNozzleInOrderThenTheOtherProcesses) {
    std::vector<std::string> ids;
    for (const Process& process : everything())
        ids.push_back(process.id);
    EXPECT_THAT(ids, testing::ElementsAre("fff-0.25", "fff-0.4", "fff-0.6", "fff-0.8", "powder-pa12", "powder-metal",
                                          "vat-resin"));
}

TEST(Profiles, GiveEveryLimitForEveryModeAndZone) {
    for (const Process& process : profiles())
        for (const LimitKey& row : limit_keys)
            for (const Mode mode : modes)
                for (const Zone zone : zones) {
                    if (mode == Mode::through && std::string_view(row.key).starts_with("depth")) continue; // the wall's
                    EXPECT_NE(process.limit(row.key, mode, zone), nullptr)
                        << process.id << " " << row.key << " " << key_of(mode) << " " << key_of(zone);
                }
}

TEST(Profiles, LeaveRoomForACleanDepth) {
    for (const Process& process : everything())
        for (const Mode mode : modes)
            for (const Zone zone : zones) {
                const Limit* least = process.limit("depth_min", mode, zone);
                const Limit* most = process.limit("depth_max", mode, zone);
                if (mode == Mode::through) continue;
                EXPECT_LT(least->comfortable.value, most->comfortable.value)
                    << process.id << " " << key_of(mode) << " " << key_of(zone);
            }
}

TEST(Profiles, SayWhichFiguresAreAssumed) {
    for (const Process& process : everything()) {
        const auto check = [&](const Sourced& figure) {
            if (figure.source.empty()) return; // the nozzle of a process without one
            const bool guessed = figure.source.starts_with("assumed") || figure.source.starts_with("simulated") ||
                                 figure.source.ends_with("is assumed");
            EXPECT_EQ(figure.assumed, guessed) << process.id << ": " << figure.source;
        };
        for (const Limit& limit : process.limits)
            check(limit.hard), check(limit.comfortable);
        for (const Suitability& entry : process.suitability)
            check(entry.figure);
        for (const Sourced* figure : {&process.nozzle_mm, &process.line_width_mm, &process.layer_height_mm,
                                      &process.first_layer_mm, &process.zones.top_up_to, &process.zones.slope_up_to,
                                      &process.zones.side_wall_up_to, &process.zones.overhang_up_to})
            check(*figure);
    }
}

// Common practice, no source: with a 0.4 mm nozzle strokes below 0.5 mm do not print; 0.5 to 1 mm is the working band.
TEST(Profiles, StrokesBelowHalfAMillimetreDoNotPrintWithTheCommonNozzle) {
    const Process process = profile(0.4);
    for (const Mode mode : modes)
        for (const Zone zone : {Zone::side_wall, Zone::slope, Zone::top}) {
            // On top a cut has to be wider still to come out as deep (simulated print).
            const bool cut_on_top = mode == Mode::engrave && zone == Zone::top;
            EXPECT_EQ(process.limit("stroke_width", mode, zone)->hard.value, cut_on_top ? 0.6 : 0.5);
            EXPECT_LE(process.limit("stroke_width", mode, zone)->comfortable.value, 1.0);
        }
}

// One print service's published guideline for extrusion: cut text on vertical faces at least 0.8 mm wide, at most 1 mm
// deep; on horizontal ones at least 1 mm wide; raised on vertical ones at least 1 mm wide, at most 0.6 mm high.
TEST(Profiles, FollowThePublishedGuidelineTable) {
    const Process process = profile(0.4);
    EXPECT_EQ(process.limit("stroke_width", Mode::engrave, Zone::side_wall)->comfortable.value, 0.8);
    EXPECT_EQ(process.limit("stroke_width", Mode::engrave, Zone::top)->comfortable.value, 1.0);
    EXPECT_EQ(process.limit("stroke_width", Mode::raise, Zone::side_wall)->comfortable.value, 1.0);
    EXPECT_EQ(process.limit("depth_max", Mode::engrave, Zone::side_wall)->comfortable.value, 1.0);
    EXPECT_EQ(process.limit("depth_max", Mode::raise, Zone::side_wall)->comfortable.value, 0.6);
}

// Common practice, no source: cut 0.5 mm deep, not shallower; raise about 0.5 mm on a side wall.
TEST(Profiles, HalfAMillimetreIsACleanDepthInBothModes) {
    const Process process = profile(0.4);
    EXPECT_EQ(process.limit("depth_min", Mode::engrave, Zone::side_wall)->comfortable.value, 0.5);
    for (const Mode mode : {Mode::engrave, Mode::raise}) {
        EXPECT_LE(process.limit("depth_min", mode, Zone::side_wall)->comfortable.value, 0.5);
        EXPECT_GE(process.limit("depth_max", mode, Zone::side_wall)->comfortable.value, 0.5);
    }
}

// Common practice, no source: side wall best, then the top cut, then the top raised; the bottom avoided.
TEST(Profiles, RateTheZonesAsTheTradeDoes) {
    for (const Process& process : profiles()) {
        const auto rating = [&](Mode mode, Zone zone) { return process.suitability_of(mode, zone)->figure.value; };
        EXPECT_EQ(rating(Mode::engrave, Zone::side_wall), 1.0);
        EXPECT_GT(rating(Mode::raise, Zone::side_wall), rating(Mode::engrave, Zone::top));
        EXPECT_GT(rating(Mode::engrave, Zone::top), rating(Mode::raise, Zone::top));
        for (const Mode mode : modes)
            for (const Zone zone : {Zone::side_wall, Zone::slope, Zone::top})
                EXPECT_GT(rating(mode, zone), rating(Mode::engrave, Zone::bottom));
        EXPECT_EQ(rating(Mode::raise, Zone::bottom), 0.0);
    }
}

// Common practice, no source: overhangs beyond 45° need support. From memory: a line is 100 to 120 % of the nozzle
// wide, a layer 25 to 75 % of it high.
TEST(Profiles, KeepToTheUsualProportions) {
    for (const Process& process : profiles()) {
        EXPECT_EQ(process.zones.side_wall_up_to.value, 90 + 45);
        const double nozzle = process.nozzle_mm.value;
        EXPECT_GE(process.line_width_mm.value, nozzle);
        EXPECT_LE(process.line_width_mm.value, 1.2 * nozzle);
        EXPECT_GE(process.layer_height_mm.value, 0.25 * nozzle);
        EXPECT_LE(process.layer_height_mm.value, 0.75 * nozzle);
        // Two lines, a front and a back, are the least a wall can be made of.
        EXPECT_NEAR(process.limit("remaining_wall", Mode::engrave, Zone::side_wall)->hard.value,
                    2 * process.line_width_mm.value, 1e-9);
    }
}

TEST(Profiles, WiderNozzlesNeedWiderStrokes) {
    const std::vector<Process> all = profiles();
    for (std::size_t i = 1; i < all.size(); ++i)
        for (const Mode mode : modes)
            for (const Zone zone : zones) {
                const Limit* fine = all[i - 1].limit("stroke_width", mode, zone);
                const Limit* coarse = all[i].limit("stroke_width", mode, zone);
                EXPECT_LT(fine->hard.value, coarse->hard.value);
                EXPECT_LT(fine->comfortable.value, coarse->comfortable.value);
            }
}

TEST(Profiles, ThePublishedSchemaListsTheSameLimits) {
    std::ifstream stream(std::filesystem::path(TOUCHMARK_SOURCE_DIR) / "docs/process.schema.json");
    const auto schema = nlohmann::json::parse(stream);
    std::vector<std::string> published =
        schema.at(nlohmann::json::json_pointer("/properties/limits/items/properties/limit/enum"));
    std::vector<std::string> known;
    for (const LimitKey& row : limit_keys)
        known.emplace_back(row.key);
    EXPECT_EQ(published, known);
    // All but "$schema", and what only extrusion has: nozzle, line width and the simulated print.
    EXPECT_EQ(schema.at("required").size() + 4, schema.at("properties").size());
    std::vector<std::string> figures;
    for (const Printing::Row& row : Printing::rows())
        figures.emplace_back(row.key);
    EXPECT_EQ(schema.at("properties").at("printing").at("required").get<std::vector<std::string>>(), figures);
}

TEST(Profiles, ThePublishedSchemaOfOwnOnesListsTheSameFigures) {
    std::ifstream stream(std::filesystem::path(TOUCHMARK_SOURCE_DIR) / "docs/own-process.schema.json");
    const auto schema = nlohmann::json::parse(stream);
    const auto& figures = schema.at(nlohmann::json::json_pointer("/properties/printing/properties"));
    EXPECT_EQ(figures.size(), Printing::rows().size() + 1); // and the wedge
    for (const Printing::Row& row : Printing::rows())
        EXPECT_TRUE(figures.contains(row.key)) << row.key;
}

TEST(Profiles, EachHasTheFiguresOfASimulatedPrint) {
    for (const Process& process : profiles()) {
        ASSERT_TRUE(process.printing) << process.id;
        for (const Printing::Row& row : Printing::rows())
            EXPECT_FALSE(((*process.printing).*row.figure).source.empty()) << row.key;
        EXPECT_LE(process.printing->bead_spread_mm.value, process.line_width_mm.value / 2);
    }
}

// What is not extrusion has no lines to count in, no layers that sag, no islands that are travelled to, and no light
// through a void that stays full of powder or resin.
TEST(OtherProfiles, LeaveOutWhatOnlyExtrusionKnows) {
    int seen = 0;
    for (const Process& process : everything()) {
        if (extrudes(process)) continue;
        ++seen;
        EXPECT_FALSE(process.printing) << process.id;
        EXPECT_EQ(process.line_width_mm.value, 0) << process.id;
        for (const Mode mode : modes)
            for (const Zone zone : zones) {
                for (const char* key :
                     {"code_module", "islands", "island_area", "layer_remainder", "light", "contrast"})
                    EXPECT_EQ(process.limit(key, mode, zone), nullptr) << process.id << " " << key;
                for (const char* key : {"stroke_width", "gap_width", "edge_margin", "remaining_wall", "mark_gap",
                                        "bridge_width", "suitability", "stretch", "reading_angle", "clear_distance"})
                    EXPECT_NE(process.limit(key, mode, zone), nullptr) << process.id << " " << key;
                if (mode == Mode::hidden) {
                    EXPECT_EQ(process.suitability_of(mode, zone)->figure.value, 0) << process.id;
                }
            }
    }
    EXPECT_EQ(seen, 3);
}

// Xometry, The ultimate guide to 3D printed text (2016): sintered nylon text is clear down to 0.43 mm and keeps to the
// 0.6 mm wall and gap rules. HLH, SLS 3D printing design tips (2019): walls 0.7 mm, 1 mm preferred; details 1 mm deep.
TEST(OtherProfiles, PowderFollowsThePublishedGuidelines) {
    const Process powder = of("powder-pa12");
    EXPECT_EQ(powder.limit("stroke_width", Mode::engrave, Zone::top)->hard.value, 0.43);
    EXPECT_EQ(powder.limit("stroke_width", Mode::engrave, Zone::top)->comfortable.value, 0.6);
    EXPECT_EQ(powder.limit("gap_width", Mode::raise, Zone::side_wall)->comfortable.value, 0.6);
    EXPECT_EQ(powder.limit("remaining_wall", Mode::engrave, Zone::top)->hard.value, 0.7);
    EXPECT_EQ(powder.limit("remaining_wall", Mode::engrave, Zone::top)->comfortable.value, 1.0);
    EXPECT_EQ(powder.limit("depth_min", Mode::engrave, Zone::top)->comfortable.value, 1.0);
    // Powder carries the part: no place is worse than half as good as another for want of support.
    for (const Zone zone : zones)
        EXPECT_GE(powder.suitability_of(Mode::engrave, zone)->figure.value, 0.5);
}

// Addema, Recommendations – SLA: engraved details at least 0.4 mm wide and deep, raised at least 0.1 mm high, overhangs
// need support below 19° from level. Hycube Works, 3D design guidelines: text at least 0.5 mm wide, on vertical faces
// engraved less than 0.8 mm and raised less than 0.6 mm, on horizontal ones less than 2 and 3 mm.
TEST(OtherProfiles, TheVatFollowsThePublishedGuidelines) {
    const Process vat = of("vat-resin");
    EXPECT_EQ(vat.limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.value, 0.4);
    EXPECT_EQ(vat.limit("stroke_width", Mode::raise, Zone::side_wall)->comfortable.value, 0.5);
    EXPECT_EQ(vat.limit("depth_min", Mode::engrave, Zone::top)->hard.value, 0.4);
    EXPECT_EQ(vat.limit("depth_min", Mode::raise, Zone::top)->hard.value, 0.1);
    EXPECT_EQ(vat.limit("depth_max", Mode::engrave, Zone::side_wall)->comfortable.value, 0.8);
    EXPECT_EQ(vat.limit("depth_max", Mode::raise, Zone::side_wall)->comfortable.value, 0.6);
    EXPECT_EQ(vat.limit("depth_max", Mode::engrave, Zone::top)->comfortable.value, 2.0);
    EXPECT_EQ(vat.limit("depth_max", Mode::raise, Zone::top)->comfortable.value, 3.0);
    EXPECT_EQ(vat.zones.side_wall_up_to.value, 180 - 19);
    EXPECT_LT(vat.suitability_of(Mode::engrave, Zone::overhang)->figure.value, 0.4);
}

// Protolabs, design guidelines for direct metal laser sintering: features of 0.381 mm, layers of 30 µm; overhangs
// beyond 0.5 mm and faces flatter than 45° need support. Materialise, stainless steel: text with lines of 0.7 mm,
// 0.4 mm high and deep. 3D Formtech: walls of 1 mm, vertical ones of 0.4 mm.
TEST(OtherProfiles, MetalFollowsThePublishedGuidelines) {
    const Process metal = of("powder-metal");
    EXPECT_NEAR(metal.limit("stroke_width", Mode::engrave, Zone::top)->hard.value, 0.381, 0.02);
    EXPECT_EQ(metal.limit("stroke_width", Mode::engrave, Zone::top)->comfortable.value, 0.7);
    EXPECT_EQ(metal.limit("depth_min", Mode::raise, Zone::top)->comfortable.value, 0.4);
    EXPECT_EQ(metal.limit("ledge", Mode::raise, Zone::side_wall)->hard.value, 0.5);
    EXPECT_EQ(metal.limit("remaining_wall", Mode::engrave, Zone::top)->comfortable.value, 1.0);
    EXPECT_EQ(metal.layer_height_mm.value, 0.03);
    EXPECT_EQ(metal.zones.side_wall_up_to.value, 90 + 45);
    EXPECT_LT(metal.suitability_of(Mode::raise, Zone::overhang)->figure.value, 0.4);
}

} // namespace
} // namespace touchmark::process
