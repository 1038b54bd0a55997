// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"
#include "core/deliver/step.h"
#include "tests/core/deliver/shapes.h"
#include "tests/support/reader.h"
#include "tests/support/scratch_folder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <gp_Trsf.hxx>
#include <gp_Vec.hxx>

namespace touchmark::deliver {
namespace {

using test::ScratchFolder;
using testing::HasSubstr;
using testing::Not;

std::string repeated(const char* text, int times) {
    std::string all;
    for (int i = 0; i < times; ++i)
        all += text;
    return all;
}

void write(const part::Part& part, const std::filesystem::path& file, const StepOptions& options = {}) {
    const auto report = write_step(part, file, options, test::reader(), Progress());
    if (!report) throw std::runtime_error(report.error().message);
}

class Name : public testing::TestWithParam<std::string> {};

TEST_P(Name, ComesBackOnProductsFacesAndMarks) {
    const std::string& name = GetParam();
    const ScratchFolder folder;
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(1, 2, 3).Shape();
    part::Model model = test::model_of(box, name);
    part::Styled named, marked;
    named.shape = test::nth_face(box, 0);
    named.name = name;
    marked.shape = test::nth_face(box, 3);
    marked.mark = name;
    model.products[0].styled = {named, marked};
    write(*test::part_of(model), folder / "named.step", {.author = name, .organisation = name});

    const part::PartPtr back = test::read_part(folder / "named.step");
    EXPECT_EQ(part::model(*back).products.at(0).name, name);
    EXPECT_EQ(back->faces().at(0).name, name);
    EXPECT_EQ(back->faces().at(3).name, name);
    EXPECT_EQ(back->faces().at(1).name, "");
    const std::string text = *read_text(folder / "named.step");
    for (const char c : text)
        ASSERT_TRUE((c >= 0x20 && c < 0x7f) || c == '\n' || c == '\r') << "ISO 10303-21 knows printable ASCII only";
}

INSTANTIATE_TEST_SUITE_P(Hostile, Name,
                         testing::Values("plain", "Gehäuse – Größe", "it's", "''", "tail'", "back\\slash", "tail\\",
                                         "\\X2\\00C4\\X0\\", "\\S\\D", "漢字", "😀 and é", "; ENDSEC; #1=", "(a,b)",
                                         "$", "*", "/* comment", "a\nb\tc", std::string(300, 'x'), repeated("äß", 60),
                                         repeated("aé", 90), "1" + repeated("漢😀", 60)));

TEST(StepNames, WhatHasNoNameTakesThatOfWhatItIsPartOf) {
    const ScratchFolder folder;
    part::Model model = test::model_of(BRepPrimAPI_MakeBox(1, 2, 3).Shape(), "");
    write(*test::part_of(model), folder / "bracket.step");
    EXPECT_EQ(part::model(*test::read_part(folder / "bracket.step")).products.at(0).name, "bracket");
    EXPECT_THAT(*read_text(folder / "bracket.step"), Not(HasSubstr("Open CASCADE STEP translator")));
}

TEST(StepNames, TheHeaderSaysWhoAndWithWhat) {
    const ScratchFolder folder;
    write(*test::box_part(1, 2, 3), folder / "box.step", {.author = "Ada", .organisation = "Works"});
    const std::string text = *read_text(folder / "box.step");
    EXPECT_THAT(text, HasSubstr("FILE_NAME('box.step'")) << "not the name of the temporary file";
    EXPECT_THAT(text, HasSubstr("'Ada'"));
    EXPECT_THAT(text, HasSubstr("'Works'"));
    EXPECT_THAT(text, HasSubstr("'Touchmark " TOUCHMARK_VERSION "'"));
}

// The names of the schemas as ISO 10303-214 and ISO 10303-242 define them.
TEST(StepNames, TheHeaderNamesTheSchema) {
    const ScratchFolder folder;
    write(*test::box_part(1, 2, 3), folder / "214.step", {.schema = StepSchema::ap214});
    EXPECT_THAT(*read_text(folder / "214.step"), HasSubstr("'AUTOMOTIVE_DESIGN"));
    write(*test::box_part(1, 2, 3), folder / "242.step", {.schema = StepSchema::ap242});
    EXPECT_THAT(*read_text(folder / "242.step"), HasSubstr("'AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF"));
}

TEST(StepColours, OfFacesSolidsAndInstancesComeBack) {
    const ScratchFolder folder;
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(1, 2, 3).Shape();
    const part::Colour grey{0.5f, 0.5f, 0.5f}, red{1, 0, 0};
    part::Model model;
    model.products.resize(2);
    model.products[0].name = "Pair";
    model.products[1].name = "Box";
    model.products[1].shape = box;
    model.products[1].colour = grey;
    part::Styled styled;
    styled.shape = test::nth_face(box, 2);
    styled.surface = red;
    styled.mark = "Mark 1";
    model.products[1].styled = {styled};
    part::Instance left, right;
    left.product = right.product = 1;
    left.name = "left", right.name = "right";
    gp_Trsf move;
    move.SetTranslation(gp_Vec(10, 0, 0));
    right.location = TopLoc_Location(move);
    model.products[0].children = {left, right};
    model.roots.emplace_back();
    write(*test::part_of(model), folder / "pair.step");

    const part::PartPtr back = test::read_part(folder / "pair.step");
    ASSERT_EQ(back->faces().size(), 12u);
    for (const part::Face& face : back->faces()) {
        ASSERT_TRUE(face.colour) << face.index;
        const part::Colour& wanted = face.index % 6 == 2 ? red : grey;
        EXPECT_NEAR(face.colour->red, wanted.red, 1e-3);
        EXPECT_NEAR(face.colour->green, wanted.green, 1e-3);
        EXPECT_NEAR(face.colour->blue, wanted.blue, 1e-3);
    }
    EXPECT_EQ(back->faces()[8].name, "Mark 1");
    EXPECT_EQ(part::model(*back).products.size(), 2u) << "one product, placed twice";
    EXPECT_NEAR(back->faces()[6].box.low.x - back->faces()[0].box.low.x, 10, 1e-6);
}

TEST(StepStructure, APlacedRootKeepsItsPlace) {
    const ScratchFolder folder;
    part::Model model = test::model_of(BRepPrimAPI_MakeBox(1, 2, 3).Shape(), "Box");
    gp_Trsf move;
    move.SetTranslation(gp_Vec(100, 200, 300));
    model.roots[0].location = TopLoc_Location(move);
    const part::PartPtr part = test::part_of(model);
    write(*part, folder / "placed.step");
    const part::PartPtr back = test::read_part(folder / "placed.step");
    EXPECT_NEAR(distance(back->box().low, part->box().low), 0, 1e-6);
    EXPECT_NEAR(distance(back->box().low, {100, 200, 300}), 0, 1e-6);
}

} // namespace
} // namespace touchmark::deliver
