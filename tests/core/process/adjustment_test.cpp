// SPDX-License-Identifier: MIT
#include "core/process/adjustment.h"
#include "core/process/figures.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sys/stat.h>
#include <unistd.h>

namespace touchmark::process {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

const std::filesystem::path built_in = std::filesystem::path(TOUCHMARK_RESOURCES) / "processes";

const Process& base() {
    static const Process process = load_process(built_in / "fff-0.4.json").value();
    return process;
}
Sourced figure(double value) {
    return {value, "measured: ten strips", false};
}
Result<Process> with(std::vector<Adjustment> figures) {
    return adjusted(base(), figures, "own", "Own");
}
Digest digest_of(const Process& process) {
    Digester digester;
    add(digester, process);
    return digester.digest();
}
Error error_of(std::vector<Adjustment> figures) {
    const auto process = with(std::move(figures));
    EXPECT_FALSE(process);
    return process ? Error{} : process.error();
}

class Folder {
public:
    Folder()
        : path_(std::filesystem::temp_directory_path() /
                ("touchmark_own_" + std::to_string(::getpid()) + "_" +
                 testing::UnitTest::GetInstance()->current_test_info()->name())) {}
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

Derivation strip() {
    return {.title = "Shop PETG, 0.4",
            .based_on = "fff-0.4",
            .material = "PETG, black",
            .figures = {{"line_width", figure(0.45)},
                        {"printing.bead_spread", figure(0.07)},
                        {"printing.supported", {0.4, "assumed: it sags", true}},
                        {"zones.top_up_to", figure(15)},
                        {"suitability.engrave.top", figure(0.9)},
                        {"limits.stroke_width.engrave.side_wall.hard", figure(0.4)},
                        {"limits.stroke_width.any.any.comfortable", figure(0.8)},
                        {"limits.code_module.hidden.bottom.comfortable", figure(2.5)}},
            .wedge = {{0.4, -0.3}, {0.8, -0.7}},
            .wedge_source = "strip of March"};
}

TEST(Figures, EveryFigureOfAProfileHasAKeyThatFindsIt) {
    Process process = base();
    const auto keys = figure_keys(process);
    EXPECT_EQ(std::set<std::string>(keys.begin(), keys.end()).size(), keys.size());
    EXPECT_EQ(keys.size(), 4 + Printing::rows().size() + 4 + process.suitability.size() + 2 * process.limits.size());
    std::set<const Sourced*> found;
    for (const std::string& key : keys) {
        ASSERT_TRUE(kind_of(key)) << key;
        const Sourced* one = figure_of(std::as_const(process), key);
        ASSERT_NE(one, nullptr) << key;
        EXPECT_GE(one->value, kind_of(key)->least) << key;
        EXPECT_LE(one->value, kind_of(key)->most) << key;
        EXPECT_FALSE(words_of(key).what.empty()) << key;
        EXPECT_FALSE(words_of(key).group.empty()) << key;
        found.insert(one);
    }
    EXPECT_EQ(found.size(), keys.size());
}

TEST(Figures, KnowsNoKeyThatNoProfileCanHave) {
    for (const char* key :
         {"", ".", "nozzel", "printing", "printing.", "printing.speed.", "printing.wedge", "zones.top",
          "suitability.engrave", "suitability.any.top", "limits.stroke_width.engrave.side_wall",
          "limits.stroke_width.engrave.side_wall.soft", "limits.stroke.engrave.side_wall.hard",
          "limits.stroke_width..side_wall.hard", "limits.stroke_width.engrave.wall.hard"})
        EXPECT_FALSE(kind_of(key)) << key;
}

TEST(Figures, SayInWordsWhatALimitDoes) {
    const FigureWords words = words_of("limits.stroke_width.engrave.side_wall.hard");
    EXPECT_EQ(words.what, "Width of a stroke");
    EXPECT_EQ(words.where, "Engrave, side wall");
    EXPECT_EQ(words.sense, "will not print below");
    EXPECT_EQ(words_of("limits.depth_max.any.top.comfortable").sense, "at risk above");
    EXPECT_EQ(words_of("limits.depth_max.any.top.comfortable").where, "Top");
    EXPECT_EQ(words_of("limits.islands.any.any.comfortable").sense, "advice above");
    EXPECT_EQ(words_of("limits.islands.any.any.comfortable").where, "");
}

TEST(Adjusted, PutsEachFigureInItsPlaceAndLeavesTheRest) {
    const auto process = with({{"line_width", figure(0.45)},
                               {"printing.bead_spread", figure(0.07)},
                               {"zones.top_up_to", figure(15)},
                               {"suitability.engrave.top", figure(0.9)},
                               {"limits.stroke_width.engrave.side_wall.hard", figure(0.4)}});
    ASSERT_TRUE(process) << process.error().message;
    EXPECT_EQ(process->id, "own");
    EXPECT_EQ(process->title, "Own");
    EXPECT_EQ(process->line_width_mm.value, 0.45);
    EXPECT_EQ(process->line_width_mm.source, "measured: ten strips");
    EXPECT_FALSE(process->line_width_mm.assumed);
    EXPECT_EQ(process->printing->bead_spread_mm.value, 0.07);
    EXPECT_EQ(process->zones.top_up_to.value, 15);
    EXPECT_EQ(process->suitability_of(Mode::engrave, Zone::top)->figure.value, 0.9);
    EXPECT_EQ(process->suitability_of(Mode::engrave, Zone::top)->reason, "measured: ten strips");
    EXPECT_EQ(process->limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.value, 0.4);
    for (const std::string& key : figure_keys(base()))
        if (const Sourced* was = figure_of(base(), key); figure_of(*process, key)->source != "measured: ten strips") {
            EXPECT_EQ(figure_of(*process, key)->value, was->value) << key;
        }
    const auto same = adjusted(base(), {}, base().id, base().title);
    EXPECT_EQ(digest_of(*same), digest_of(base()));
}

TEST(Adjusted, GivesAModeAndZoneALimitOfItsOwn) {
    ASSERT_EQ(base().limit("edge_margin", Mode::raise, Zone::top)->hard.value, 0.42);
    const auto process = with({{"limits.edge_margin.raise.top.hard", figure(0.6)}});
    ASSERT_TRUE(process) << process.error().message;
    EXPECT_EQ(process->limit("edge_margin", Mode::raise, Zone::top)->hard.value, 0.6);
    EXPECT_EQ(process->limit("edge_margin", Mode::raise, Zone::top)->comfortable.value, 0.84) << "as counted so far";
    EXPECT_EQ(process->limit("edge_margin", Mode::raise, Zone::slope)->hard.value, 0.42);
    EXPECT_EQ(process->limit("edge_margin", Mode::engrave, Zone::top)->hard.value, 0.42);
    // The narrower entry that the base has keeps counting before a wider new one.
    const auto wide = with({{"limits.stroke_width.any.side_wall.hard", figure(0.3)}});
    ASSERT_TRUE(wide);
    EXPECT_EQ(wide->limit("stroke_width", Mode::engrave, Zone::side_wall)->hard.value, 0.5);
    EXPECT_EQ(wide->limit("stroke_width", Mode::through, Zone::side_wall)->hard.value, 0.3);
}

TEST(Adjusted, AddsALimitThatTheBaseLeavesOutOnlyWhole) {
    Process bare = base();
    std::erase_if(bare.limits, [](const Limit& limit) { return limit.key == "islands"; });
    const std::vector<Adjustment> half{{"limits.islands.any.any.hard", figure(60)}};
    EXPECT_EQ(adjusted(bare, half, "own", "Own").error().code, "process.unknown_figure");
    const std::vector<Adjustment> whole{{"limits.islands.any.any.hard", figure(60)},
                                        {"limits.islands.any.any.comfortable", figure(20)}};
    const auto process = adjusted(bare, whole, "own", "Own");
    ASSERT_TRUE(process) << process.error().message;
    EXPECT_EQ(process->limit("islands", Mode::raise, Zone::top)->hard.value, 60);
    EXPECT_EQ(process->limit("islands", Mode::raise, Zone::top)->comfortable.value, 20);
    EXPECT_EQ(process->limit("islands", Mode::raise, Zone::top)->unit, "");
}

TEST(Adjusted, RefusesWhatCannotBe) {
    EXPECT_EQ(error_of({{"printing.bead_spred", figure(0.1)}}).code, "process.unknown_figure");
    EXPECT_EQ(error_of({{"line_width", figure(0)}}).code, "process.range");
    EXPECT_EQ(error_of({{"line_width", figure(10.01)}}).code, "process.range");
    EXPECT_EQ(error_of({{"line_width", figure(std::nan(""))}}).code, "process.range");
    EXPECT_EQ(error_of({{"line_width", {0.4, " ", false}}}).code, "process.no_source");
    EXPECT_EQ(error_of({{"line_width", figure(0.4)}, {"line_width", figure(0.5)}}).code, "process.malformed");
    EXPECT_THAT(error_of({{"limits.stroke_width.any.any.hard", figure(1.1)}}).message,
                HasSubstr("limits.stroke_width.any.any.hard is 1.1, and \"comfortable\" is 1"));
    EXPECT_THAT(error_of({{"zones.top_up_to", figure(71)}}).message, HasSubstr("not in order"));
    Process bare = base();
    bare.printing.reset();
    const std::vector<Adjustment> speed{{"printing.speed", figure(40)}};
    EXPECT_EQ(adjusted(bare, speed, "own", "Own").error().code, "process.unknown_figure");
    EXPECT_EQ(derived(bare,
                      {.title = "t",
                       .based_on = "",
                       .material = {},
                       .figures = {},
                       .wedge = {{1, -1}, {2, -2}},
                       .wedge_source = "s"},
                      "own")
                  .error()
                  .code,
              "process.unknown_figure");
}

TEST(Derivation, IsReadBackAsItWasWritten) {
    const Derivation given = strip();
    const auto text = profile_json(given);
    ASSERT_TRUE(text) << text.error().message;
    const auto back = parse_derivation(*text);
    ASSERT_TRUE(back) << back.error().message;
    EXPECT_EQ(back->title, given.title);
    EXPECT_EQ(back->based_on, given.based_on);
    EXPECT_EQ(back->material, given.material);
    EXPECT_EQ(back->wedge_source, given.wedge_source);
    ASSERT_EQ(back->wedge.size(), 2u);
    EXPECT_EQ(back->wedge[1].log_transmission, -0.7);
    const auto before = derived(base(), given, "own"), after = derived(base(), *back, "own");
    ASSERT_TRUE(before) << before.error().message;
    ASSERT_TRUE(after) << after.error().message;
    EXPECT_EQ(digest_of(*before), digest_of(*after));
    EXPECT_EQ(after->material, "PETG, black");
    EXPECT_EQ(after->printing->wedge.size(), 2u);
    EXPECT_EQ(after->limit("code_module", Mode::hidden, Zone::bottom)->comfortable.value, 2.5);
    EXPECT_TRUE(after->printing->supported.assumed);
}

TEST(Derivation, CarriesEveryFigureOfAProfileThroughItsFile) {
    std::vector<Adjustment> figures;
    for (const std::string& key : figure_keys(base())) {
        figures.push_back({key, *figure_of(base(), key)});
        figures.back().figure.source += " (moved)";
    }
    const auto text = profile_json("fff-0.4", "All", figures, {}, "");
    ASSERT_TRUE(text) << text.error().message;
    const auto back = parse_derivation(*text);
    ASSERT_TRUE(back) << back.error().message;
    EXPECT_EQ(back->figures.size(), figures.size());
    const auto process = derived(base(), *back, "own");
    ASSERT_TRUE(process) << process.error().message;
    for (const std::string& key : figure_keys(base())) {
        EXPECT_EQ(figure_of(*process, key)->value, figure_of(base(), key)->value) << key;
        EXPECT_THAT(figure_of(*process, key)->source, testing::EndsWith(" (moved)")) << key;
        EXPECT_EQ(figure_of(*process, key)->assumed, figure_of(base(), key)->assumed) << key;
    }
}

TEST(Derivation, NamesThePlaceOfWhatIsWrong) {
    const auto message = [](const char* members) {
        const auto read =
            parse_derivation(std::string(R"({"format": "touchmark process", "version": 1, "title": "t",)") +
                             R"("based_on": "fff-0.4")" + members + "}");
        EXPECT_FALSE(read) << members;
        return read ? "" : read.error().message;
    };
    EXPECT_EQ(message(R"(, "line_with": 1)"), "The file has an unknown key \"line_with\".");
    EXPECT_EQ(message(R"(, "line_width": {"value": 0.4, "unit": "inch", "source": "s"})"),
              "line_width.unit is \"inch\"; it must be \"mm\".");
    EXPECT_EQ(message(R"(, "printing": {"speed": {"value": 0, "unit": "mm/s", "source": "s"}})"),
              "printing.speed.value is 0; it must be from 0.1 to 2000.");
    EXPECT_EQ(message(R"(, "limits": [{"limit": "stroke"}])"), "limits[0].limit is \"stroke\", which no rule knows.");
    EXPECT_EQ(message(R"(, "limits": [{"limit": "ledge"}])"), "limits[0] gives neither \"hard\" nor \"comfortable\".");
    EXPECT_EQ(message(R"(, "zones": {"top_up_to": {"value": 20, "unit": "deg"}})"),
              "zones.top_up_to lacks \"source\".");
    EXPECT_THAT(message(R"(, "limits": [{"limit": "islands", "hard": {"value": 1, "source": "s"}},
                                        {"limit": "islands", "hard": {"value": 2, "source": "s"}}])"),
                HasSubstr("limits.islands.any.any.hard is given twice"));
    EXPECT_THAT(
        message(R"(, "printing": {"wedge": {"source": "s", "steps": [{"thickness_mm": 1, "log_transmission": 0}]}})"),
        HasSubstr("two steps"));
    EXPECT_EQ(parse_derivation(R"({"format": "touchmark process", "version": 2, "title": "t", "based_on": "x"})")
                  .error()
                  .code,
              "process.newer_version");
    EXPECT_FALSE(parse_derivation(R"({"format": "touchmark process", "version": 1, "title": "t"})"));
}

TEST(SaveProfile, NamesTheFileAfterTheTitleAndNeverOverwrites) {
    const Folder folder;
    const auto first = save_profile(folder.path() / "processes", strip());
    ASSERT_TRUE(first) << first.error().message;
    EXPECT_EQ(first->filename(), "own-shop-petg-0.4.json");
    Derivation other = strip();
    other.figures.clear();
    const auto second = save_profile(folder.path() / "processes", other);
    ASSERT_TRUE(second);
    EXPECT_EQ(second->filename(), "own-shop-petg-0.4-2.json");
    std::ifstream stream(*first);
    const std::string text(std::istreambuf_iterator<char>(stream), {});
    EXPECT_EQ(text, *profile_json(strip())) << "the first one is as it was";
    const auto title = [&](const char* words) {
        Derivation named = strip();
        named.title = words;
        return save_profile(folder.path() / "processes", named)->filename().string();
    };
    EXPECT_EQ(title("../../etc/passwd"), "own-etc-passwd.json");
    EXPECT_EQ(title("Düse 0.4"), "own-düse-0.4.json");
    EXPECT_EQ(title("???"), "own-profile.json");
    EXPECT_EQ(title("Own 0.4 mm nozzle"), "own-0.4-mm-nozzle.json");
    EXPECT_LT(title(std::string(400, 'x').c_str()).size(), 80u);
    ASSERT_TRUE(replace_profile(*first, other));
    std::ifstream again(*first);
    EXPECT_EQ(std::string(std::istreambuf_iterator<char>(again), {}), *profile_json(other));
}

TEST(SaveProfile, LeavesNothingBehindWhenItFails) {
    const Folder folder;
    Derivation bad = strip();
    bad.figures.push_back({"printing.no_such", figure(1)});
    EXPECT_EQ(save_profile(folder.path(), bad).error().code, "process.unknown_figure");
    bad = strip();
    bad.figures[0].figure.value = std::nan("");
    EXPECT_FALSE(save_profile(folder.path(), bad));
    EXPECT_FALSE(std::filesystem::exists(folder.path()));
    std::ofstream(folder.path()) << "a file where the folder should be";
    EXPECT_EQ(save_profile(folder.path(), strip()).error().code, "file.not_writable");
}

} // namespace
} // namespace touchmark::process
