// SPDX-License-Identifier: MIT
#include "core/part/shape.h"
#include "tests/core/rules/matchers.h"

#include <BRepPrimAPI_MakeCylinder.hxx>

#include <gtest/gtest.h>
#include <numbers>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr double radius = 10;

/// A block this wide round a cylinder that stands on the plate.
Scene round_it(double width, double turn = 0, bool code = false, double height = 2) {
    Scene scene;
    part::Model model;
    model.products.push_back({"rod", BRepPrimAPI_MakeCylinder(radius, 60).Shape(), {}, {}, {}});
    model.roots.push_back({0, {}, "rod", {}});
    scene.part = part::make_part(std::move(model), {}, Progress()).value();
    scene.meshes = part::tessellate(*scene.part, part::Deflection{}, Progress()).value();
    Invented block;
    block.pieces = {{"R", 0, 1, {}}};
    block.strokes = {narrow(1.5)};
    block.width_mm = width;
    block.height_mm = height;
    block.mark.anchor.turn = Degrees(turn);
    if (code) {
        block.code = content::ModulePlaces{1.0, {}, {}, {{-width / 2, -1}, {width / 2, 1}}, 0};
        block.mark.content = content::Code{.message = "1", .module = Mm(1)};
    }
    int face = 0;
    while (scene.part->faces()[static_cast<std::size_t>(face)].kind != part::FaceKind::cylinder)
        ++face;
    scene.add(block, face);
    return scene;
}

/// An arc of s on a circle of radius r turns s / r; half of it lies on either side of the middle.
double width_for(double degrees) {
    return 2 * radius * degrees * std::numbers::pi / 180;
}

// cos 60° = 0.5: half as wide; cos 90° = 0: out of sight (computed). That 60° is the limit is assumed.
TEST(Wrap, JudgesHowFarLetteringTurnsAway) {
    EXPECT_THAT(round_it(width_for(59.9)).findings("wrap"), IsEmpty());
    EXPECT_THAT(round_it(width_for(60.1)).findings("wrap"), ElementsAre(Advises()));
    EXPECT_THAT(round_it(width_for(89.9)).findings("wrap"), ElementsAre(Advises()));
    EXPECT_THAT(round_it(width_for(90.1)).findings("wrap"), ElementsAre(Warns()));
    const auto finding = round_it(width_for(70)).findings("wrap").at(0);
    EXPECT_NEAR(finding.figure, 70, 1e-6);
    EXPECT_THAT(finding.message, HasSubstr("looks only 34.2 % as wide")); // cos 70° = 0.342
}

// Published, trade press: a code on a cylinder is no wider than 16 % of its diameter.
TEST(Wrap, JudgesACodeByItsShareOfTheDiameter) {
    EXPECT_THAT(round_it(0.1599 * 2 * radius, 0, true).findings("wrap"), IsEmpty());
    const auto findings = round_it(0.1601 * 2 * radius, 0, true).findings("wrap");
    ASSERT_THAT(findings, ElementsAre(Warns()));
    EXPECT_NEAR(findings[0].figure, 16.01, 1e-6);
}

TEST(Wrap, CountsOnlyWhatGoesRound) {
    EXPECT_THAT(round_it(width_for(80), 90).findings("wrap"), IsEmpty()) << "along the axis";
    Scene flat;
    Invented wide;
    wide.width_mm = 60;
    wide.pieces = {{"R", 0, 1, {}}};
    wide.strokes = {narrow(1.5)};
    flat.add(wide, flat.face_towards({0, -1, 0}));
    EXPECT_THAT(flat.findings("wrap"), IsEmpty());
}

TEST(Wrap, OffersToRunAlongThePartOrToBeNarrower) {
    const Scene scene = round_it(width_for(95));
    const auto finding = scene.findings("wrap").at(0);
    EXPECT_NE(fix_of(finding, "turn"), nullptr);
    EXPECT_NE(fix_of(finding, "smaller"), nullptr);
    expect_complete_and_helpful(scene, finding);
}

} // namespace
} // namespace touchmark::test
