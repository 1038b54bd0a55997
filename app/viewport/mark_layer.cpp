// SPDX-License-Identifier: MIT
#include "app/viewport/mark_layer.h"

#include "app/viewport/shaders.h"

#include <vtkActor.h>
#include <vtkFloatArray.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>
#include <vtkPointData.h>
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

/// How a relief lies: the direction that most of its area faces, and its heights along it.
struct Lie {
    Vec3 out{0, 0, 1};
    double low = 0, high = 0;
};

Lie lie_of(const part::FaceMesh& relief) {
    Lie lie;
    Vec3 sum;
    for (const auto& n : relief.normals)
        sum = sum + Vec3{n[0], n[1], n[2]};
    if (length(sum) < 1e-9) return lie;
    lie.out = normalised(sum);
    lie.low = std::numeric_limits<double>::infinity();
    lie.high = -lie.low;
    for (const auto& p : relief.points) {
        const double at = dot(lie.out, Vec3{p[0], p[1], p[2]});
        lie.low = std::min(lie.low, at);
        lie.high = std::max(lie.high, at);
    }
    return lie;
}

/// A cut's relief is closed by a lid in the face; without it one looks in.
part::FaceMesh opened(const part::FaceMesh& relief, const Lie& lie) {
    part::FaceMesh open{.points = relief.points, .normals = relief.normals, .triangles = {}, .edges = {}};
    const double rim = lie.low + 0.75 * (lie.high - lie.low);
    const auto in_lid = [&](std::uint32_t i) {
        const auto &p = relief.points[i], &n = relief.normals[i];
        return dot(lie.out, Vec3{n[0], n[1], n[2]}) > 0.5 && dot(lie.out, Vec3{p[0], p[1], p[2]}) > rim;
    };
    for (const auto& triangle : relief.triangles)
        if (!std::ranges::all_of(triangle, in_lid)) open.triangles.push_back(triangle);
    return open;
}

/// Outlines and which way their face looks.
struct Lines {
    std::vector<const std::vector<std::array<float, 3>>*> lines;
    std::vector<Vec3> outward; ///< one a point

    void add(const std::vector<std::array<float, 3>>& line, Vec3 out) {
        if (line.size() < 2) return;
        lines.push_back(&line);
        outward.insert(outward.end(), line.size(), out);
    }
    [[nodiscard]] vtkSmartPointer<vtkPolyData> data(Vec3 centre) const {
        const auto made = lines_of(lines, centre);
        vtkNew<vtkFloatArray> outwards;
        outwards->SetName("outward");
        outwards->SetNumberOfComponents(3);
        for (const Vec3& out : outward)
            outwards->InsertNextTuple3(out.x, out.y, out.z);
        made->GetPointData()->AddArray(outwards);
        return made;
    }
};

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
        pull_through_where_facing(*piece->mapper, *piece->actor);
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
    std::deque<part::FaceMesh> opens;
    Lines rim, accent;
    deepest_ = 0;
    bool centred = false;
    for (const MarkShape& mark : marks) {
        const part::FaceMesh& relief = mark.relief;
        if (relief.points.empty()) continue;
        if (!std::exchange(centred, true)) centre_ = {relief.points[0][0], relief.points[0][1], relief.points[0][2]};
        const Lie lie = lie_of(relief);
        const bool is_cut = mark.mode == Mode::engrave, drawn = mark.ghost || !mark.in_part;
        if (drawn) {
            const part::FaceMesh& shown = is_cut ? opens.emplace_back(opened(relief, lie)) : relief;
            (mark.ghost ? ghost : is_cut ? cut : raised).push_back(&shown);
        }
        if (drawn && is_cut) deepest_ = std::max(deepest_, lie.high - lie.low);
        if (!drawn && !mark.selected) continue;
        const auto& lines = relief.edges.empty() ? derived.emplace_back(rims_of(relief)) : relief.edges;
        for (const auto& line : lines)
            (mark.selected || mark.ghost ? accent : rim).add(line, lie.out);
    }
    Actors& a = *actors_;
    const auto cuts = triangles_of(cut, centre_);
    a.cut_mask.show(cuts);
    a.cut.show(cuts);
    a.raised.show(triangles_of(raised, centre_));
    a.ghost.show(triangles_of(ghost, centre_));
    a.rim.show(rim.data(centre_));
    a.accent.show(accent.data(centre_));
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

void MarkLayer::set_view(Vec3 up_in_view, Vec3 eye, double near_plane, double far_plane) {
    Actors& a = *actors_;
    for (Piece* piece : {&a.cut, &a.raised, &a.ghost})
        viewport::set_view(*piece->actor, up_in_view);
    const Pull pull{.millimetres = deepest_ > 0 ? deepest_ * slant + 0.05 : 0,
                    .near_plane = near_plane,
                    .far_plane = far_plane,
                    .eye = placement_.back(eye - placement_.shift) - centre_};
    for (Piece* piece : {&a.cut_mask, &a.cut, &a.ghost, &a.rim, &a.accent})
        set_pull(*piece->actor, pull);
}

} // namespace touchmark::viewport
