// SPDX-License-Identifier: MIT
// Real parts that other people wrote, written and read again.
#include "core/base/atomic_file.h"
#include "core/deliver/step.h"
#include "tests/core/deliver/description.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"
#include "tests/support/scratch_folder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>

#include <cctype>

namespace touchmark::deliver {
namespace {

using test::ScratchFolder;

/// By OpenCASCADE's adaptive integration, which our own figures do not use.
double volume_of(const part::Part& part) {
    double volume = 0;
    for (std::size_t i = 0; i < part.bodies().size(); ++i)
        if (part.bodies()[i].solid) {
            GProp_GProps properties;
            BRepGProp::VolumeProperties(part::occurrence(part, static_cast<int>(i)).shape, properties, 1e-8);
            volume += properties.Mass();
        }
    return volume;
}

void expect_same_faces(const part::Part& meant, const part::Part& back) {
    ASSERT_EQ(back.faces().size(), meant.faces().size());
    for (std::size_t i = 0; i < meant.faces().size(); ++i) {
        const part::Face &a = meant.faces()[i], &b = back.faces()[i];
        // A torus that crosses its own axis leaves OpenCASCADE as B-splines.
        const bool spindle = a.kind == part::FaceKind::torus && b.kind == part::FaceKind::freeform;
        EXPECT_TRUE(b.kind == a.kind || spindle) << i << " " << key_of(a.kind) << " became " << key_of(b.kind);
        EXPECT_EQ(b.name, a.name) << i;
        EXPECT_EQ(b.colour.has_value(), a.colour.has_value()) << i;
        EXPECT_NEAR(distance(a.centroid, b.centroid), 0, 1e-2) << i;
        if (!a.colour || !b.colour) continue;
        EXPECT_NEAR(b.colour->red, a.colour->red, 2e-3) << i;
        EXPECT_NEAR(b.colour->green, a.colour->green, 2e-3) << i;
        EXPECT_NEAR(b.colour->blue, a.colour->blue, 2e-3) << i;
    }
}

void expect_same_structure(const part::Part& meant, const part::Part& back) {
    const auto a = test::description(meant), b = test::description(back);
    ASSERT_EQ(b.size(), a.size());
    for (std::size_t i = 0; i < a.size(); ++i)
        EXPECT_TRUE(test::same_but_for_missing_names(a[i], b[i])) << a[i] << "\n" << b[i];
}

class OpenPart : public testing::TestWithParam<std::tuple<const char*, StepSchema>> {};

TEST_P(OpenPart, ComesBackAsItWas) {
    const auto& [name, schema] = GetParam();
    const ScratchFolder folder;
    const part::PartPtr part = test::read_part(test::open_part(name));
    const auto report = write_step(*part, folder / "out.step", {.schema = schema}, test::reader(), Progress());
    ASSERT_TRUE(report) << report.error().message;
    const part::PartPtr back = test::read_part(folder / "out.step");
    expect_same_structure(*part, *back);
    expect_same_faces(*part, *back);
    const double volume = volume_of(*part);
    EXPECT_NEAR(volume_of(*back), volume, 1e-6 * std::abs(volume));
    EXPECT_EQ(report->faces, static_cast<int>(part->faces().size()));
    EXPECT_EQ(report->bytes, std::filesystem::file_size(folder / "out.step"));
    for (std::size_t i = 0; i < part->bodies().size(); ++i)
        EXPECT_EQ(back->bodies()[i].valid, part->bodies()[i].valid);
}

std::string test_name(const testing::TestParamInfo<OpenPart::ParamType>& info) {
    std::string name = std::get<0>(info.param);
    for (char& c : name)
        if (std::isalnum(static_cast<unsigned char>(c)) == 0) c = '_';
    return name + (std::get<1>(info.param) == StepSchema::ap214 ? "_ap214" : "_ap242");
}

constexpr const char* quick_parts[] = {"as1-oc-214.stp",           // assembly, nested transforms
                                       "as1_pe_203.stp",           // the same in inch, with wireframe beside the solids
                                       "dm1-id-214.stp",           // B-splines throughout, named faces
                                       "io1-tu-203.stp",           // the same with colours and free curves
                                       "io1-cm-214.stp",           // cylinders and cones
                                       "sg1-c5-214.stp",           // named faces
                                       "component8.step",          // loose tolerances
                                       "conical-surface.step",     //
                                       "cube-in.step",             // inch
                                       "cube-mm.step",             //
                                       "screw.step",               // helical freeform faces
                                       "step_boundary_colors.stp", // a colour for each face
                                       "JST_SH_SM04B-SRSS-TB.STEP", // seven solids in one product, each with its colour
                                       "s1-c5-214/s1-c5-214.stp"};  // several files

INSTANTIATE_TEST_SUITE_P(Ap242, OpenPart,
                         testing::Combine(testing::ValuesIn(quick_parts), testing::Values(StepSchema::ap242)),
                         test_name);
INSTANTIATE_TEST_SUITE_P(Ap214, OpenPart,
                         testing::Combine(testing::Values("as1_pe_203.stp", "dm1-id-214.stp",
                                                          "step_boundary_colors.stp"),
                                          testing::Values(StepSchema::ap214)),
                         test_name);

TEST(StepUnits, AnInchFileStaysInInches) {
    const ScratchFolder folder;
    const part::PartPtr part = test::read_part(test::open_part("cube-in.step"));
    ASSERT_EQ(part->file_unit(), "inch");
    ASSERT_TRUE(write_step(*part, folder / "out.step", {}, test::reader(), Progress()));
    EXPECT_EQ(test::read_part(folder / "out.step")->file_unit(), "inch");
    EXPECT_THAT(*read_text(folder / "out.step"), testing::HasSubstr("CONVERSION_BASED_UNIT('INCH'"));
    const part::PartPtr metric = test::read_part(test::open_part("cube-mm.step"));
    ASSERT_TRUE(write_step(*metric, folder / "mm.step", {}, test::reader(), Progress()));
    EXPECT_THAT(*read_text(folder / "mm.step"), testing::HasSubstr("SI_UNIT(.MILLI.,.METRE.)"));
    EXPECT_THAT(*read_text(folder / "mm.step"), testing::Not(testing::HasSubstr("INCH")));
}

TEST(StepRoundTrip, ASecondTripChangesNothing) {
    const ScratchFolder folder;
    const part::PartPtr part = test::read_part(test::open_part("as1_pe_203.stp"));
    ASSERT_TRUE(write_step(*part, folder / "assembly.step", {}, test::reader(), Progress()));
    const part::PartPtr first = test::read_part(folder / "assembly.step");
    ASSERT_TRUE(write_step(*first, folder / "assembly.step", {}, test::reader(), Progress()));
    EXPECT_EQ(test::description(*test::read_part(folder / "assembly.step")), test::description(*first));
}

} // namespace
} // namespace touchmark::deliver
