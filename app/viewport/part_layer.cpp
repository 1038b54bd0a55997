// SPDX-License-Identifier: MIT
#include "app/viewport/part_layer.h"

#include "app/viewport/shaders.h"

#include <vtkActor.h>
#include <vtkFloatArray.h>
#include <vtkMatrix4x4.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkProperty.h>
#include <vtkRenderer.h>
#include <vtkUnsignedCharArray.h>

#include <cmath>

namespace touchmark::viewport {
namespace {

void set_colour(vtkActor& actor, const part::Colour& colour) {
    actor.GetProperty()->SetColor(colour.red, colour.green, colour.blue);
}

std::array<unsigned char, 3> bytes(const part::Colour& colour) {
    const auto byte = [](float value) { return static_cast<unsigned char>(std::lround(value * 255)); };
    return {byte(colour.red), byte(colour.green), byte(colour.blue)};
}

} // namespace

struct PartLayer::Actors {
    vtkNew<RecedingMapper> surface_mapper;
    vtkNew<vtkOpenGLPolyDataMapper> crease_mapper, tangent_mapper;
    vtkNew<vtkActor> surface, crease, tangent;
    vtkNew<vtkPolyData> nothing;
};

PartLayer::PartLayer(vtkRenderer& renderer) : actors_(std::make_unique<Actors>()) {
    Actors& a = *actors_;
    a.surface->SetMapper(a.surface_mapper);
    a.crease->SetMapper(a.crease_mapper);
    a.tangent->SetMapper(a.tangent_mapper);
    a.surface_mapper->SetVBOShiftScaleMethod(0);
    stripe_avoided(*a.surface_mapper, *a.surface);
    for (vtkActor* line : {a.crease.Get(), a.tangent.Get()}) {
        line->GetProperty()->LightingOff();
        bring_nearer(*line, 2e-4);
    }
    for (vtkActor* actor : {a.surface.Get(), a.tangent.Get(), a.crease.Get()}) {
        actor->SetVisibility(false);
        renderer.AddActor(actor);
    }
    set_look(look_of(Theme::light));
}

PartLayer::~PartLayer() = default;

PartLayer::Built PartLayer::build(const plate::Meshes& meshes, const MadeBy& made_by) {
    Built built;
    built.meshes = meshes;
    const Box3 box = box_of(meshes);
    built.centre = box.empty() ? Vec3{} : box.centre();
    std::vector<const part::FaceMesh*> all;
    for (const auto& mesh : meshes)
        all.push_back(mesh.get());
    built.surface = triangles_of(all, built.centre);
    std::vector<bool> of_marks; // shading tells their walls apart; lines would fill small letters
    for (const std::optional<Mode>& made : made_by)
        of_marks.push_back(made.has_value());
    built.edges = edges_of(meshes, built.centre, of_marks);
    return built;
}

void PartLayer::set_part(const plate::Meshes& meshes, const MadeBy& made_by) {
    made_by_ = made_by;
    kept_clear_.clear();
    if (before_.surface && before_.meshes == meshes) {
        std::swap(shown_, before_);
    } else if (!shown_.surface || shown_.meshes != meshes) {
        before_ = std::exchange(shown_, build(meshes, made_by));
    }
    actors_->surface_mapper->SetInputData(shown_.surface);
    actors_->crease_mapper->SetInputData(shown_.edges.crease);
    actors_->tangent_mapper->SetInputData(shown_.edges.tangent);
    for (vtkActor* actor : {actors_->surface.Get(), actors_->crease.Get(), actors_->tangent.Get()})
        actor->SetVisibility(!meshes.empty());
    set_placement(placement_);
}

void PartLayer::set_placement(const plate::Placement& placement) {
    placement_ = placement;
    const auto matrix = matrix_of(placement, shown_.centre);
    for (vtkActor* actor : {actors_->surface.Get(), actors_->crease.Get(), actors_->tangent.Get()})
        actor->SetUserMatrix(matrix);
    paint();
}

void PartLayer::set_shading(std::optional<process::Process> process, std::optional<Mode> mode) {
    process_ = std::move(process);
    mode_ = mode;
    paint();
}

void PartLayer::set_kept_clear(std::vector<bool> kept) {
    if (kept == kept_clear_) return;
    kept_clear_ = std::move(kept);
    paint();
}

void PartLayer::set_look(const Look& look) {
    look_ = look;
    set_colour(*actors_->crease, look.crease);
    set_colour(*actors_->tangent, look.tangent);
    paint();
}

void PartLayer::set_line_scale(double pixels) {
    actors_->crease->GetProperty()->SetLineWidth(static_cast<float>(1.25 * pixels));
    actors_->tangent->GetProperty()->SetLineWidth(static_cast<float>(pixels));
}

void PartLayer::set_view(Vec3 up_in_view, double pixels_per_mm) {
    viewport::set_view(*actors_->surface, up_in_view);
    // Stripes 10 to 20 pixels apart, in steps of two, so that they do not crawl while zooming.
    set_stripes(*actors_->surface, std::exp2(std::ceil(std::log2(10.0 / std::max(pixels_per_mm, 1e-9)))));
}

/// Zone by zone, a vertex at a time: exact on flat faces, and on round ones as fine as their triangles.
void PartLayer::paint() {
    placed_box_ = {};
    vtkPolyData* data = shown_.surface;
    if (!data || shown_.meshes.empty()) return;
    const vtkIdType count = data->GetNumberOfPoints();
    vtkNew<vtkUnsignedCharArray> colours;
    colours->SetNumberOfComponents(3);
    colours->SetNumberOfTuples(count);
    vtkNew<vtkFloatArray> avoid;
    avoid->SetName("avoid");
    avoid->SetNumberOfTuples(count);
    const bool rated = process_ && mode_;
    const ZoneLooks looks = rated ? zone_looks(*process_, mode_, look_.body) : ZoneLooks{};
    vtkIdType next = 0;
    for (std::size_t m = 0; m < shown_.meshes.size(); ++m) {
        const part::FaceMesh& mesh = *shown_.meshes[m];
        const std::optional<Mode> made = m < made_by_.size() ? made_by_[m] : std::nullopt;
        const bool cut = made && *made != Mode::raise;
        const bool kept = m < kept_clear_.size() && kept_clear_[m];
        const part::Colour own = cut ? look_.cut : made ? look_.raised : look_.body;
        for (std::size_t i = 0; i < mesh.points.size(); ++i, ++next) {
            const auto &p = mesh.points[i], &n = mesh.normals[i];
            const Vec3 placed = placement_(Vec3{p[0], p[1], p[2]});
            placed_box_.add(placed);
            ZoneLook look{own, false};
            if (kept) {
                look = {look_.kept_clear, true};
            } else if (rated && !made) {
                const Vec3 normal{n[0], n[1], n[2]};
                const Zone zone = plate::zone_of(dot(placement_.rows[2], normal), placed.z, *process_);
                look = looks[static_cast<std::size_t>(zone)];
            }
            colours->SetTypedTuple(next, bytes(look.colour).data());
            avoid->SetValue(next, cut ? -1.0F : look.hatched ? 1.0F : 0.0F);
        }
    }
    data->GetPointData()->SetScalars(colours);
    data->GetPointData()->AddArray(avoid);
    data->Modified();
}

} // namespace touchmark::viewport
