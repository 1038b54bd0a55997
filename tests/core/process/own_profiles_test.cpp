// SPDX-License-Identifier: MIT
#include "core/process/extrusion.h"
#include "core/process/figures.h"
#include "core/process/material.h"
#include "core/process/profiles.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <set>
#include <unistd.h>

namespace touchmark::process {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

const std::filesystem::path resources = TOUCHMARK_RESOURCES;

const Profiles& built_in() {
    static const Profiles profiles = load_built_in(resources).value();
    return profiles;
}
const Process& process(const std::string& id) {
    const Profile* found = built_in().find(id);
    if (!found) throw std::runtime_error("no profile " + id);
    return found->process;
}

class OwnProfiles : public testing::Test {
protected:
    OwnProfiles()
        : folder_(std::filesystem::temp_directory_path() /
                  ("touchmark_own_profiles_" + std::to_string(::getpid()) + "_" +
                   testing::UnitTest::GetInstance()->current_test_info()->name())) {
        std::filesystem::create_directories(folder_);
    }
    ~OwnProfiles() override {
        std::error_code ignored;
        std::filesystem::remove_all(folder_, ignored);
    }
    void write(const std::string& name, const std::string& text) { std::ofstream(folder_ / name) << text; }
    /// One that stands on `base` with another line width.
    void write_on(const std::string& name, const std::string& base, double width = 0.5) {
        const std::vector<Adjustment> figures{{"line_width", {width, "measured", false}}};
        write(name, profile_json(base, name, figures, {}, "").value());
    }
    [[nodiscard]] Profiles loaded() const {
        Profiles profiles = built_in();
        add_own(profiles, folder_);
        return profiles;
    }
    [[nodiscard]] static std::map<std::string, std::string> why(const Profiles& profiles) {
        std::map<std::string, std::string> out;
        for (const LeftOut& one : profiles.left_out)
            out[one.file.filename().string()] = one.error.code;
        return out;
    }
    std::filesystem::path folder_;
};

TEST(BuiltIn, TheFourPlainOnesAreAsTheyWereAndEachComesWithEachMaterial) {
    std::vector<std::string> ids;
    for (const Profile& profile : built_in().all)
        ids.push_back(profile.process.id);
    EXPECT_EQ(ids.size(), 4u + 4 * 5 + 3);
    EXPECT_EQ(std::set<std::string>(ids.begin(), ids.end()).size(), ids.size());
    for (const char* nozzle : {"0.25", "0.4", "0.6", "0.8"}) {
        const std::string plain = std::string("fff-") + nozzle;
        EXPECT_EQ(built_in().find(plain)->origin, Origin::built_in);
        const Process alone = load_process(resources / "processes" / (plain + ".json")).value();
        Digester one, other;
        add(one, alone);
        add(other, process(plain));
        EXPECT_EQ(one.digest(), other.digest());
        for (const char* material : {"pla", "petg", "abs", "pa", "tpu"}) {
            const Profile* composed = built_in().find(plain + "-" + material);
            ASSERT_NE(composed, nullptr) << plain << " " << material;
            EXPECT_EQ(composed->origin, Origin::composed);
            EXPECT_EQ(composed->based_on, plain);
            EXPECT_EQ(composed->material, material);
            EXPECT_THAT(composed->process.title, HasSubstr(process(plain).title));
            EXPECT_EQ(composed->process.nozzle_mm.value, process(plain).nozzle_mm.value);
        }
    }
    EXPECT_TRUE(built_in().left_out.empty());
}

// Common practice, no source: PETG, nylon and TPU string more than PLA; ABS and nylon lift off the plate; what is
// printed with less air (fan by material as in fixmyprint3d.com, How to configure cooling) sags more; TPU is run slower
// than any other.
TEST(Materials, ChangeWhatTheTradeSaysInThatDirection) {
    for (const char* nozzle : {"0.25", "0.4", "0.6", "0.8"}) {
        const auto with = [&](const char* material) -> const Process& {
            return process(std::string("fff-") + nozzle + "-" + material);
        };
        const auto islands = [](const Process& one) {
            return one.limit("islands", Mode::raise, Zone::top)->hard.value;
        };
        for (const char* strings : {"petg", "pa", "tpu"})
            EXPECT_LT(islands(with(strings)), islands(with("pla"))) << strings;
        EXPECT_LT(islands(with("tpu")), islands(with("petg")));
        const auto holds = [](const Process& one) {
            return one.limit("island_area", Mode::raise, Zone::bottom)->hard.value;
        };
        for (const char* lifts : {"abs", "pa"}) {
            EXPECT_GT(holds(with(lifts)), holds(with("pla"))) << lifts;
            EXPECT_GT(with(lifts).printing->least_island_mm2.value, with("pla").printing->least_island_mm2.value);
            EXPECT_GT(with(lifts).limit("edge_margin", Mode::engrave, Zone::bottom)->comfortable.value,
                      with("pla").limit("edge_margin", Mode::engrave, Zone::bottom)->comfortable.value);
            EXPECT_EQ(with(lifts).limit("edge_margin", Mode::engrave, Zone::top)->comfortable.value,
                      with("pla").limit("edge_margin", Mode::engrave, Zone::top)->comfortable.value);
        }
        for (const char* sags : {"petg", "abs", "pa", "tpu"}) {
            EXPECT_GT(with(sags).printing->bridge_sag.value, with("pla").printing->bridge_sag.value) << sags;
            EXPECT_GT(with(sags).printing->least_layer_s.value, with("pla").printing->least_layer_s.value) << sags;
        }
        for (const char* other : {"pla", "petg", "abs", "pa"})
            EXPECT_LT(with("tpu").printing->speed_mm_s.value, with(other).printing->speed_mm_s.value);
        // The simulated print and the limit that stands for it say the same of an island on the plate.
        for (const char* material : {"pla", "petg", "abs", "pa", "tpu"})
            EXPECT_NEAR(holds(with(material)), with(material).printing->least_island_mm2.value, 0.01) << material;
    }
}

TEST(Materials, SayWhatTheyMultipliedAndWhy) {
    const Sourced& sag = process("fff-0.4-petg").printing->bridge_sag;
    EXPECT_DOUBLE_EQ(sag.value, 0.045);
    EXPECT_TRUE(sag.assumed);
    EXPECT_THAT(sag.source, testing::StartsWith("assumed: 1.5 × 0.03, "));
    EXPECT_THAT(sag.source, HasSubstr("0.03 in fff-0.4: assumed: 0.3 mm over a span of 10 mm"));
    for (const Profile& profile : built_in().all) {
        if (profile.origin != Origin::composed) continue;
        for (const std::string& key : figure_keys(profile.process)) {
            const Sourced& now = *figure_of(profile.process, key);
            const std::optional<Sourced> was = counted(process(profile.based_on), key);
            ASSERT_TRUE(was);
            if (now.source == was->source) continue;
            EXPECT_THAT(now.source, HasSubstr(" × ")) << key;
            EXPECT_EQ(now.assumed, now.source.starts_with("assumed: ")) << key;
            EXPECT_TRUE(now.assumed || !was->assumed) << key;
        }
    }
}

TEST(Materials, TakeAValueInsteadOfAFactor) {
    const auto material =
        parse_material(R"({"format": "touchmark material", "version": 1, "title": "X", "material": "x",
        "figures": [{"figure": "printing.speed", "value": 25, "unit": "mm/s", "source": "measured"},
                    {"figure": "limits.stroke_width.raise.any.hard", "factor": 0.9, "source": "measured"}]})",
                       "x");
    ASSERT_TRUE(material) << material.error().message;
    const auto made = with_material(process("fff-0.4"), *material);
    ASSERT_TRUE(made) << made.error().message;
    EXPECT_EQ(made->id, "fff-0.4-x");
    EXPECT_EQ(made->printing->speed_mm_s.value, 25);
    EXPECT_EQ(made->printing->speed_mm_s.source, "measured");
    EXPECT_FALSE(made->printing->speed_mm_s.assumed);
    EXPECT_DOUBLE_EQ(made->limit("stroke_width", Mode::raise, Zone::slope)->hard.value, 0.45);
}

