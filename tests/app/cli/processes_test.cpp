// SPDX-License-Identifier: MIT
#include "core/process/adjustment.h"
#include "tests/app/cli/program.h"

#include <cstdlib>
#include <fstream>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using nlohmann::json;
using testing::HasSubstr;

/// A folder for the user's data while a test lasts.
class ProcessesCommand : public testing::Test {
protected:
    ProcessesCommand() : scratch_(scratch_folder()), data_(scratch_ / "data") {
        ::setenv("XDG_DATA_HOME", data_.c_str(), 1);
    }
    ~ProcessesCommand() override { ::setenv("XDG_DATA_HOME", "/nonexistent", 1); }
    [[nodiscard]] std::filesystem::path folder() const { return data_ / "touchmark" / "processes"; }
    void own(double spread) const {
        const std::vector<process::Adjustment> figures{
            {"printing.bead_spread", {spread, "fitted to our strip of March", false}}};
        ASSERT_TRUE(process::save_profile(folder(), "fff-0.4-petg", "Shop PETG", figures, {}, ""));
    }
    [[nodiscard]] std::filesystem::path demo_job(const std::string& process) const {
        const std::filesystem::path demo = std::filesystem::path(TOUCHMARK_RESOURCES) / "demo";
        std::ifstream stream(demo / "sensor-bracket.job.json");
        json job = json::parse(stream);
        job["process"] = process;
        job["part"]["file"] = (demo / "sensor-bracket.step").string();
        const std::filesystem::path file = scratch_ / "demo.job.json";
        std::ofstream(file) << job.dump();
        return file;
    }
    std::filesystem::path scratch_, data_;
};

TEST_F(ProcessesCommand, ListsEachWithWhereItComesFrom) {
    own(0.06);
    const json list = touchmark_cli({"processes", "--json"}).json().at("processes");
    std::map<std::string, json> by_id;
    for (const json& one : list)
        by_id[one.at("id")] = one;
    EXPECT_EQ(by_id.size(), 4u + 20 + 3 + 1);
    EXPECT_EQ(by_id.at("fff-0.4").at("origin"), "built_in");
    EXPECT_EQ(by_id.at("fff-0.4-petg").at("origin"), "composed");
    EXPECT_EQ(by_id.at("fff-0.4-petg").at("based_on"), "fff-0.4");
    EXPECT_EQ(by_id.at("own-shop-petg").at("origin"), "own");
    EXPECT_EQ(by_id.at("own-shop-petg").at("based_on"), "fff-0.4-petg");
    EXPECT_EQ(by_id.at("own-shop-petg").at("file"), (folder() / "own-shop-petg.json").string());
    EXPECT_FALSE(by_id.at("powder-pa12").contains("nozzle_mm"));
    EXPECT_EQ(by_id.at("powder-pa12").at("simulated"), false);
    EXPECT_THAT(touchmark_cli({"processes"}).out,
                HasSubstr("own-shop-petg  Shop PETG  (your own, on fff-0.4-petg: " + folder().string()));
}

TEST_F(ProcessesCommand, ShowsEveryFigureWithItsSource) {
    own(0.06);
    const json shown = touchmark_cli({"processes", "--show", "own-shop-petg", "--json"}).json();
    const json& figures = shown.at("figures");
    EXPECT_EQ(figures.at("printing.bead_spread").at("value"), 0.06);
    EXPECT_EQ(figures.at("printing.bead_spread").at("unit"), "mm");
    EXPECT_EQ(figures.at("printing.bead_spread").at("source"), "fitted to our strip of March");
    EXPECT_EQ(figures.at("printing.bead_spread").at("own"), true);
    EXPECT_EQ(figures.at("printing.bridge_sag").at("value"), 0.045);
    EXPECT_FALSE(figures.at("printing.bridge_sag").contains("own"));
    EXPECT_EQ(figures.at("limits.stroke_width.engrave.side_wall.hard").at("value"), 0.5);
    const std::string lines = touchmark_cli({"processes", "--show", "own-shop-petg"}).out;
    EXPECT_THAT(lines, HasSubstr("printing.bead_spread  0.06 mm  (your own) fitted to our strip of March"));
    EXPECT_THAT(touchmark_cli({"processes", "--show", "vat-resin"}).out, HasSubstr("extrusion only"));
    const Answer none = touchmark_cli({"processes", "--show", "fff-9"});
    EXPECT_EQ(none.exit, 2);
    EXPECT_THAT(none.err, HasSubstr("There is no process 'fff-9'"));
}

TEST_F(ProcessesCommand, AFileThatCannotBeUsedIsNamedAndStopsNothing) {
    own(0.06);
    std::ofstream(folder() / "own-broken.json") << "{";
    const Answer answer = touchmark_cli({"processes", "--json"});
    EXPECT_EQ(answer.exit, 0);
    EXPECT_THAT(answer.err, HasSubstr("Left out " + (folder() / "own-broken.json").string()));
    EXPECT_EQ(answer.json().at("left_out").size(), 1u);
    const Answer check = touchmark_cli({"check", demo_job("own-broken").string()});
    EXPECT_EQ(check.exit, 3);
    EXPECT_THAT(check.err, HasSubstr("own-broken.json: Not well-formed JSON"));
    EXPECT_LE(touchmark_cli({"check", demo_job("fff-0.4").string()}).exit, 1);
}

TEST_F(ProcessesCommand, AJobIsJudgedByAnOwnProfile) {
    const std::vector<process::Adjustment> figures{
        {"limits.stroke_width.engrave.side_wall.hard", {3, "a shop that is very careful", false}},
        {"limits.stroke_width.engrave.side_wall.comfortable", {4, "a shop that is very careful", false}}};
    ASSERT_TRUE(process::save_profile(folder(), "fff-0.4", "Careful", figures, {}, ""));
    const Answer check = touchmark_cli({"check", demo_job("own-careful").string()});
    EXPECT_EQ(check.exit, 1) << check.err;
    EXPECT_THAT(check.out, HasSubstr("3.00 mm prints"));
}

TEST_F(ProcessesCommand, WhatIsNotExtrusionSaysThatItIsNotPrintedInSimulation) {
    const Answer simulate = touchmark_cli({"simulate", demo_job("powder-metal").string()});
    EXPECT_EQ(simulate.exit, 4);
    EXPECT_THAT(simulate.err, HasSubstr("for extrusion only"));
    const Answer cost = touchmark_cli({"run-cost", demo_job("powder-metal").string(), "--units", "100"});
    EXPECT_NE(cost.exit, 0);
    EXPECT_THAT(cost.err, HasSubstr("for extrusion only"));
    EXPECT_LE(touchmark_cli({"check", demo_job("powder-metal").string()}).exit, 1);
}

} // namespace
} // namespace touchmark::test
