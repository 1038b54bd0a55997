// SPDX-License-Identifier: MIT
#include "app/viewport/scene.h"

#include <vtkCamera.h>
#include <vtkRenderer.h>

#include <numbers>

namespace touchmark::viewport {
namespace {

struct Planes {
    double near_plane = 1, far_plane = 1000;
};

/// Tight round everything there is, for depth's sake.
Planes planes_of(const Camera& camera, Box3 box, double half_width, double half_depth) {
    box.add({-half_width, -half_depth, -1});
    box.add({half_width, half_depth, 1});
    double nearest = std::numeric_limits<double>::infinity(), farthest = 0;
    for (int corner = 0; corner < 8; ++corner) {
        const Vec3 at{(corner & 1) != 0 ? box.low.x : box.high.x, (corner & 2) != 0 ? box.low.y : box.high.y,
                      (corner & 4) != 0 ? box.low.z : box.high.z};
        const double depth = dot(camera.eye() - at, camera.towards_eye());
        nearest = std::min(nearest, depth);
        farthest = std::max(farthest, depth);
    }
    const double far_plane = std::max(farthest * 1.02, 1e-3) + 2;
    return {std::max(nearest * 0.98 - 2, far_plane * 2e-3), far_plane};
}

} // namespace

Scene::Scene(VtkHost& host) : host_(host), plate_(host.base()), part_(host.base()), marks_(host.overlay()) {
    host.base().GradientBackgroundOn();
    set_theme(Theme::light);
}

void Scene::set_part(const plate::Meshes& meshes, const MadeBy& made_by) {
    part_.set_part(meshes, made_by);
    plate_.set_part(meshes, placement_, part_.placed_box());
    host_.forget_base();
}

void Scene::set_placement(const plate::Placement& placement) {
    placement_ = placement;
    part_.set_placement(placement);
    marks_.set_placement(placement);
    plate_.set_part(part_.meshes(), placement, part_.placed_box());
    host_.forget_base();
}

void Scene::set_kept_clear(std::vector<bool> meshes) {
    part_.set_kept_clear(std::move(meshes));
    host_.forget_base();
}

void Scene::set_shading(std::optional<process::Process> process, std::optional<Mode> mode) {
    part_.set_shading(std::move(process), mode);
    host_.forget_base();
}

void Scene::set_marks(const std::vector<MarkShape>& marks) {
    marks_.set_marks(marks);
    host_.forget_overlay();
}

void Scene::set_meant_face(const part::FaceMesh& face) {
    marks_.set_face(face);
    host_.forget_overlay();
}

void Scene::set_theme(Theme theme) {
    const Look look = look_of(theme);
    host_.base().SetBackground(look.backdrop_bottom.red, look.backdrop_bottom.green, look.backdrop_bottom.blue);
    host_.base().SetBackground2(look.backdrop_top.red, look.backdrop_top.green, look.backdrop_top.blue);
    plate_.set_look(look);
    part_.set_look(look);
    marks_.set_look(look);
    host_.forget_base();
}

void Scene::prepare(const Camera& camera, double device_pixels) {
    const Planes planes = planes_of(camera, part_.placed_box(), plate_.half_width(), plate_.half_depth());
    vtkCamera* eye = host_.base().GetActiveCamera();
    const Vec3 from = camera.eye(), up = camera.up();
    eye->SetPosition(from.x, from.y, from.z);
    eye->SetFocalPoint(camera.target.x, camera.target.y, camera.target.z);
    eye->SetViewUp(up.x, up.y, up.z);
    eye->SetViewAngle(Camera::opening * 180 / std::numbers::pi);
    eye->SetClippingRange(planes.near_plane, planes.far_plane);
    const Vec3 plate_up_in_view{0, camera.up().z, camera.towards_eye().z};
    const View view{camera, static_cast<double>(host_.width()), static_cast<double>(host_.height())};
    const double pixels = device_pixels * host_.oversampling();
    part_.set_view(plate_up_in_view, view.pixels_per_mm(camera.target) / device_pixels);
    part_.set_line_scale(pixels);
    plate_.set_view(from, host_.oversampling());
    marks_.set_view(plate_up_in_view, from, planes.near_plane, planes.far_plane);
    marks_.set_line_scale(pixels);
}

} // namespace touchmark::viewport
