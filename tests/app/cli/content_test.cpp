// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"
#include "tests/app/cli/program.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

namespace touchmark::test {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::HasSubstr;
using Words = std::vector<std::string>;

std::string svg(const std::string& body) {
    return "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 10 10'>" + body + "</svg>";
}

struct Malformed {
    const char* what;
    Words words;
    std::string art; ///< written to the file that "ART" stands for
};

/// Every kind of input that cannot be used: one clear line, no output, and a file that was there stays as it was.
TEST(CliContent, MalformedInputIsOneClearErrorAndChangesNothing) {
    const fs::path folder = scratch_folder();
    const fs::path out = folder / "out.svg", art = folder / "art.svg";
    std::string many;
    for (int i = 0; i < 10'001; ++i)
        many += i % 60 == 59 ? ' ' : 'x';
    std::string laughs = "<rect id='l0' width='1' height='1'/>";
    for (int level = 1; level < 10; ++level) {
        laughs += "<g id='l" + std::to_string(level) + "'>";
        for (int i = 0; i < 10; ++i)
            laughs += "<use href='#l" + std::to_string(level - 1) + "'/>";
        laughs += "</g>";
    }
    const std::vector<Malformed> all{
        {"bad SVG", {"--art", "ART"}, "<svg><path d='M0 0"},
        {"no drawing at all", {"--art", "ART"}, "PK\x03\x04 nonsense"},
        {"huge SVG", {"--art", "ART"}, svg("<!--" + std::string(9'000'000, ' ') + "-->")},
        {"SVG with more than the room for it", {"--art", "ART"}, svg("<!--" + std::string(4'500'000, 'x') + "-->")},
        {"recursive use", {"--art", "ART"}, svg("<g id='a'><use href='#a'/></g>")},
        {"use upon use", {"--art", "ART"}, svg(laughs)},
        {"nothing to mark", {"--art", "ART"}, svg("<text>live</text>")},
        {"bad DXF", {"--art", "ART"}, "0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n90\n99999999\n"},
        {"no such file", {"--art", (folder / "none.svg").string()}, ""},
        {"over-capacity QR", {"--qr", std::string(2'954, 'q'), "--correction", "low"}, ""},
        {"over-capacity of the size asked for", {"--qr", std::string(60, 'q'), "--symbol-size", "2"}, ""},
        {"unknown GS1 identifier", {"--gs1", "(05)123"}, ""},
        {"GS1 check digit", {"--gs1", "(01)09521234543214"}, ""},
        {"GS1 without brackets", {"--gs1", "0109521234543213"}, ""},
        {"letters in Code 128", {"--code128", "部品"}, ""},
        {"text of 10,001 characters", {"--text", many}, ""},
        {"unpaired surrogate", {"--text", "A\xed\xa0\x80"}, ""},
        {"unpaired surrogate in a code", {"--qr", "A\xed\xb0\x80"}, ""},
        {"missing font", {"--text", "A", "--font", "No Such Face"}, ""},
        {"axis that the font lacks", {"--text", "A", "--axes", "wdth=80"}, ""},
        {"width that cannot be", {"--text", "A", "--fit-width", "60", "--fit", "spacing"}, ""},
        {"no such feature", {"--text", "A", "--features", "nonsense"}, ""},
        {"nothing visible", {"--text", "   "}, ""},
        {"no such template", {"--template", "nothing"}, ""},
        {"malformed polymer", {"--template", "plastics", "--set", "polymer=ABS<"}, ""},
    };
    for (const Malformed& one : all) {
        std::ofstream(art, std::ios::binary) << one.art;
        std::ofstream(out) << "as it was";
        Words words{"outline", "-o", out.string()};
        for (const std::string& word : one.words)
            words.push_back(word == "ART" ? art.string() : word);
        const Answer answer = touchmark_cli(words);
        EXPECT_TRUE(answer.exit == 2 || answer.exit == 3) << one.what << ": " << answer.exit;
        EXPECT_EQ(answer.error_lines(), 1) << one.what << ": " << answer.err;
        EXPECT_GT(answer.err.size(), 30u) << one.what;
        EXPECT_LT(answer.err.size(), 400u) << one.what;
        EXPECT_EQ(answer.out, "") << one.what;
        EXPECT_EQ(read_text(out).value_or(""), "as it was") << one.what;
    }
}

TEST(CliContent, OutlinesTakeAWidthAndTheAxesOfAVariableFont) {
    const fs::path out = scratch_folder() / "fit.svg";
    const Answer answer = touchmark_cli({"outline", "--text", "NW-2207", "--font", "Inter", "--axes",
                                         "wght=650,slnt=-6", "--fit-width", "30", "-o", out.string()});
    ASSERT_EQ(answer.exit, 0) << answer.err;
    EXPECT_THAT(read_text(out).value_or(""), HasSubstr("width=\"30mm\""));
}

TEST(CliContent, LetteringFacesAreRankedByWhatWasMeasured) {
    ::setenv("XDG_CACHE_HOME", scratch_folder().c_str(), 1);
    const Answer answer =
        touchmark_cli({"lettering-faces", "--family", "DejaVu S", "--height", "6", "--all", "--json"});
    ::unsetenv("XDG_CACHE_HOME");
    ASSERT_EQ(answer.exit, 0) << answer.err;
    const json object = answer.json();
    EXPECT_EQ(object.at("cap_height_mm"), 6);
    const json& faces = object.at("faces");
    ASSERT_GE(faces.size(), 2u) << "DejaVu Sans, DejaVu Sans Mono, DejaVu Serif: fonts-dejavu-core";
    double before = 0;
    for (const json& face : faces) {
        EXPECT_THAT(face.at("family").get<std::string>(), HasSubstr("DejaVu S"));
        EXPECT_GE(face.at("prints_from_mm"), before) << "the smallest first";
        before = face.at("prints_from_mm");
        EXPECT_GT(face.at("stroke_mm"), 0);
        EXPECT_GT(face.at("islands"), 0);
    }
}

} // namespace
} // namespace touchmark::test
