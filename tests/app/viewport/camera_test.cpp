// SPDX-License-Identifier: MIT
#include "app/viewport/camera.h"

#include <gtest/gtest.h>
#include <vtkCamera.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>

#include <numbers>

namespace touchmark::viewport {
namespace {

Camera some_camera() {
    Camera camera;
    camera.target = {12, -7, 30};
    camera.azimuth = 2.1;
    camera.elevation = 0.7;
    camera.distance = 240;
    return camera;
}

TEST(Camera, SeesPointsWhereVtkDrawsThem) {
    const View view{some_camera(), 1280, 900};
    vtkNew<vtkCamera> vtk; // the other library's projection, from eye, target and up alone
    const Vec3 eye = view.camera.eye(), up = view.camera.up();
    vtk->SetPosition(eye.x, eye.y, eye.z);
    vtk->SetFocalPoint(view.camera.target.x, view.camera.target.y, view.camera.target.z);
    vtk->SetViewUp(up.x, up.y, up.z);
    vtk->SetViewAngle(Camera::opening * 180 / std::numbers::pi);
    vtkMatrix4x4* matrix = vtk->GetCompositeProjectionTransformMatrix(view.width / view.height, -1, 1);
    for (const Vec3 point : {Vec3{0, 0, 0}, Vec3{40, 10, 5}, Vec3{-20, 15, 60}, view.camera.target}) {
        const double in[] = {point.x, point.y, point.z, 1};
        double out[4];
        matrix->MultiplyPoint(in, out);
        const View::Seen seen = view.see(point);
        EXPECT_NEAR(seen.x, (out[0] / out[3] + 1) / 2 * view.width, 1e-6);
        EXPECT_NEAR(seen.y, (1 - out[1] / out[3]) / 2 * view.height, 1e-6);
    }
}

TEST(Camera, ARayGoesThroughWhatIsSeenThere) {
    const View view{some_camera(), 640, 480};
    const Vec3 point{33, 4, 12};
    const View::Seen seen = view.see(point);
    const View::Ray ray = view.ray(seen.x, seen.y);
    EXPECT_NEAR(length(cross(ray.direction, point - ray.from)), 0, 1e-9);
    EXPECT_GT(dot(ray.direction, point - ray.from), 0);
}

TEST(Camera, KeepsThePointUnderThePointerWhileZooming) {
    View view{some_camera(), 800, 600};
    const Vec3 point{20, 5, 40};
    const View::Seen before = view.see(point);
    view.camera.zoom(0.4, point);
    EXPECT_NEAR(view.see(point).x, before.x, 1e-9);
    EXPECT_NEAR(view.see(point).y, before.y, 1e-9);
    EXPECT_NEAR(view.see(point).depth, before.depth * 0.4, 1e-9);
}

TEST(Camera, NeverTiltsSideways) {
    Camera camera = some_camera();
    for (int i = 0; i < 50; ++i) {
        camera.turn(0.37, 0.29 * (i % 7 - 3));
        EXPECT_NEAR(camera.right().z, 0, 1e-12);
        EXPECT_GE(camera.up().z, -1e-12);
    }
}

TEST(Camera, AMillimetreTakesAsManyPixelsAsTheProjectionSays) {
    const View view{some_camera(), 1000, 700};
    const Vec3 at{10, 10, 10}, beside = at + view.camera.right();
    EXPECT_NEAR(view.see(beside).x - view.see(at).x, view.pixels_per_mm(at), 1e-9);
}

TEST(Camera, FittedShowsAllOfABoxFromAnywhere) {
    const Box3 box{{-5, -40, 0}, {90, 40, 12}};
    for (int i = 0; i < 24; ++i) {
        Camera direction;
        direction.azimuth = i * 0.4;
        direction.elevation = -1.4 + i * 0.12;
        const View view{fitted(direction, box, 1.6), 1600, 1000};
        double widest = 0;
        for (int corner = 0; corner < 8; ++corner) {
            const View::Seen seen =
                view.see({(corner & 1) != 0 ? box.low.x : box.high.x, (corner & 2) != 0 ? box.low.y : box.high.y,
                          (corner & 4) != 0 ? box.low.z : box.high.z});
            EXPECT_GT(seen.depth, 0);
            EXPECT_TRUE(seen.x > 0 && seen.x < 1600 && seen.y > 0 && seen.y < 1000) << seen.x << ' ' << seen.y;
            widest = std::max({widest, std::abs(seen.x - 800) / 800, std::abs(seen.y - 500) / 500});
        }
        EXPECT_GT(widest, 0.6) << "too small to see";
    }
}

TEST(Camera, FacesAFaceSquarelyAlsoFromAboveAndBelow) {
    const Camera now = some_camera();
    for (const Vec3 normal : {Vec3{1, 0, 0}, Vec3{0, -1, 0}, Vec3{0, 0, 1}, Vec3{0, 0, -1}, normalised(Vec3{1, 2, 2})})
        EXPECT_NEAR(distance(facing(now, normal).towards_eye(), normal), 0, 1e-9);
    const Vec3 up = normalised(Vec3{1, 1, 0});
    EXPECT_NEAR(distance(facing(now, {0, 0, 1}, up).up(), up), 0, 1e-9);
    EXPECT_NEAR(distance(facing(now, {0, 0, -1}, up).up(), up), 0, 1e-9);
}

TEST(Camera, FliesTheShorterWayRound) {
    Camera from, to;
    from.azimuth = 3.0;
    to.azimuth = -3.0;
    from.distance = to.distance = 10;
    EXPECT_GT(std::abs(std::remainder(between(from, to, 0.5).azimuth, 2 * std::numbers::pi)), 3.0);
    EXPECT_NEAR(distance(between(from, to, 1).eye(), to.eye()), 0, 1e-9);
    EXPECT_NEAR(distance(between(from, to, 0).eye(), from.eye()), 0, 1e-9);
}

} // namespace
} // namespace touchmark::viewport
