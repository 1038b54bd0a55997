// SPDX-License-Identifier: MIT

// Products, placed instances, names and colours as the file has them.

#include "core/part/shape.h"
#include "tests/core/part/derived_files.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>
#include <set>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::map<std::string, int> bodies_by_name(const part::Part& part) {
    std::map<std::string, int> counts;
    for (const part::Body& body : part.bodies())
        ++counts[body.name];
    return counts;
}

// as1 is the CAx-IF's and NIST's assembly of a plate, two L-bracket assemblies (bracket, 3 nut-bolt assemblies each)
// and a rod assembly.
TEST(Structure, As1HoldsEachProductOnceAndPlacesIt) {
    const auto part = read_part(open_part("as1-oc-214.stp"));
    EXPECT_EQ(part->name(), "as1");
    EXPECT_THAT(bodies_by_name(*part),
                testing::ElementsAre(testing::Pair("bolt", 6), testing::Pair("l-bracket", 2), testing::Pair("nut", 8),
                                     testing::Pair("plate", 1), testing::Pair("rod", 1)));
    const part::Model& model = part::model(*part);
    int shapes = 0;
    for (const part::Product& product : model.products)
        shapes += !product.shape.IsNull();
    EXPECT_EQ(shapes, 5);
    std::set<std::string> paths;
    for (const part::Body& body : part->bodies())
        paths.insert(body.path);
    EXPECT_THAT(paths, testing::Contains("as1/l-bracket-assembly/nut-bolt-assembly/bolt"));
}

TEST(Structure, As1sNestedTransformsPutTheBoltsApart) {
    const auto part = read_part(open_part("as1-oc-214.stp"));
    std::vector<Vec3> bolts;
    for (std::size_t b = 0; b < part->bodies().size(); ++b) {
        if (part->bodies()[b].name != "bolt") continue;
        const part::Occurrence& occurrence = part::occurrence(*part, static_cast<int>(b));
        EXPECT_EQ(occurrence.path.size(), 4u);
        bolts.push_back(part->faces()[static_cast<std::size_t>(part->bodies()[b].first_face)].centroid);
    }
    ASSERT_EQ(bolts.size(), 6u);
    for (std::size_t i = 0; i < bolts.size(); ++i)
        for (std::size_t k = 0; k < i; ++k)
            EXPECT_GT(distance(bolts[i], bolts[k]), 10);
    // The assembly's box, as every viewer shows it.
    const Vec3 size = part->box().size();
    EXPECT_NEAR(size.x, 200, 1e-6);
    EXPECT_NEAR(size.y, 150, 1e-6);
    EXPECT_NEAR(size.z, 84, 1e-6);
}

TEST(Structure, CopiesOfABodyShareTheirShapeAndTheirFacesDifferByPlace) {
    const auto part = read_part(open_part("as1-oc-214.stp"));
    std::set<const void*> shapes;
    std::set<Digest> fingerprints;
    for (std::size_t b = 0; b < part->bodies().size(); ++b)
        if (part->bodies()[b].name == "nut")
            shapes.insert(part::occurrence(*part, static_cast<int>(b)).shape.TShape().get());
    EXPECT_EQ(shapes.size(), 1u);
    for (const part::Face& face : part->faces())
        fingerprints.insert(face.fingerprint.digest);
    EXPECT_EQ(fingerprints.size(), part->faces().size());
}

TEST(Structure, ColoursOfFacesOverrideTheSolids) {
    const auto part = read_part(open_part("step_boundary_colors.stp"));
    std::map<std::string, int> colours;
    for (const part::Face& face : part->faces()) {
        ASSERT_TRUE(face.colour) << face.index;
        const auto percent = [](float value) { return std::to_string(std::lround(value * 100)); };
        ++colours[percent(face.colour->red) + " " + percent(face.colour->green) + " " + percent(face.colour->blue)];
    }
    // In the file: the solid COLOUR_RGB 0.88 thrice, three faces over-ridden: "green", "red" and COLOUR_RGB 0, 0.5, 1.
    EXPECT_THAT(colours, testing::UnorderedElementsAre(testing::Pair("88 88 88", 3), testing::Pair("100 0 0", 1),
                                                       testing::Pair("0 100 0", 1), testing::Pair("0 50 100", 1)));
}

TEST(Structure, FacesKeepTheirNames) {
    const Folder folder;
    std::string text = open_text("step_boundary_colors.stp");
    text = rewritten(text, "#70=ADVANCED_FACE\\('[^']*'", "#70=ADVANCED_FACE('it''s the top \\X2\\00E4\\X0\\'");
    text = rewritten(text, "#109=ADVANCED_FACE\\('[^']*'", "#109=ADVANCED_FACE('NONE'");
    const auto part = read_part(folder.write("names.stp", text));
    std::map<std::string, int> names;
    for (const part::Face& face : part->faces())
        ++names[face.name];
    EXPECT_EQ(names["it's the top ä"], 1);
    EXPECT_EQ(names["NONE"], 0);
}

TEST(Structure, ColoursAreThoseOfTheFileNotLinearLight) {
    const std::string text = rewritten(open_text("step_boundary_colors.stp"), "COLOUR_RGB\\('[^']*',[^)]*\\)",
                                       "COLOUR_RGB('',0.5,0.25,0.75)");
    const Folder folder;
    const auto part = read_part(folder.write("colour.stp", text));
    bool seen = false;
    for (const part::Face& face : part->faces())
        seen = seen || (std::abs(face.colour->red - 0.5) < 0.005 && std::abs(face.colour->green - 0.25) < 0.005 &&
                        std::abs(face.colour->blue - 0.75) < 0.005);
    EXPECT_TRUE(seen);
}

TEST(Structure, AnAssemblyInSeveralFilesOpensFromAnyFolder) {
    const auto before = std::filesystem::current_path();
    const auto file = open_part("s1-c5-214/s1-c5-214.stp");
    const auto whole = read_part(file);
    std::filesystem::current_path(file.parent_path().parent_path());
    const auto relative = reader().read(std::filesystem::path("s1-c5-214") / "s1-c5-214.stp", Progress());
    std::filesystem::current_path("/");
    const auto elsewhere = reader().read(std::filesystem::relative(file, "/"), Progress());
    std::filesystem::current_path(before);
    ASSERT_TRUE(relative) << relative.error().message;
    ASSERT_TRUE(elsewhere) << elsewhere.error().message;
    EXPECT_EQ((*relative)->faces().size(), whole->faces().size());
    EXPECT_EQ((*elsewhere)->faces().size(), whole->faces().size());
    EXPECT_EQ(whole->bodies().size(), 11u);
}

TEST(Structure, TheDigestIsThatOfTheBytes) {
    const Folder folder;
    const std::string text = open_text("step_boundary_colors.stp");
    const auto one = read_part(folder.write("one.stp", text)), other = read_part(folder.write("other.stp", text));
    const auto changed = read_part(folder.write("changed.stp", replaced(text, "50.,50.,50.", "50.,50.,50.0")));
    EXPECT_EQ(one->digest(), other->digest());
    EXPECT_NE(one->digest(), changed->digest());
}

} // namespace
} // namespace touchmark::test