TEST(Materials, AreReadStrictly) {
    const auto message = [](const std::string& figure) {
        const auto material = parse_material(R"({"format": "touchmark material", "version": 1, "title": "X",
            "material": "x", "figures": [)" + figure +
                                                 "]}",
                                             "x");
        EXPECT_FALSE(material) << figure;
        return material ? "" : material.error().message;
    };
    EXPECT_THAT(message(R"({"figure": "printing.sped", "factor": 1, "source": "s"})"),
                HasSubstr("no profile can have"));
    EXPECT_THAT(message(R"({"figure": "printing.speed", "factor": 1, "value": 1, "source": "s"})"),
                HasSubstr("unknown key \"value\""));
    EXPECT_THAT(message(R"({"figure": "printing.speed", "factor": 0, "source": "s"})"), HasSubstr("figures[0].factor"));
    EXPECT_THAT(message(R"({"figure": "printing.speed", "value": 9, "unit": "mm", "source": "s"})"),
                HasSubstr("must be in \"mm/s\""));
    EXPECT_THAT(message(R"({"figure": "printing.speed", "value": 9, "source": "s"})"),
                HasSubstr("must be in \"mm/s\""));
    EXPECT_THAT(message(R"({"figure": "printing.speed", "factor": 2, "source": " "})"), HasSubstr("source is empty"));
    EXPECT_THAT(message(R"({"figure": "printing.speed", "factor": 2, "source": "s"},
                           {"figure": "printing.speed", "factor": 3, "source": "s"})"),
                HasSubstr("figures[1] is given twice"));
    EXPECT_FALSE(parse_material(R"({"format": "touchmark process", "version": 1, "title": "X", "material": "x",
                                    "figures": []})",
                                "x"));
}

