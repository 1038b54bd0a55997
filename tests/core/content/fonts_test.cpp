// SPDX-License-Identifier: MIT
#include "core/content/fonts.h"

#include "core/content/loaded_face.h"
#include "tests/core/content/lettering.h"
#include "tests/support/scratch_folder.h"

#include <fstream>
#include <gmock/gmock.h>

namespace touchmark::content {
namespace {

using test::fonts;
using testing::HasSubstr;

TEST(Fonts, FamiliesAreListedOnceAndInOrder) {
    const auto& families = fonts().families();
    EXPECT_THAT(families, testing::Contains(std::string(default_family)));
    auto sorted = families;
    std::ranges::sort(sorted);
    EXPECT_EQ(std::ranges::adjacent_find(sorted), sorted.end());
    EXPECT_LT(std::ranges::find(families, "DejaVu Sans"), std::ranges::find(families, "Liberation Sans"));
    for (const std::string& family : families)
        EXPECT_FALSE(fonts().faces(family).empty()) << family;
}

TEST(Fonts, TheUprightFaceNearestInWeightIsTaken) {
    const auto bold = fonts().find("DejaVu Sans", 700);
    ASSERT_TRUE(bold);
    EXPECT_EQ(bold->file.filename(), "DejaVuSans-Bold.ttf");
    EXPECT_EQ(bold->weight, 700);
    EXPECT_EQ(bold->width, 100);
    EXPECT_FALSE(bold->italic);
    EXPECT_EQ(fonts().find("DejaVu Sans", 400)->file.filename(), "DejaVuSans.ttf");
    EXPECT_EQ(fonts().find("DejaVu Sans", 500)->weight, 400);
    EXPECT_EQ(fonts().find("DejaVu Sans", 900)->weight, 700);
    EXPECT_EQ(fonts().find("Liberation Sans", 700)->file.filename(), "LiberationSans-Bold.ttf");
}

TEST(Fonts, AFamilyIsFoundHoweverItsLettersAreWritten) {
    EXPECT_EQ(fonts().find("dejavu sans", 700), fonts().find("DejaVu Sans", 700));
}

TEST(Fonts, AnUnknownFamilyIsRefusedWithTheNearestName) {
    const auto face = fonts().find("DejaVu Snas", 700);
    ASSERT_FALSE(face);
    EXPECT_EQ(face.error().code, "font.not_found");
    EXPECT_THAT(face.error().message, HasSubstr("DejaVu Snas"));
    EXPECT_THAT(face.error().hint, HasSubstr("\"DejaVu Sans\""));
    Text text{.text = "A", .family = "Liberation San"};
    const auto mark = draw(text, fonts());
    ASSERT_FALSE(mark);
    EXPECT_EQ(mark.error().code, "font.not_found");
    EXPECT_THAT(mark.error().hint, HasSubstr("\"Liberation Sans\""));
}

TEST(Fonts, HeavierFacesAreTheUprightOnesOfTheSameWidthLightestFirst) {
    Text text{.text = "A", .family = "Roboto", .weight = 400};
    std::vector<int> weights;
    for (const FontFace& face : heavier_faces(text, fonts())) {
        EXPECT_FALSE(face.italic);
        EXPECT_EQ(face.width, 100);
        weights.push_back(face.weight);
    }
    EXPECT_EQ(weights, (std::vector{500, 700, 900})); // Roboto's published upright weights above Regular
    text.weight = 900;
    EXPECT_TRUE(heavier_faces(text, fonts()).empty());
    text.family = "No such family";
    EXPECT_TRUE(heavier_faces(text, fonts()).empty());
}

TEST(Fonts, AFileThatIsNoFontIsReportedByName) {
    const test::ScratchFolder folder;
    const auto bold = fonts().find("DejaVu Sans", 700).value();
    FontFace broken = bold;
    broken.file = folder.path() / "broken.ttf";
    EXPECT_EQ(LoadedFace::load(broken).error().code, "font.not_readable"); // is not there
    std::ofstream(broken.file) << "this is no font";
    const auto face = LoadedFace::load(broken);
    ASSERT_FALSE(face);
    EXPECT_EQ(face.error().code, "font.not_readable");
    EXPECT_THAT(face.error().message, HasSubstr("broken.ttf"));

    // Cut short: what is left may or may not make a font, but it never takes the program down.
    std::ifstream in(bold.file, std::ios::binary);
    const std::string whole((std::istreambuf_iterator<char>(in)), {});
    for (const std::size_t size : {std::size_t{0}, std::size_t{100}, std::size_t{4000}, whole.size() / 2}) {
        std::ofstream(broken.file, std::ios::binary).write(whole.data(), static_cast<std::streamsize>(size));
        if (const auto cut = LoadedFace::load(broken))
            for (std::uint32_t glyph = 0; glyph < 300; ++glyph)
                (void)(*cut)->glyph(glyph);
    }
}

} // namespace
} // namespace touchmark::content
