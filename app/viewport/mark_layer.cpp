// SPDX-License-Identifier: MIT
#include "app/viewport/mark_layer.h"

#include "app/viewport/shaders.h"

#include <vtkActor.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>
#include <vtkPolyData.h>
#include <vtkProperty.h>
#include <vtkRenderer.h>

#include <algorithm>
#include <deque>

namespace touchmark::viewport {
namespace {

/// Along a slanting line of sight a floor lies farther behind the surface than the cut is deep.
constexpr double slant = 3.5;

struct Piece {
    vtkNew<vtkOpenGLPolyDataMapper> mapper;
    vtkNew<vtkActor> actor;

    Piece() {
        mapper->SetVBOShiftScaleMethod(0);
        actor->SetMapper(mapper);
    }
    void show(vtkPolyData* data) {
        actor->SetVisibility(data->GetNumberOfPoints() > 0);
        mapper->SetInputData(data);
    }
    void colour(const part::Colour& c) { actor->GetProperty()->SetColor(c.red, c.green, c.blue); }
};

/// Depth of a relief: how far its points lie apart along the direction that most of its area faces.
double depth_of(const part::FaceMesh& relief) {
    if (relief.normals.empty()) return 0;
    Vec3 sum;
    for (const auto& n : relief.normals)
        sum = sum + Vec3{n[0], n[1], n[2]};
    if (length(sum) < 1e-9) return 0;
    const Vec3 out = normalised(sum);
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const auto& p : relief.points) {
        const double at = dot(out, Vec3{p[0], p[1], p[2]});
        low = std::min(low, at);
        high = std::max(high, at);
    }
    return high - low;
}

} // namespace

struct MarkLayer::Actors {
    Piece cut_mask, cut, raised, ghost, rim, accent;
    [[nodiscard]] std::array<Piece*, 6> all() {
        return {&cut_mask, &cut, &raised, &rim, &ghost, &accent}; // in the order they are drawn
    }
};

MarkLayer::MarkLayer(vtkRenderer& overlay) : actors_(std::make_unique<Actors>()) {
    Actors& a = *actors_;
    mask_only(*a.cut_mask.actor);
    a.cut_mask.actor->GetProperty()->FrontfaceCullingOn();
    for (Piece* piece : {&a.cut, &a.raised, &a.ghost}) {
        light_softly(*piece->actor);
        piece->actor->GetProperty()->BackfaceCullingOn();
    }
    for (Piece* piece : {&a.cut_mask, &a.cut, &a.ghost})
        pull_through(*piece->actor);
    a.ghost.actor->GetProperty()->SetOpacity(0.5);
    for (Piece* piece : {&a.rim, &a.accent}) {
        piece->actor->GetProperty()->LightingOff();
        bring_nearer(*piece->actor, 3e-4);
    }
    for (Piece* piece : a.all()) {
        piece->actor->VisibilityOff();
        overlay.AddActor(piece->actor);
    }
    set_look(look_of(Theme::light));
}

MarkLayer::~MarkLayer() = default;

void MarkLayer::set_marks(const std::vector<MarkShape>& marks) {
    std::vector<const part::FaceMesh*> cut, raised, ghost;
    std::deque<std::vector<std::vector<std::array<float, 3>>>> derived;
    std::vector<const std::vector<std::array<float, 3>>*> rim, accent;
    deepest_ = 0;
    bool centred = false;
    for (const MarkShape& mark : marks) {
        const part::FaceMesh& relief = mark.relief;
        if (relief.points.empty()) continue;
        if (!std::exchange(centred, true)) centre_ = {relief.points[0][0], relief.points[0][1], relief.points[0][2]};
        if (!mark.in_part || mark.ghost)
            (mark.ghost ? ghost : mark.mode == Mode::engrave ? cut : raised).push_back(&relief);
        if (mark.mode == Mode::engrave && (mark.ghost || !mark.in_part))
            deepest_ = std::max(deepest_, depth_of(relief));
        if (mark.in_part && !mark.selected) continue;
        const auto& lines = relief.edges.empty() ? derived.emplace_back(rims_of(relief)) : relief.edges;
        for (const auto& line : lines)
            (mark.selected || mark.ghost ? accent : rim).push_back(&line);
    }
    Actors& a = *actors_;
    const auto cuts = triangles_of(cut, centre_);
    a.cut_mask.show(cuts);
    a.cut.show(cuts);
    a.raised.show(triangles_of(raised, centre_));
    a.ghost.show(triangles_of(ghost, centre_));
    a.rim.show(lines_of(rim, centre_));
    a.accent.show(lines_of(accent, centre_));
    set_placement(placement_);
}

void MarkLayer::set_placement(const plate::Placement& placement) {
    placement_ = placement;
    const auto matrix = matrix_of(placement, centre_);
    for (Piece* piece : actors_->all())
        piece->actor->SetUserMatrix(matrix);
}

void MarkLayer::set_look(const Look& look) {
    Actors& a = *actors_;
    a.cut.colour(look.cut);
    a.raised.colour(look.raised);
    a.ghost.colour(look.accent);
    a.rim.colour(look.rim);
    a.accent.colour(look.accent);
}

void MarkLayer::set_line_scale(double pixels) {
    actors_->rim.actor->GetProperty()->SetLineWidth(static_cast<float>(pixels));
    actors_->accent.actor->GetProperty()->SetLineWidth(static_cast<float>(2 * pixels));
}

void MarkLayer::set_view(Vec3 up_in_view, double near_plane, double far_plane) {
    Actors& a = *actors_;
    for (Piece* piece : {&a.cut, &a.raised, &a.ghost})
        viewport::set_view(*piece->actor, up_in_view);
    for (Piece* piece : {&a.cut_mask, &a.cut, &a.ghost})
        set_pull(*piece->actor, deepest_ * slant + 0.05, near_plane, far_plane);
}

} // namespace touchmark::viewport