TEST_F(OwnProfiles, StandBesideTheBuiltInOnes) {
    write_on("own-a.json", "fff-0.4");
    write_on("own-b.json", "fff-0.6-petg");
    write("notes.txt", "not a profile");
    write(".own-c.json.tmp.json", "{ just being written");
    const Profiles profiles = loaded();
    EXPECT_TRUE(profiles.left_out.empty());
    ASSERT_EQ(profiles.all.size(), built_in().all.size() + 2);
    const Profile* a = profiles.find("own-a");
    ASSERT_NE(a, nullptr);
    EXPECT_EQ(a->origin, Origin::own);
    EXPECT_EQ(a->based_on, "fff-0.4");
    EXPECT_EQ(a->process.line_width_mm.value, 0.5);
    EXPECT_EQ(a->process.layer_height_mm.value, process("fff-0.4").layer_height_mm.value);
    ASSERT_TRUE(a->differs);
    EXPECT_EQ(a->differs->figures.size(), 1u);
    EXPECT_EQ(profiles.find("own-b")->process.printing->bridge_sag.value,
              process("fff-0.6-petg").printing->bridge_sag.value);
}

TEST_F(OwnProfiles, MayStandOnEachOtherWhateverTheirOrder) {
    write_on("own-1.json", "own-2", 0.51);
    write_on("own-2.json", "own-3", 0.52);
    write("own-3.json",
          profile_json("fff-0.4", "Third", std::vector<Adjustment>{{"layer_height", {0.1, "measured", false}}}, {}, "")
              .value());
    const Profiles profiles = loaded();
    EXPECT_TRUE(profiles.left_out.empty());
    ASSERT_NE(profiles.find("own-1"), nullptr);
    EXPECT_EQ(profiles.find("own-1")->process.line_width_mm.value, 0.51);
    EXPECT_EQ(profiles.find("own-1")->process.layer_height_mm.value, 0.1);
}

TEST_F(OwnProfiles, AWholeProfileIsTakenToo) {
    std::filesystem::copy_file(resources / "processes/fff-0.8.json", folder_ / "shop-0.8.json");
    const Profiles profiles = loaded();
    ASSERT_NE(profiles.find("shop-0.8"), nullptr);
    EXPECT_EQ(profiles.find("shop-0.8")->origin, Origin::own);
    EXPECT_FALSE(profiles.find("shop-0.8")->differs);
}

TEST_F(OwnProfiles, WhatCannotBeUsedIsNamedAndLeftOut) {
    write("broken.json", "{");
    write("fff-0.4.json", "{}");
    write_on("own-a.json", "own-b");
    write_on("own-b.json", "own-a");
    write_on("own-itself.json", "own-itself");
    write_on("own-lost.json", "fff-0.5");
    write_on("own-on-lost.json", "own-lost");
    write_on("own-on-circle.json", "own-a");
    write("own-odd.json",
          profile_json("fff-0.4", "Odd",
                       std::vector<Adjustment>{{"limits.stroke_width.any.any.hard", {9, "measured", false}}}, {}, "")
              .value());
    write("own-null.json", "null");
    write("own-type.json", R"({"based_on": 7})");
    std::filesystem::create_directory(folder_ / "folder.json");
    write_on("own-good.json", "fff-0.4");
    const Profiles profiles = loaded();
    EXPECT_EQ(profiles.all.size(), built_in().all.size() + 1);
    EXPECT_NE(profiles.find("own-good"), nullptr);
    EXPECT_EQ(profiles.find("fff-0.4")->origin, Origin::built_in);
    const std::map<std::string, std::string> expected{
        {"broken.json", "process.malformed"},    {"fff-0.4.json", "process.taken"},
        {"own-a.json", "process.circle"},        {"own-b.json", "process.circle"},
        {"own-itself.json", "process.circle"},   {"own-lost.json", "process.no_base"},
        {"own-on-lost.json", "process.no_base"}, {"own-on-circle.json", "process.no_base"},
        {"own-odd.json", "process.malformed"},   {"own-null.json", "process.malformed"},
        {"own-type.json", "process.malformed"},  {"folder.json", "file.not_readable"}};
    EXPECT_EQ(why(profiles), expected);
}

TEST_F(OwnProfiles, AFolderThatIsNotThereHoldsNone) {
    Profiles profiles = built_in();
    add_own(profiles, folder_ / "no such folder");
    EXPECT_EQ(profiles.all.size(), built_in().all.size());
    EXPECT_TRUE(profiles.left_out.empty());
}

} // namespace
} // namespace touchmark::process
