// SPDX-License-Identifier: MIT
#include "core/part/shape.h"
#include "core/surface/stretch.h"
#include "tests/core/rules/matchers.h"

#include <BRepPrimAPI_MakeSphere.hxx>

#include <cmath>
#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

constexpr double radius = 10;

/// A mark of this width and 5 mm height in the middle of a ball.
Scene on_ball(double width) {
    Scene scene;
    part::Model model;
    model.products.push_back({"ball", BRepPrimAPI_MakeSphere(radius).Shape(), {}, {}, {}});
    model.roots.push_back({0, {}, "ball", {}});
    scene.part = part::make_part(std::move(model), {}, Progress()).value();
    Invented block;
    block.pieces = {{"R", 0, 1, {}}};
    block.strokes = {narrow(1.5)};
    block.width_mm = width;
    block.height_mm = 5;
    scene.add(block, 0);
    return scene;
}

/// On a sphere lengths across a great circle shrink to sin(s / R) / (s / R) at the distance s (do Carmo, Differential
/// Geometry of Curves and Surfaces, 4-6); the corners are the farthest.
double squeezed(double width) {
    const double s = std::hypot(width / 2, 2.5) / radius;
    return 100 * (1 - std::sin(s) / s);
}

// ISO/IEC 15415 (from memory): axial non-uniformity of a code is grade A up to 6 % and fails beyond 12 %.
TEST(Stretch, JudgesTheLengthsOnTheFaceAtItsLimits) {
    ASSERT_LT(squeezed(10), 6);
    EXPECT_THAT(on_ball(10).findings("stretch"), IsEmpty());
    ASSERT_GT(squeezed(12), 6);
    EXPECT_THAT(on_ball(12).findings("stretch"), ElementsAre(Warns()));
    ASSERT_GT(squeezed(18), 12);
    EXPECT_THAT(on_ball(18).findings("stretch"), ElementsAre(Blocks()));
}

TEST(Stretch, SaysHowMuchItIs) {
    const Scene scene = on_ball(12);
    const auto finding = scene.findings("stretch").at(0);
    EXPECT_NEAR(finding.figure, squeezed(12), 0.01);
    EXPECT_EQ(finding.where_on_part.size(), 1u);
    EXPECT_NEAR(length(finding.where_on_part[0]), radius, 1e-6);
}

TEST(Stretch, DoesNotSpeakWhereAFaceCanBeRolledOut) {
    Scene scene;
    Invented block;
    block.pieces = {{"R", 0, 1, {}}};
    block.strokes = {narrow(1.5)};
    scene.add(block, scene.face_towards({0, -1, 0}));
    EXPECT_THAT(scene.findings("stretch"), IsEmpty());
}

} // namespace
} // namespace touchmark::test
