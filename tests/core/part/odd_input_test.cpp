// SPDX-License-Identifier: MIT

// Files that look odd and are all right, or right enough: they open, and what they say arrives.

#include "core/part/shape.h"
#include "tests/core/part/derived_files.h"
#include "tests/core/part/written_files.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Solid.hxx>
#include <gmock/gmock.h>
#include <gp_Pln.hxx>
#include <gtest/gtest.h>

#include <chrono>
#include <set>

namespace touchmark::test {
namespace {

constexpr double cube_mm3 = 1e6; // 100 mm cubed

std::string cube() {
    return open_text("step_boundary_colors.stp");
}

part::PartPtr opened(std::string_view bytes, std::string_view name = "part.stp") {
    const Folder folder;
    return read_part(folder.write(name, bytes));
}

std::string named(const std::string& name) {
    return replaced(cube(), "PRODUCT('','',", "PRODUCT('" + name + "','" + name + "',");
}

TEST(OddInput, AByteOrderMarkWithWindowsLineEnds) {
    const auto part = opened("\xEF\xBB\xBF" + replaced_all(cube(), "\n", "\r\n"));
    EXPECT_NEAR(part->volume_mm3(), cube_mm3, 1e-3);
}

TEST(OddInput, OtherLineEndsAndRoomAround) {
    EXPECT_NEAR(opened(replaced_all(cube(), "\n", "\r\n"))->volume_mm3(), cube_mm3, 1e-3);
    EXPECT_NEAR(opened(replaced_all(cube(), "\n", "\r"))->volume_mm3(), cube_mm3, 1e-3);
    EXPECT_NEAR(opened(replaced_all(cube(), "\n", ""))->volume_mm3(), cube_mm3, 1e-3);
    EXPECT_NEAR(opened("\n\n  " + cube() + "\n\n")->volume_mm3(), cube_mm3, 1e-3);
    EXPECT_NEAR(opened(cube() + "something after the end")->volume_mm3(), cube_mm3, 1e-3);
}

// ISO 10303-21:2016 clause 6.4.3: \X2\…\X0\ for UCS-2, \S\ for the upper half of a page of ISO 8859, '' for an
// apostrophe; UTF-8 since edition 3.
TEST(OddInput, NamesInEveryEncoding) {
    EXPECT_EQ(opened(named("Gehäuse Ø 件"))->name(), "Gehäuse Ø 件");
    EXPECT_EQ(opened(named("Geh\xE4use \xD8"))->name(), "Gehäuse Ø");
    EXPECT_EQ(opened(named("Geh\\X2\\00E4\\X0\\use"))->name(), "Gehäuse");
    EXPECT_EQ(opened(named("Geh\\S\\duse"))->name(), "Gehäuse");
    EXPECT_EQ(opened(named("the 3\" valve''s lid"))->name(), "the 3\" valve's lid");
}

TEST(OddInput, FileNamesInEveryWriting) {
    for (const char* name : {"Gehäuse Ø.stp", "件 名.STEP", "it's \"quoted\".stp", "-rf.stp", "a\nb.stp",
                             "no extension", "Geh\xE4use.stp"}) {
        const auto part = opened(cube(), name);
        EXPECT_NEAR(part->volume_mm3(), cube_mm3, 1e-3) << name;
        EXPECT_FALSE(part->name().empty());
    }
}

TEST(OddInput, UnitsFromMicrometreToKilometre) {
    const auto in_unit = [](const std::string& unit) {
        return opened(replaced(cube(), "SI_UNIT(.MILLI.,.METRE.)", unit));
    };
    const auto metre = in_unit("SI_UNIT($,.METRE.)"), micro = in_unit("SI_UNIT(.MICRO.,.METRE.)"),
               kilo = in_unit("SI_UNIT(.KILO.,.METRE.)");
    EXPECT_EQ(metre->file_unit(), "m");
    EXPECT_NEAR(metre->volume_mm3() / 1e15, 1, 1e-9);
    EXPECT_NEAR(micro->volume_mm3() / 1e-3, 1, 1e-6);
    EXPECT_NEAR(kilo->volume_mm3() / 1e24, 1, 1e-9);
    const auto meshes = part::tessellate(*kilo, {}, Progress());
    ASSERT_TRUE(meshes);
    EXPECT_EQ(meshes->size(), 6u);
}

TEST(OddInput, AnUnknownSchema) {
    EXPECT_NEAR(opened(replaced(cube(), "AUTOMOTIVE_DESIGN", "SOMETHING_ELSE"))->volume_mm3(), cube_mm3, 1e-3);
}

TEST(OddInput, FacesTurnedInsideOutComeOutRight) {
    std::string text = rewritten(cube(), "(ADVANCED_FACE\\([^;]*),\\.F\\.\\)", "$1,.X.)");
    text = rewritten(text, "(ADVANCED_FACE\\([^;]*),\\.T\\.\\)", "$1,.F.)");
    text = replaced_all(text, ",.X.)", ",.T.)");
    const auto part = opened(text);
    EXPECT_NEAR(part->volume_mm3(), cube_mm3, 1e-3);
    for (const part::Face& face : part->faces())
        EXPECT_GT(dot(face.frame.z, face.centroid - part->box().centre()), 0) << face.index;
}

TEST(OddInput, AnInvalidSolidOpensWithANote) {
    // Two axes of the cube become one: the same axis placement defined twice over.
    const auto part = opened(replaced(cube(), "#80=", "#79="));
    ASSERT_EQ(part->bodies().size(), 1u);
    EXPECT_FALSE(part->bodies()[0].valid);
    ASSERT_EQ(part->notes().size(), 1u);
    EXPECT_EQ(part->notes()[0].code, "part.invalid_solid");
    EXPECT_EQ(part->notes()[0].body, 0);
}

TEST(OddInput, TheVerdictMayComeLater) {
    const Folder folder;
    part::ReadLimits limits;
    limits.verdict = part::Verdict::later;
    const auto faulty = reader().read(folder.write("faulty.stp", replaced(cube(), "#80=", "#79=")), Progress(), limits);
    ASSERT_TRUE(faulty);
    EXPECT_TRUE((*faulty)->bodies()[0].valid);
    const auto told = part::checked(*faulty, Progress());
    ASSERT_TRUE(told);
    EXPECT_FALSE((*told)->bodies()[0].valid);
    EXPECT_EQ((*told)->digest(), (*faulty)->digest());
    EXPECT_EQ(*part::checked(*faulty, Progress()), *told);
    EXPECT_TRUE(part::face_shape(**told, 0).IsSame(part::face_shape(**faulty, 0)));

    const auto sound = reader().read(folder.write("sound.stp", cube()), Progress(), limits);
    ASSERT_TRUE(sound);
    EXPECT_EQ(*part::checked(*sound, Progress()), *sound);
    EXPECT_EQ(*part::checked(*sound, Progress()), *sound);
}

TEST(OddInput, OneSolidOfSeveralLostIsToldInANote) {
    const std::string text = open_text("dm1-id-214.stp");
    const std::size_t solid = text.find("MANIFOLD_SOLID_BREP");
    const std::size_t shell = text.find('#', solid);
    const std::string lost =
        text.substr(0, shell) + "#999999" + text.substr(text.find_first_not_of("0123456789", shell + 1));
    const auto part = opened(lost);
    EXPECT_EQ(part->bodies().size(), 4u); // of 7: the lost one, a bolt, was placed three times
    ASSERT_EQ(part->notes().size(), 1u);
    EXPECT_EQ(part->notes()[0].code, "part.incomplete");
}

TEST(OddInput, FarFromTheOriginNothingDrowns) {
    gp_Trsf far;
    far.SetTranslation(gp_Vec(1e6, -2e6, 3e6));
    const Folder folder;
    const auto part = read_part(
        written(folder, BRepBuilderAPI_Transform(BRepPrimAPI_MakeBox(10, 20, 30).Shape(), far, true).Shape()));
    EXPECT_NEAR(part->volume_mm3(), 6000, 1e-4);
    EXPECT_NEAR(part->faces()[0].area_mm2, 600, 1e-5);
    EXPECT_NEAR(part->box().size().x, 10, 1e-6);
}

TEST(OddInput, InnerVoidsStay) {
    // A box of 30 mm with a ball of radius 5 taken out of its middle.
    BRep_Builder builder;
    TopoDS_Solid hollow;
    builder.MakeSolid(hollow);
    builder.Add(hollow, TopExp_Explorer(BRepPrimAPI_MakeBox(30, 30, 30).Shape(), TopAbs_SHELL).Current());
    builder.Add(
        hollow,
        TopExp_Explorer(BRepPrimAPI_MakeSphere(gp_Pnt(15, 15, 15), 5).Shape(), TopAbs_SHELL).Current().Reversed());
    const Folder folder;
    const auto part = read_part(written(folder, hollow));
    ASSERT_EQ(part->bodies().size(), 1u);
    EXPECT_TRUE(part->bodies()[0].valid);
    EXPECT_EQ(part->faces().size(), 7u);
    EXPECT_NEAR(part->volume_mm3(), 27'000 - 4.0 / 3 * M_PI * 125, 1e-6);
}

TEST(OddInput, AFreeSurfaceBesideTheSolidStaysAndIsNoted) {
    BRep_Builder builder;
    TopoDS_Compound both;
    builder.MakeCompound(both);
    builder.Add(both, BRepPrimAPI_MakeBox(10, 10, 10).Shape());
    builder.Add(both, BRepBuilderAPI_MakeFace(gp_Pln(gp_Pnt(50, 0, 0), gp::DZ()), 0, 5, 0, 5).Shape());
    const Folder folder;
    const auto part = read_part(written(folder, both));
    ASSERT_EQ(part->bodies().size(), 2u);
    int solids = 0;
    for (const part::Body& body : part->bodies())
        solids += body.solid;
    EXPECT_EQ(solids, 1);
    EXPECT_NEAR(part->volume_mm3(), 1000, 1e-9);
    ASSERT_EQ(part->notes().size(), 1u);
    EXPECT_EQ(part->notes()[0].code, "part.free_shell");
}

TEST(OddInput, OnePartPlacedFourTimesAndAHundredAndEightyTimes) {
    for (const int copies : {4, 180}) {
        const Folder folder;
        const auto part = read_part(written_copies(folder, BRepPrimAPI_MakeBox(1, 2, 3).Shape(), copies, 1));
        EXPECT_EQ(part->bodies().size(), static_cast<std::size_t>(copies));
        EXPECT_NEAR(part->volume_mm3(), 6.0 * copies, 1e-6 * copies);
        std::set<Digest> fingerprints;
        for (const part::Face& face : part->faces())
            fingerprints.insert(face.fingerprint.digest);
        EXPECT_EQ(fingerprints.size(), part->faces().size());
        int shapes = 0;
        for (const part::Product& product : part::model(*part).products)
            shapes += !product.shape.IsNull();
        EXPECT_EQ(shapes, 1);
    }
}

TEST(OddInput, NestingFortyDeep) {
    const Folder folder;
    const auto part = read_part(written_copies(folder, BRepPrimAPI_MakeBox(1, 2, 3).Shape(), 1, 40));
    ASSERT_EQ(part->bodies().size(), 1u);
    EXPECT_EQ(part::occurrence(*part, 0).path.size(), 42u);
    EXPECT_NEAR(part->box().low.x, 10.0 * 40, 1e-6); // each level moves its content by 10 mm
}

TEST(OddInput, AnAssemblyThatMultipliesOpensAndBeyondReasonIsRefused) {
    const auto some = opened(doublings(5));
    EXPECT_EQ(some->bodies().size(), 32u);
    EXPECT_NEAR(some->volume_mm3(), 32 * cube_mm3, 1);
    EXPECT_NEAR(some->box().size().x, 100 + 200 * 31, 1e-6);
    // 16 million cubes: told quickly and without trying to place them.
    const Folder folder;
    const auto begin = std::chrono::steady_clock::now();
    const auto part = reader().read(folder.write("bomb.stp", doublings(24)), Progress());
    ASSERT_FALSE(part);
    EXPECT_EQ(part.error().code, "part.too_large");
    EXPECT_LT(std::chrono::steady_clock::now() - begin, std::chrono::seconds(5));
}

} // namespace
} // namespace touchmark::test
