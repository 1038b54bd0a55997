// SPDX-License-Identifier: MIT
#include "core/plate/plate.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace touchmark::plate {
namespace {

/// The eight corners of a box, as a mesh.
Meshes box_mesh(double x, double y, double z, Vec3 at = {}) {
    auto mesh = std::make_shared<part::FaceMesh>();
    for (int i = 0; i < 8; ++i)
        mesh->points.push_back({static_cast<float>(at.x + (i & 1 ? x : 0)), static_cast<float>(at.y + (i & 2 ? y : 0)),
                                static_cast<float>(at.z + (i & 4 ? z : 0))});
    return {mesh};
}

double height(const Pose& pose, const Meshes& meshes) {
    return height_of(placement_of(pose, meshes), meshes);
}

Box3 placed_box(const Placement& placement, const Meshes& meshes) {
    Box3 box;
    for (const auto& p : meshes.front()->points)
        box.add(placement({p[0], p[1], p[2]}));
    return box;
}

// Closed forms: a cube of edge a is a·√2 high on its edge, a·√3 on its corner.
TEST(Placement, ACubeOnItsEdgeAndOnItsCornerHasTheKnownHeight) {
    const double a = 10;
    const Meshes cube = box_mesh(a, a, a, {3, -4, 5});
    EXPECT_NEAR(height({{0, 0, -1}, Degrees(0)}, cube), a, 1e-9);
    EXPECT_NEAR(height({{0, -1, -1}, Degrees(0)}, cube), a * std::sqrt(2.0), 1e-6);
    EXPECT_NEAR(height({{-1, -1, -1}, Degrees(0)}, cube), a * std::sqrt(3.0), 1e-6);
    EXPECT_NEAR(height({{1, -1, 1}, Degrees(77)}, cube), a * std::sqrt(3.0), 1e-6);
}

// On its corner a cube's faces lie acos(1/√3) = 54.7356° from the horizontal.
TEST(Placement, ACubeOnItsCornerHasItsFacesAtTheKnownAngle) {
    const Placement placement = placement_of({{-1, -1, -1}, Degrees(30)}, box_mesh(10, 10, 10));
    for (const Vec3 normal : {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}})
        EXPECT_NEAR(Degrees::from_radians(std::acos(placement.direction(normal).z)).value, 54.7356, 1e-4);
}

// A box 10 × 20 × 30: footprint 200, 300 or 600 mm², height what is left.
TEST(Placement, ABoxHasTheHeightAndFootprintOfTheFaceItLiesOn) {
    const Meshes box = box_mesh(10, 20, 30);
    const struct {
        Vec3 down;
        double height, footprint;
    } cases[] = {{{0, 0, -1}, 30, 200}, {{0, 0, 1}, 30, 200},  {{0, -1, 0}, 20, 300},
                 {{0, 1, 0}, 20, 300},  {{-1, 0, 0}, 10, 600}, {{1, 0, 0}, 10, 600}};
    for (const auto& c : cases)
        for (const double turn : {0.0, 90.0, 180.0, -90.0}) {
            const Box3 placed = placed_box(placement_of({c.down, Degrees(turn)}, box), box);
            EXPECT_EQ(placed.low.z, 0);
            EXPECT_EQ(placed.size().z, c.height);
            EXPECT_NEAR(placed.size().x * placed.size().y, c.footprint, 1e-9);
        }
}

TEST(Placement, PutsTheLowestPointOnThePlateAndTheMiddleOverItsOrigin) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> number(-1, 1);
    const Meshes box = box_mesh(10, 20, 30, {100, -200, 300});
    for (int i = 0; i < 200; ++i) {
        const Pose pose{normalised(Vec3{number(random), number(random), number(random)}),
                        Degrees(180 * number(random))};
        const Placement placement = placement_of(pose, box);
        const Box3 placed = placed_box(placement, box);
        EXPECT_NEAR(placed.low.z, 0, 1e-9);
        EXPECT_NEAR(placed.centre().x, 0, 1e-9);
        EXPECT_NEAR(placed.centre().y, 0, 1e-9);
        // A rotation: rows orthonormal and right-handed, the down direction down.
        for (int r = 0; r < 3; ++r)
            for (int c = 0; c < 3; ++c)
                EXPECT_NEAR(
                    dot(placement.rows[static_cast<std::size_t>(r)], placement.rows[static_cast<std::size_t>(c)]),
                    r == c, 1e-12);
        EXPECT_NEAR(distance(cross(placement.rows[0], placement.rows[1]), placement.rows[2]), 0, 1e-12);
        EXPECT_NEAR(distance(placement.direction(pose.down), {0, 0, -1}), 0, 1e-12);
        const Vec3 v{1, 2, 3};
        EXPECT_NEAR(distance(placement.back(placement.direction(v)), v), 0, 1e-12);
    }
}

