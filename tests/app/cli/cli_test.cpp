// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"
#include "tests/app/cli/program.h"
#include "tests/support/open_parts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <set>

namespace touchmark::test {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::HasSubstr;
using testing::IsEmpty;
using Words = std::vector<std::string>;

/// The front wall of the demo bracket: the largest flat face that looks to -y.
std::string front_wall() {
    static const std::string index = [] {
        const json faces = touchmark_cli({"faces", demo_part(), "--json"}).json().at("faces");
        int best = -1;
        double area = 0;
        for (const json& face : faces)
            if (face.at("kind") == "plane" && face.at("normal").at(1) < -0.999 && face.at("area_mm2") > area)
                best = face.at("index"), area = face.at("area_mm2");
        return std::to_string(best);
    }();
    return index;
}

Words mark_words(const fs::path& out, const Words& more) {
    Words words{"mark", demo_part(), "--face", front_wall(), "-o", out.string()};
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

void expect_one_clear_line(const Answer& answer) {
    EXPECT_EQ(answer.error_lines(), 1) << answer.err;
    EXPECT_THAT(answer.err, testing::StartsWith("touchmark-cli: "));
    EXPECT_THAT(answer.out, IsEmpty());
}

std::set<std::string> keys(const json& object) {
    std::set<std::string> names;
    for (const auto& [key, value] : object.items())
        names.insert(key);
    return names;
}

TEST(Cli, FacesHaveTheDocumentedShape) {
    const Answer answer = touchmark_cli({"faces", demo_part(), "--json"});
    ASSERT_EQ(answer.exit, 0) << answer.err;
    const json object = answer.json();
    EXPECT_EQ(keys(object), (std::set<std::string>{"faces", "findings"}));
    ASSERT_GT(object.at("faces").size(), 10u);
    int index = 0;
    for (const json& face : object.at("faces")) {
        EXPECT_EQ(face.at("index"), index++);
        EXPECT_GT(face.at("area_mm2").get<double>(), 0);
        EXPECT_EQ(face.at("centroid").size(), 3u);
        const bool plane = face.at("kind") == "plane";
        EXPECT_EQ(face.at(plane ? "normal" : "axis").size(), 3u);
        EXPECT_TRUE(face.contains("rectangle_mm")); // the bracket has planes and cylinders only
    }
    const json wall = object.at("faces").at(static_cast<std::size_t>(std::stoi(front_wall())));
    EXPECT_EQ(wall.at("zone"), "side_wall");
    EXPECT_LE(wall.at("rectangle_mm").at(0).get<double>(), 88.001); // the wall is 88 × 56 mm
    EXPECT_LE(wall.at("rectangle_mm").at(1).get<double>(), 56.001);
}

TEST(Cli, FacesThatAreKeptClearGoIntoTheJobAndHaveTheirFinding) {
    const fs::path folder = scratch_folder(), out = folder / "marked.step", job = folder / "job.json";
    const Answer answer =
        touchmark_cli(mark_words(out, {"--text", "AB", "--keep-clear", front_wall() + "=sealing:O-ring", "--keep-clear",
                                       "1", "--json", "--job", job}));
    ASSERT_EQ(answer.exit, 1) << answer.err; // written, and it says why it should not be
    const json findings = answer.json().at("findings");
    const auto kept =
        std::ranges::find_if(findings, [](const json& finding) { return finding.at("rule") == "kept_clear"; });
    ASSERT_NE(kept, findings.end());
    EXPECT_EQ(kept->at("severity"), "blocker");
    EXPECT_THAT(kept->at("message").get<std::string>(), HasSubstr("a sealing face (O-ring)"));
    const json saved = json::parse(read_text(job).value()).at("kept_clear");
    ASSERT_EQ(saved.size(), 2u);
    const std::set<std::string> reasons{saved[0].at("reason"), saved[1].at("reason")};
    EXPECT_EQ(reasons, (std::set<std::string>{"other", "sealing"}));
    EXPECT_EQ(touchmark_cli({"check", job, "--json"}).json().at("findings"), findings);
}

TEST(Cli, RefusesToKeepClearWhatIsNoFaceOrForNoReason) {
    const fs::path out = scratch_folder() / "marked.step";
    for (const auto& [wrong, exit] :
         {std::pair("9999=sealing", 3), std::pair("x=sealing", 2), std::pair("1=pretty", 2)}) {
        const Answer answer = touchmark_cli(mark_words(out, {"--text", "AB", "--keep-clear", wrong}));
        EXPECT_EQ(answer.exit, exit) << wrong;
        expect_one_clear_line(answer);
    }
}

TEST(Cli, DownTurnsTheZones) {
    const json faces = touchmark_cli({"faces", demo_part(), "--json", "--down", "0,-1,0"}).json().at("faces");
    EXPECT_EQ(faces.at(static_cast<std::size_t>(std::stoi(front_wall()))).at("zone"), "bottom");
}

TEST(Cli, MarkWritesAMarkedPartAndSaysWhatItDid) {
    const fs::path folder = scratch_folder(), out = folder / "marked.step", job = folder / "job.json";
    const Answer answer =
        touchmark_cli(mark_words(out, {"--text", "NW-2207\\nLOT 48", "--height", "5", "--json", "--job", job}));
    ASSERT_TRUE(answer.exit == 0 || answer.exit == 1) << answer.err;
    EXPECT_THAT(answer.err, IsEmpty());
    const json object = answer.json();
    for (const char* key :
         {"findings", "volume_before_mm3", "volume_after_mm3", "faces_before", "faces_after", "route", "seconds"})
        EXPECT_TRUE(object.contains(key)) << key;
    EXPECT_EQ(keys(object.at("seconds")), (std::set<std::string>{"read", "outline", "imprint", "verify", "write"}));
    EXPECT_LT(object.at("volume_after_mm3").get<double>(), object.at("volume_before_mm3").get<double>());
    EXPECT_GT(object.at("faces_after").get<int>(), object.at("faces_before").get<int>());
    EXPECT_EQ(object.at("route"), "direct");
    EXPECT_TRUE(fs::exists(out));

    // The job that came out gives the same findings, and the same part again.
    const Answer check = touchmark_cli({"check", job, "--json"});
    EXPECT_EQ(check.exit, answer.exit) << check.err;
    EXPECT_EQ(check.json().at("findings"), object.at("findings"));
    const Answer apply = touchmark_cli({"apply", job, "-o", folder / "again.step", "--json"});
    EXPECT_EQ(apply.exit, answer.exit) << apply.err;
    EXPECT_EQ(apply.json().at("volume_after_mm3"), object.at("volume_after_mm3"));
}

TEST(Cli, ACodeTakesThePlaceOfText) {
    const fs::path folder = scratch_folder();
    for (const auto& [option, message] : {std::pair{"--data-matrix", "NW-2207"},
                                          {"--qr", "NW-2207"},
                                          {"--code128", "2207"},
                                          {"--gs1", "(01)09521234543213"}}) {
        const fs::path out = folder / (std::string(option).substr(2) + ".step"), job = folder / "job.json";
        const Answer answer = touchmark_cli({"mark", demo_part(), "--face", front_wall(), option, message, "--module",
                                             "0.5", "--job", job.string(), "-o", out.string(), "--json"});
        ASSERT_LE(answer.exit, 1) << option << ": " << answer.err;
        const json object = answer.json();
        EXPECT_LT(object.at("volume_after_mm3").get<double>(), object.at("volume_before_mm3").get<double>()) << option;
        EXPECT_EQ(touchmark_cli({"check", job.string()}).exit, answer.exit) << option << ": the job keeps the code";
    }
    const Answer both = touchmark_cli(mark_words(folder / "no.step", {"--text", "NW", "--qr", "NW"}));
    EXPECT_EQ(both.exit, 2);
    expect_one_clear_line(both);
    const Answer wrong = touchmark_cli({"mark", demo_part(), "--face", front_wall(), "--gs1", "(01)09521234543214",
                                        "-o", (folder / "no.step").string()});
    EXPECT_GE(wrong.exit, 1) << "a wrong check digit";
    EXPECT_FALSE(fs::exists(folder / "no.step"));
}

TEST(Cli, RaisingAddsVolume) {
    const Answer answer = touchmark_cli(
        mark_words(scratch_folder() / "marked.step", {"--text", "R", "--mode", "raise", "--height", "10", "--json"}));
    ASSERT_LE(answer.exit, 1) << answer.err;
    EXPECT_GT(answer.json().at("volume_after_mm3").get<double>(), answer.json().at("volume_before_mm3").get<double>());
}

TEST(Cli, ExitsWithOneWhenSomethingWillNotPrintAndWritesAllTheSame) {
    const fs::path out = scratch_folder() / "small.step";
    const Answer answer =
        touchmark_cli(mark_words(out, {"--text", "Lot 48", "--height", "1.5", "--regular", "--json"}));
    EXPECT_EQ(answer.exit, 1) << answer.err;
    EXPECT_TRUE(fs::exists(out));
    bool blocker = false;
    const json object = answer.json();
    for (const json& finding : object.at("findings")) {
        for (const char* key :
             {"rule", "severity", "mark", "figure", "limit", "unit", "message", "why", "where", "fixes"})
            EXPECT_TRUE(finding.contains(key)) << key;
        for (const json& fix : finding.at("fixes"))
            EXPECT_EQ(keys(fix), (std::set<std::string>{"id", "title"}));
        for (const json& spot : finding.at("where"))
            EXPECT_EQ(spot.size(), 2u);
        blocker |= finding.at("severity") == "blocker";
    }
    EXPECT_TRUE(blocker);
}

TEST(Cli, ExitsWithTwoOnWrongUsage) {
    const std::string out = scratch_folder() / "out.step";
    for (const Words& words :
         {Words{}, Words{"sing"}, Words{"faces"}, Words{"faces", demo_part(), "--loud"},
          Words{"mark", demo_part(), "--face", "1", "-o", out},
          Words{"mark", demo_part(), "--face", "one", "--text", "R", "-o", out},
          mark_words(out, {"--text", "R", "--height", "tall"}), mark_words(out, {"--text", "R", "--height", "-3"}),
          mark_words(out, {"--text", "R", "--mode", "burn"}), mark_words(out, {"--text", "R", "--process", "none"}),
          mark_words(out, {"--text", "R", "--bold", "--regular"}), mark_words(out, {"--text", "R", "--down", "0,0,0"}),
          Words{"faces", demo_part(), "--process", "none"}}) {
        const Answer answer = touchmark_cli(words);
        EXPECT_EQ(answer.exit, 2) << testing::PrintToString(words);
        expect_one_clear_line(answer);
    }
    EXPECT_FALSE(fs::exists(out));
}

TEST(Cli, DoesNotOverwriteThePartItself) {
    const fs::path folder = scratch_folder(), part = folder / "part.step";
    fs::copy_file(demo_part(), part);
    const Answer answer =
        touchmark_cli({"mark", part, "--face", front_wall(), "--text", "R", "-o", folder / "." / "part.step"});
    EXPECT_EQ(answer.exit, 2);
    expect_one_clear_line(answer);
    EXPECT_EQ(fs::file_size(part), fs::file_size(demo_part()));
}

TEST(Cli, ExitsWithThreeWhenTheInputCannotBeUsed) {
    const fs::path folder = scratch_folder();
    const std::string out = folder / "out.step", text = folder / "text.step", broken = folder / "broken.json",
                      orphan = folder / "orphan.json";
    ASSERT_TRUE(write_text_atomically(text, "not a part"));
    ASSERT_TRUE(write_text_atomically(broken, "{"));
    for (const Words& words :
         {Words{"faces", folder / "none.step"}, Words{"faces", text}, Words{"check", folder / "none.json"},
          Words{"check", broken}, Words{"apply", broken, "-o", out},
          Words{"mark", demo_part(), "--face", "9999", "--text", "R", "-o", out}, mark_words(out, {"--text", "   "})}) {
        const Answer answer = touchmark_cli(words);
        EXPECT_EQ(answer.exit, 3) << testing::PrintToString(words) << answer.err;
        expect_one_clear_line(answer);
    }
    EXPECT_FALSE(fs::exists(out));
}

TEST(Cli, MarksTheShaftOfAScrewAndItsCone) {
    const fs::path out = scratch_folder() / "out.step";
    for (const std::string face : {"7", "6"}) {
        const Answer answer = touchmark_cli({"mark", open_part("screw.step"), "--face", face, "--text", "M8",
                                             "--height", "2.5", "--depth", "0.3", "-o", out, "--json"});
        EXPECT_LE(answer.exit, 1) << answer.err;
        EXPECT_EQ(answer.json().at("route"), "direct");
    }
    const json faces = touchmark_cli({"faces", open_part("screw.step"), "--json"}).json().at("faces");
    EXPECT_TRUE(faces.at(7).contains("rectangle_mm"));
    EXPECT_TRUE(faces.at(5).contains("rectangle_mm")) << "a torus, on which a mark is laid about its own place";
}

TEST(Cli, ExitsWithFourWhenItCannotBeMadeAndWritesNothing) {
    const fs::path folder = scratch_folder(), out = folder / "out.step";
    // The wall is 10 mm thick: a cut of 15 mm would come out behind.
    const Answer deep = touchmark_cli(mark_words(out, {"--text", "R", "--depth", "15"}));
    EXPECT_EQ(deep.exit, 4) << deep.err;
    expect_one_clear_line(deep);
    const Answer nowhere = touchmark_cli(mark_words(folder / "no" / "such" / "folder.step", {"--text", "R"}));
    EXPECT_EQ(nowhere.exit, 4) << nowhere.err;
    expect_one_clear_line(nowhere);
    EXPECT_TRUE(fs::is_empty(folder));
}

TEST(Cli, WritesAPictureOfTheMarkedPart) {
    const fs::path folder = scratch_folder(), png = folder / "marked.png";
    const Answer answer = touchmark_cli(mark_words(folder / "marked.step", {"--text", "R", "--picture", png}));
    ASSERT_LE(answer.exit, 1) << answer.err;
    const std::string bytes = read_text(png).value();
    EXPECT_GT(bytes.size(), 5000u);
    EXPECT_TRUE(bytes.starts_with("\x89PNG\r\n\x1a\n")); // PNG specification, 5.2
}

TEST(Cli, ThePictureShowsAMarkInABore) {
    const fs::path folder = scratch_folder();
    std::set<std::string> pictures;
    for (const char* text : {"R", "M"}) {
        const Answer answer =
            touchmark_cli({"mark", open_part("io1-cm-214.stp"), "--face", "2", "--text", text, "--height", "8", "--at",
                           "0,14", "--picture", folder / "bore.png", "-o", folder / "bore.step"});
        ASSERT_LE(answer.exit, 1) << answer.err;
        pictures.insert(read_text(folder / "bore.png").value());
    }
    EXPECT_EQ(pictures.size(), 2u); // the part hides either letter from whoever looks straight at the wall
}

TEST(Cli, HelpListsEveryCommandAndOption) {
    const Answer help = touchmark_cli({"--help"});
    EXPECT_EQ(help.exit, 0);
    for (const char* command : {"faces", "mark", "check", "apply", "processes"}) {
        EXPECT_THAT(help.out, HasSubstr(command));
        EXPECT_EQ(touchmark_cli({command, "--help"}).exit, 0);
    }
    const std::string mark = touchmark_cli({"mark", "--help"}).out;
    for (const char* option : {"--face", "--text", "--mode engrave|raise", "--height MM", "--depth MM", "--font FAMILY",
                               "--bold", "--regular", "--at U,V", "--turn DEG", "--down X,Y,Z", "--process NAME",
                               "--job OUT.json", "--picture OUT.png", "-o OUT.step", "--json"})
        EXPECT_THAT(mark, HasSubstr(option));
    EXPECT_THAT(touchmark_cli({"--version"}).out, testing::MatchesRegex("touchmark-cli [0-9.]+\n"));
}

TEST(Cli, ListsAProfileForEachNozzle) {
    const json processes = touchmark_cli({"processes", "--json"}).json().at("processes");
    std::set<double> nozzles;
    for (const json& process : processes)
        if (process.contains("nozzle_mm")) nozzles.insert(process.at("nozzle_mm").get<double>());
    for (const double nozzle : {0.25, 0.4, 0.6, 0.8})
        EXPECT_TRUE(nozzles.contains(nozzle));
}

} // namespace
} // namespace touchmark::test