TEST(Placement, TheTurnIsAboutTheVerticalCounterClockwiseFromAbove) {
    const Meshes box = box_mesh(10, 20, 30);
    const Placement quarter = placement_of({{0, 0, -1}, Degrees(90)}, box);
    EXPECT_EQ(quarter.direction({1, 0, 0}), (Vec3{0, 1, 0}));
    EXPECT_EQ(quarter.direction({0, 1, 0}), (Vec3{-1, 0, 0}));
    EXPECT_EQ(quarter.direction({0, 0, 1}), (Vec3{0, 0, 1}));
}

TEST(Placement, OfNothingIsTheRotationAlone) {
    const Placement placement = placement_of({}, {});
    EXPECT_EQ(placement({1, 2, 3}), (Vec3{1, 2, 3}));
    EXPECT_EQ(height_of(placement, {nullptr}), 0);
}

TEST(Pose, LayingAFaceDownKeepsTheTurn) {
    const Pose pose = with_down({{0, 0, -1}, Degrees(33)}, {0, 2, 0});
    EXPECT_EQ(pose.down, (Vec3{0, 1, 0}));
    EXPECT_EQ(pose.turn, Degrees(33));
}

/// R = Rz·Ry·Rx, multiplied out by hand in the plainest way.
Vec3 turned_about_axes(Vec3 v, double x, double y, double z) {
    const auto radians = [](double degrees) { return degrees * std::numbers::pi / 180; };
    x = radians(x), y = radians(y), z = radians(z);
    v = {v.x, v.y * std::cos(x) - v.z * std::sin(x), v.y * std::sin(x) + v.z * std::cos(x)};
    v = {v.x * std::cos(y) + v.z * std::sin(y), v.y, -v.x * std::sin(y) + v.z * std::cos(y)};
    return {v.x * std::cos(z) - v.y * std::sin(z), v.x * std::sin(z) + v.y * std::cos(z), v.z};
}

void expect_rotation(double x, double y, double z) {
    const Placement placement = placement_of(pose_from_angles(Degrees(x), Degrees(y), Degrees(z)), {});
    for (const Vec3 v : {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}})
        EXPECT_NEAR(distance(placement.direction(v), turned_about_axes(v, x, y, z)), 0, 1e-12)
            << x << " " << y << " " << z;
}

TEST(Angles, AreRotationsAboutXThenYThenZ) {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> angle(-360, 360);
    for (int i = 0; i < 500; ++i)
        expect_rotation(angle(random), angle(random), angle(random));
    for (int x = -180; x <= 180; x += 90)
        for (int y = -180; y <= 180; y += 90)
            for (int z = -180; z <= 180; z += 90)
                expect_rotation(x, y, z);
}

TEST(Angles, ComeBackAsTheyWereTyped) {
    std::mt19937 random(13);
    std::uniform_real_distribution<double> full(-179.9, 180), half(-89.9, 89.9);
    for (int i = 0; i < 500; ++i) {
        const double x = full(random), y = half(random), z = full(random);
        const auto back = angles_of(pose_from_angles(Degrees(x), Degrees(y), Degrees(z)));
        EXPECT_NEAR(back[0].value, x, 1e-9);
        EXPECT_NEAR(back[1].value, y, 1e-9);
        EXPECT_NEAR(back[2].value, z, 1e-9);
    }
}

TEST(Angles, QuarterTurnsAreExact) {
    const Pose flipped = pose_from_angles(Degrees(180), Degrees(0), Degrees(0));
    EXPECT_EQ(flipped.down, (Vec3{0, 0, 1}));
    const Pose on_side = pose_from_angles(Degrees(90), Degrees(0), Degrees(-90));
    EXPECT_EQ(on_side, (Pose{{0, -1, 0}, Degrees(-90)}));
    EXPECT_EQ(angles_of(on_side), (std::array{Degrees(90), Degrees(0), Degrees(-90)}));
    EXPECT_EQ(angles_of(Pose{}), (std::array{Degrees(0), Degrees(0), Degrees(0)}));
}

} // namespace
} // namespace touchmark::plate
